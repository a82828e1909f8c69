"""Files cut off, with bytes flipped, and with wrong counts and offsets."""
import io
import random
import struct

from PIL import Image

import page
import pdf
import png
import tiff
from outcome import Case, inspected, refused

PDF_FLAGS = ["--dpi", str(page.DPI)]


def picture(mode="RGB"):
    image = Image.new(mode, (page.WIDTH, page.HEIGHT), "white")
    left, top, width, height = page.BOX
    image.paste("black", (left, top, left + width, top + height))
    return image


def jpeg(mode="RGB", **options):
    out = io.BytesIO()
    source = picture("RGB").convert(mode)
    source.save(out, "JPEG", **{"quality": 95, "dpi": (page.DPI, page.DPI), **options})
    return out.getvalue()


def webp(**options):
    """frisket reads the resolution of a WebP from its Exif data."""
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x011A] = exif[0x011B] = float(page.DPI)
    exif[0x0128] = 2
    picture().save(out, "WEBP", exif=exif, **{"lossless": True, **options})
    return out.getvalue()


def ppm():
    return b"P6\n%d %d\n255\n" % (page.WIDTH, page.HEIGHT) + b"".join(page.rows(b"\xff\xff\xff", b"\0\0\0"))


def wholes():
    """Of each format: name, bytes, flags."""
    deflate = {tiff.COMPRESSION: (tiff.SHORT, [8])}
    yield "png", png.png(), []
    yield "jpg", jpeg(), []
    yield "progressive.jpg", jpeg(progressive=True), []
    yield "tif", tiff.tiff(), []
    yield "deflate.tif", tiff.tiff([tiff.deflated()], deflate), []
    yield "tiles.tif", tiff.tiled(128, 128), []
    yield "webp", webp(), []
    yield "ppm", ppm(), PDF_FLAGS
    yield "pdf", pdf.pdf(), PDF_FLAGS


# What is said of a file of each format that ends in its signature, after it, in the middle, and just before its end.
CUT = {"png": ("looks like", "the PNG ends early", "the PNG ends early", "the PNG ends early"),
       "jpg": ("looks like", "the JPEG ends early", "the JPEG ends early", "no end-of-image marker"),
       "progressive.jpg": ("looks like", "the JPEG ends early", "the JPEG ends early", "no end-of-image marker"),
       "tif": ("looks like", "the TIFF ends early", "the TIFF ends early", "the TIFF ends early"),
       "deflate.tif": ("looks like", "the TIFF ends early", "the TIFF ends early", "the TIFF ends early"),
       "tiles.tif": ("looks like", "the TIFF ends early", "the TIFF ends early", "the TIFF ends early"),
       "webp": ("looks like", "the WebP ends early", "the WebP ends early", "the WebP ends early"),
       "ppm": ("looks like", "the header is cut off", "rows are missing", "rows are missing"),
       "pdf": ("looks like", "no end-of-file marker", "no end-of-file marker", "no end-of-file marker")}
SIGNATURE = {"png": 8, "jpg": 3, "progressive.jpg": 3, "webp": 12, "ppm": 3, "pdf": 5}


