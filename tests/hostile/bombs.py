"""Small files that declare, unpack to, or ask for far more than they hold."""
import struct
import zlib

import page
import pdf
import png
import tiff
from containers import PDF_FLAGS, jpeg
from outcome import Case, Outcome, inspected, noted, refused

A0_AT_600 = (19866, 28087)


def zeros_compressed(count, head=b""):
    """zlib data of `head` and then zeros, made without holding them all."""
    squeeze = zlib.compressobj(9)
    out = [squeeze.compress(head)]
    block = bytes(1 << 20)
    for _ in range(count >> 20):
        out.append(squeeze.compress(block))
    out.append(squeeze.compress(bytes(count & 0xFFFFF)) + squeeze.flush())
    return b"".join(out)


def black_png(width, height):
    return png.png(ihdr=png.header(width, height), idat=zeros_compressed(height * (width * 3 + 1)))


def grey_png(width, height):
    return png.png(ihdr=png.header(width, height, colour=png.GREY), idat=zeros_compressed(height * (width + 1)))


def huge_headers():
    yield Case("bombs", "60000-square.png", png.png(ihdr=png.header(60000, 60000)), refused("at most 700 megapixels"))
    yield Case("bombs", "2-side.png", png.png(ihdr=png.header(70000, 2)), refused("px a side"))
    whole = jpeg()
    frame = whole.index(b"\xff\xc0") + 5
    yield Case("bombs", "65500-square.jpg", whole[:frame] + struct.pack(">HH", 65500, 65500) + whole[frame + 4:],
               refused("at most 700 megapixels"))
    yield Case("bombs", "25000-square.jpg", whole[:frame] + struct.pack(">HH", 25000, 25000) + whole[frame + 4:],
               Outcome(3, "the JPEG", large=True))
    yield Case("bombs", "60000-square.tif", tiff.tiff(changes={tiff.WIDTH: (tiff.LONG, [60000]),
                                                             tiff.LENGTH: (tiff.LONG, [60000])}), refused("at most"))
    yield Case("bombs", "1-by-60000.tif", tiff.tiff(changes={tiff.LENGTH: (tiff.LONG, [60000])}), refused("the TIFF"))
    yield Case("bombs", "60000-square.ppm", b"P6 60000 60000 255\n", refused("at most"), PDF_FLAGS)
    yield Case("bombs", "over-flag.png", png.png(), refused("at most 0 megapixels"), ["--most-megapixels", "0.1"])
    yield Case("bombs", "over-side-flag.png", png.png(), refused("at most 400 px a side"), ["--most-side", "400"])


def much_inside():
    most = 5000
    yield Case("bombs", "25-megapixels.png", black_png(most, most), noted("larger-canvas"))
    yield Case("bombs", "a0-at-600-dpi.png", grey_png(*A0_AT_600), Outcome(0, "larger-canvas", large=True),
               ["--dpi", "600"])
    rows = zeros_compressed(most * most * 3)
    changes = {tiff.WIDTH: (tiff.LONG, [most]), tiff.LENGTH: (tiff.LONG, [most]), tiff.ROWS: (tiff.LONG, [most]),
               tiff.COMPRESSION: (tiff.SHORT, [8])}
    yield Case("bombs", "25-megapixels.tif", tiff.tiff([rows], changes), noted("larger-canvas"))
    deflate = {tiff.COMPRESSION: (tiff.SHORT, [8])}
    yield Case("bombs", "200-MB-in-a-strip.tif",
               tiff.tiff([zeros_compressed(200_000_000, b"".join(page.rows(b"\xff\xff\xff", b"\0\0\0")))], deflate),
               inspected())
    yield Case("bombs", "200-MB-in-the-data.png",
               png.png(idat=zeros_compressed(200_000_000, b"".join(b"\0" + row for row in page.rows(b"\xff" * 3, b"\0" * 3)))),
               inspected())
    text = png.chunk(b"zTXt", b"t\0\0" + zeros_compressed(200_000_000))
    yield Case("bombs", "200-MB-of-text.png", png.png(before=text), inspected())
    yield Case("bombs", "20000-texts.png", png.png(before=png.chunk(b"tEXt", b"k\0v") * 20_000), inspected())
    scan = jpeg(progressive=True)
    at = scan.rindex(b"\xff\xda")
    yield Case("bombs", "3000-scans.jpg", scan[:-2] + scan[at:-2] * 3000 + b"\xff\xd9", refused("the JPEG"))
    yield Case("bombs", "many-pages.tif", chained(2500), refused("more than 2000 pages"))
    yield Case("bombs", "more-pages-than-flag.tif", chained(6), refused("more than 5 pages"), ["--most-pages", "5"])