def cut():
    for ending, whole, flags in wholes():
        signature = SIGNATURE.get(ending, 4)
        last = 7 if ending == "pdf" else 1
        in_signature, after, middle, end = CUT[ending]
        yield Case("whole", f"whole.{ending}", whole, inspected(), flags)
        yield Case("cut", f"empty.{ending}", b"", refused("the file is empty"), flags)
        yield Case("cut", f"in-signature.{ending}", whole[:signature - 1 if ending != "ppm" else 1],
                   refused(in_signature), flags)
        yield Case("cut", f"after-signature.{ending}", whole[:signature], refused(after), flags)
        yield Case("cut", f"middle.{ending}", whole[:len(whole) // 2], refused(middle), flags)
        yield Case("cut", f"last-bytes.{ending}", whole[:-last], refused(end), flags)


def flipped(whole, at, bits=0xFF):
    return whole[:at] + bytes([whole[at] ^ bits]) + whole[at + 1:]


def flips(seed):
    draw = random.Random(seed)
    whole = png.png()
    yield Case("flipped", "ihdr.png", flipped(whole, 17), refused("at most"))
    yield Case("flipped", "colour-type.png", flipped(whole, 25), refused("the PNG"))
    at = whole.index(b"IDAT") + 4
    for number in range(4):
        place = draw.randrange(at + 2, at + 40)
        yield Case("flipped", f"data-{number}.png", flipped(whole, place), refused("the PNG"))
    yield Case("flipped", "chunk-name.png", whole.replace(b"IEND", b"IEnD"), refused("the PNG ends early"))
    raw = tiff.tiff()
    for number in range(3):
        place = 8 + (draw.randrange(200, 300) * page.WIDTH + draw.randrange(100, 300)) * 3
        yield Case("flipped", f"pixel-{number}.tif", flipped(raw, place, 1), inspected())
    packed = tiff.tiff([tiff.deflated()], {tiff.COMPRESSION: (tiff.SHORT, [8])})
    for number in range(3):
        yield Case("flipped", f"deflate-{number}.tif", flipped(packed, 8 + 6 + number * 9), refused("the TIFF"))
    yield Case("flipped", "version.tif", flipped(raw, 2), refused("looks like"))
    scan = jpeg()
    at = scan.index(b"\xff\xda") + 40
    yield Case("flipped", "marker-in-scan.jpg", scan[:at] + b"\xff\xd3" + scan[at + 2:], refused("the JPEG"))
    yield Case("flipped", "tables.jpg", flipped(scan, scan.index(b"\xff\xc4") + 5), refused("the JPEG"))
    yield Case("flipped", "size.webp", flipped(webp(), 5), refused("the WebP ends early"))
    yield Case("flipped", "picture.webp", flipped(webp(), webp().index(b"VP8L") + 8), refused("the WebP"))
    yield Case("flipped", "pixel.ppm", flipped(ppm(), 300000, 1), inspected(), PDF_FLAGS)
    yield Case("flipped", "page-tree.pdf", pdf.pdf().replace(b"/Kids", b"/Kidz"), refused("the PDF"), PDF_FLAGS)
    yield Case("flipped", "table.pdf", pdf.pdf().replace(b"startxref\n", b"startxref\n9"), inspected(), PDF_FLAGS)


def lies_in_png():
    crazy = {"width-0": png.header(width=0), "height-0": png.header(height=0)}
    for name, ihdr in crazy.items():
        yield Case("counts", f"{name}.png", png.png(ihdr=ihdr), refused("the page has no size"))
    yield Case("counts", "width-2-31.png", png.png(ihdr=png.header(width=2 ** 31)), refused("at most"))
    for name, ihdr in {"depth-3": png.header(depth=3), "colour-5": png.header(colour=5),
                       "interlace-2": png.header(interlace=2)}.items():
        yield Case("counts", f"{name}.png", png.png(ihdr=ihdr), refused("the PNG cannot be decoded"))
    yield Case("counts", "long-header.png", png.png(ihdr=png.header() + b"\0"), refused("no header chunk"))
    yield Case("counts", "chunk-of-4-GB.png", png.png(before=png.chunk(b"tEXt", b"x", length=2 ** 32 - 1)),
               refused("a chunk is cut off"))
    yield Case("counts", "no-data.png", png.png(idat=b""), refused("the PNG"))
    yield Case("counts", "no-palette.png", png.of_depth(8, png.PALETTE, b"\0", b"\1"), refused("the PNG"))
    yield Case("counts", "two-headers.png", png.png(before=png.chunk(b"IHDR", png.header(width=9, height=9))),
               refused("the PNG"))
    yield Case("counts", "more-rows-than-data.png", png.png(ihdr=png.header(height=900)), refused("the PNG"))


def lies_in_tiff():
    lie = {
        "ifd-beyond-end": (dict(), "the TIFF ends early"),
        "strips-beyond-end": ({tiff.STRIP_OFFSETS: (tiff.LONG, [2 ** 31])}, "lies beyond the end of the file"),
        "strip-at-0": ({tiff.STRIP_OFFSETS: (tiff.LONG, [0])}, "was never written"),
        "strip-of-0-bytes": ({tiff.STRIP_COUNTS: (tiff.LONG, [0])}, "was never written"),
        "strip-of-4-GB": ({tiff.STRIP_COUNTS: (tiff.LONG, [2 ** 32 - 1])}, "lies beyond the end of the file"),
                "rows-a-strip-0": ({tiff.ROWS: (tiff.LONG, [0])}, "positions is too short"),
        "too-few-strips": ({tiff.ROWS: (tiff.LONG, [10])}, "positions is too short"),
        "a-million-strips": ({tiff.STRIP_OFFSETS: (tiff.LONG, 10 ** 6, 8)}, "beyond the end of the file"),
        "tag-of-4-GB": ({700: (tiff.BYTE, 2 ** 32 - 1, 8)}, "a tag lies beyond the end"),
        "width-0": ({tiff.WIDTH: (tiff.LONG, [0])}, "the page has no size"),
        "height-2-32": ({tiff.LENGTH: (tiff.LONG, [2 ** 32 - 1])}, "at most"),
        "no-width": ({tiff.WIDTH: (tiff.ASCII, [65])}, "the page has no size"),
        "samples-0": ({tiff.SAMPLES: (tiff.SHORT, [0])}, "the TIFF cannot be decoded"),
        "samples-65535": ({tiff.SAMPLES: (tiff.SHORT, [65535])}, "the TIFF"),
        "bits-0": ({tiff.BITS: (tiff.SHORT, [0, 0, 0])}, "the TIFF"),
        "bits-255": ({tiff.BITS: (tiff.SHORT, [255, 255, 255])}, "the TIFF"),
        "compression-65000": ({tiff.COMPRESSION: (tiff.SHORT, [65000])}, "the TIFF"),
        "photometric-99": ({tiff.PHOTOMETRIC: (tiff.SHORT, [99])}, "a colour model frisket does not know"),
    }
    for name, (changes, words) in lie.items():
        whole = tiff.tiff(changes=changes)
        if name == "ifd-beyond-end":
            whole = whole[:4] + struct.pack("<I", 2 ** 31) + whole[8:]
        yield Case("counts", f"{name}.tif", whole, refused(words))
    whole = tiff.tiff()
    at = struct.unpack("<I", whole[4:8])[0]
    yield Case("counts", "65535-tags.tif", whole[:at] + b"\xff\xff" + whole[at + 2:] + b"\0" * 800_000,
               refused("is cut off"))
    yield Case("counts", "tile-of-0.tif", tiff.tiled(128, 128, {tiff.TILE_WIDTH: (tiff.LONG, [0])}),
               refused("positions is too short"))
    yield Case("counts", "tile-of-65520.tif", tiff.tiled(128, 128, {tiff.TILE_WIDTH: (tiff.LONG, [65520]),
                                                                    tiff.TILE_LENGTH: (tiff.LONG, [65520])}),
               refused("its tiles are far larger than the page"))
    yield Case("counts", "ring.tif", ring(2), refused("point back at each other"))
    yield Case("counts", "ring-of-one.tif", ring(1), refused("point back at each other"))
    # Of a page that is not compressed, a reader knows how long its strip has to be.
    yield Case("counts", "strip-too-short.tif", tiff.tiff(changes={tiff.STRIP_COUNTS: (tiff.LONG, [1000])}), inspected())
    yield Case("counts", "unknown-tag-type.tif", tiff.tiff(changes={65000: (99, 5, 8)}), inspected())
    yield Case("counts", "big-ifd-beyond-end.tif", b"II+\0\x08\0\0\0" + struct.pack("<Q", 2 ** 63),
               refused("is cut off"))
    yield Case("counts", "big-2-60-tags.tif", b"II+\0\x08\0\0\0" + struct.pack("<QQ", 16, 2 ** 60) + b"\0" * 99,
               refused("is cut off"))


def ring(pages):
    """Directories of no data that lead back to the first."""
    out = b"II*\0" + struct.pack("<I", 8)
    for number in range(pages):
        following = 8 + 18 * ((number + 1) % pages)
        out += struct.pack("<HHHIII", 1, tiff.WIDTH, tiff.LONG, 1, 9, following)
    return out


def lies_elsewhere():
    whole = jpeg()
    frame = whole.index(b"\xff\xc0")
    yield Case("counts", "height-0.jpg", whole[:frame + 5] + b"\0\0" + whole[frame + 7:], refused("the page has no size"))
    yield Case("counts", "components-0.jpg", flipped(whole, frame + 9, 3), refused("the JPEG"))
    yield Case("counts", "components-255.jpg", flipped(whole, frame + 9, 0xFC), refused("the JPEG"))
    yield Case("counts", "no-scan.jpg", whole[:whole.index(b"\xff\xda")] + b"\xff\xd9", refused("the JPEG"))
    yield Case("counts", "segment-of-0.jpg", whole[:2] + b"\xff\xe1\0\0" + whole[2:], refused("the JPEG"))
    big = webp()
    yield Case("counts", "riff-of-4-GB.webp", big[:4] + b"\xff" * 4 + big[8:], refused("the WebP ends early"))
    yield Case("counts", "chunk-of-4-GB.webp", big[:16] + b"\xff" * 4 + big[20:], refused("the WebP"))
    yield Case("counts", "other-canvas.webp", big[:24] + b"\x09\0\0\x09\0\0" + big[30:], refused("the WebP"))
    rows = b"".join(page.rows(b"\xff\xff\xff", b"\0\0\0"))
    for name, head in {"width-0": b"P6 0 307 255\n", "width-minus": b"P6 -425 307 255\n",
                       "white-0": b"P6 425 307 0\n"}.items():
        yield Case("counts", f"{name}.ppm", head + rows, refused("the PPM is damaged"), PDF_FLAGS)
    yield Case("counts", "white-70000.ppm", b"P6 425 307 70000\n" + rows, refused("beyond 65535"), PDF_FLAGS)
    yield Case("counts", "digits.ppm", b"P6 " + b"9" * 5000 + b" 1 255\n", refused("impossible size"), PDF_FLAGS)
    yield Case("counts", "no-kids.pdf", pdf.pdf(pages=b"<</Type/Pages/Kids[]/Count 0>>"), refused("the PDF"), PDF_FLAGS)
    yield Case("counts", "kids-in-a-ring.pdf", pdf.pdf(pages=b"<</Type/Pages/Kids[2 0 R]/Count 1>>"),
               refused("the PDF"), PDF_FLAGS)
    yield Case("counts", "count-2-31.pdf", pdf.pdf(pages=b"<</Type/Pages/Kids[3 0 R]/Count 2147483647>>"),
               refused("the PDF cannot be decoded"), PDF_FLAGS)
    for name, media in {"0": b"[0 0 0 0]", "words": b"[/a /b /c /d]", "three": b"[0 0 9]", "nothing": b" null"}.items():
        yield Case("counts", f"media-of-{name}.pdf", pdf.pdf(media=media), refused("it does not say how large the page is"),
                   PDF_FLAGS)
    yield Case("counts", "media-of-1e9.pdf", pdf.pdf(media=b"[0 0 1000000000 1000000000]"), refused("at most"), PDF_FLAGS)
    yield Case("counts", "media-of-14400-inch.pdf", pdf.pdf(media=b"[0 0 1036800 1036800]"), refused("at most"), PDF_FLAGS)
    yield Case("counts", "user-unit-1e5.pdf", pdf.pdf(page_more=b"/UserUnit 74000"), refused("px a side"), PDF_FLAGS)


def cases(seed):
    yield from cut()
    yield from flips(seed)
    yield from lies_in_png()
    yield from lies_in_tiff()
    yield from lies_elsewhere()