def chained(pages):
    """Directories of one tag, one after the other."""
    out = b"II*\0" + struct.pack("<I", 8)
    for number in range(pages):
        out += struct.pack("<HHHIII", 1, tiff.WIDTH, tiff.LONG, 1, 9, 26 + 18 * number if number + 1 < pages else 0)
    return out


def form(number, content, more=b""):
    return pdf.stream(content, b"/Type/XObject/Subtype/Form/BBox[0 0 100 100]" + more)


def pdfs():
    itself = b"/Resources<</XObject<</X 5 0 R>>>>"
    yield Case("bombs", "form-in-itself.pdf",
               pdf.pdf(pdf.BOX_OPERATORS + b" /X Do", page_more=itself, more=[form(5, b"/X Do /X Do", itself)]),
               inspected(), PDF_FLAGS)
    # Each form draws the next one ten times: 10 to the power of 12 boxes.
    forms = [form(number, b"/X Do " * 10, b"/Resources<</XObject<</X %d 0 R>>>>" % (number + 1)) for number in range(5, 17)]
    forms.append(form(17, b"0 0 90 90 re f"))
    yield Case("bombs", "ten-times-ten.pdf", pdf.pdf(b"/X Do", page_more=itself, more=forms),
               refused("took more than 3 s"), PDF_FLAGS + ["--most-seconds", "3"])
    picture = pdf.stream(zlib.compress(b"\0" * 100), b"/Type/XObject/Subtype/Image/Width 60000/Height 60000"
                         b"/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter/FlateDecode")
    yield Case("bombs", "picture-of-60000-square.pdf", pdf.pdf(pdf.BOX_OPERATORS, page_more=itself, more=[picture]),
               inspected(), PDF_FLAGS)
    stream = pdf.stream(zeros_compressed(300_000_000, pdf.BOX_OPERATORS), b"/Filter/FlateDecode")
    yield Case("bombs", "300-MB-of-content.pdf",
               pdf.document([b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
                             b"<</Type/Page/Parent 2 0 R/MediaBox" + pdf.MEDIA + b"/Contents 4 0 R>>", stream]),
               inspected(), PDF_FLAGS)
    kids = b" ".join(b"%d 0 R" % number for number in [3, *range(5, 2504)])
    one = b"<</Type/Page/Parent 2 0 R/MediaBox" + pdf.MEDIA + b">>"
    yield Case("bombs", "2500-pages.pdf",
               pdf.pdf(pages=b"<</Type/Pages/Kids[" + kids + b"]/Count 2500>>", more=[one] * 2499),
               refused("at most 2000 are opened"), PDF_FLAGS)
    deep = b"[" * 100_000 + b"]" * 100_000
    yield Case("bombs", "100000-brackets.pdf", pdf.pdf(page_more=b"/X" + deep), refused("the PDF is damaged"), PDF_FLAGS)
    yield Case("bombs", "no-pdf.pdf", pdf.pdf(), refused("PDF pages are not opened here"), PDF_FLAGS + ["--no-pdf"])
    yield Case("bombs", "script-and-links.pdf",
               pdf.pdf(page_more=b"/AA<</O<</S/JavaScript/JS(app.alert\\(1\\))>>>>/Annots[<</Type/Annot/Subtype/Link"
                       b"/Rect[0 0 9 9]/Border[0 0 0]/A<</S/Launch/F(/bin/sh)>>>>]"), inspected(), PDF_FLAGS)


def cases(_seed):
    yield from huge_headers()
    yield from much_inside()
    yield from pdfs()
