"""Every way to write samples down, profiles, Exif data and resolutions."""

import struct


import page

import png
import profile
import tiff
from containers import jpeg, webp
from outcome import Case, inspected, judged, misused, refused

DPI_FLAGS = ["--dpi", str(page.DPI)]
WHITE, BLACK = b"\xff\xff\xff", b"\0\0\0"


def png_kinds():
    palette = {"before": png.chunk(b"PLTE", b"\xff\xff\xff\0\0\0")}
    for depth in (1, 2, 4):
        yield f"grey-{depth}", png.of_depth(depth, png.GREY, 2 ** depth - 1, 0)
        yield f"palette-{depth}", png.of_depth(depth, png.PALETTE, 0, 1, **palette)
    yield "grey-8", png.of_depth(8, png.GREY, b"\xff", b"\0")
    yield "grey-16", png.of_depth(16, png.GREY, b"\xff\xff", b"\0\0")
    yield "palette-8", png.of_depth(8, png.PALETTE, b"\0", b"\1", **palette)
    yield "rgb-16", png.of_depth(16, png.RGB, b"\xff" * 6, b"\0" * 6)
    yield "grey-alpha", png.of_depth(8, png.GREY_ALPHA, b"\0\0", b"\0\xff")
    yield "grey-alpha-16", png.of_depth(16, png.GREY_ALPHA, b"\0" * 4, b"\0\0\xff\xff")
    yield "rgb-alpha", png.of_depth(8, png.RGB_ALPHA, b"\0\0\0\0", b"\0\0\0\xff")
    yield "rgb-alpha-16", png.of_depth(16, png.RGB_ALPHA, b"\0" * 8, b"\0" * 6 + b"\xff\xff")
    yield "one-colour-clear", png.png(page.rows(b"\1\2\3", BLACK), before=png.chunk(b"tRNS", b"\0\1\0\2\0\3"))
    yield "palette-clear", png.of_depth(8, png.PALETTE, b"\0", b"\1", before=palette["before"] + png.chunk(b"tRNS", b"\0"))


def tiff_kinds():
    short = tiff.SHORT
    raw = b"".join(page.rows(WHITE, BLACK))
    yield "motorola", tiff.tiff(order=">")
    yield "big", tiff.tiff(big=True)
    yield "big-motorola", tiff.tiff(big=True, order=">")
    yield "strips", tiff.tiff([raw[at:at + page.WIDTH * 30] for at in range(0, len(raw), page.WIDTH * 30)], rows=10)
    yield "tiles", tiff.tiled(64, 32)
    yield "one-tile", tiff.tiled(512, 512)
    yield "packbits", tiff.tiff([tiff.packbits(page.rows(WHITE, BLACK))], {tiff.COMPRESSION: (short, [32773])})
    yield "deflate", tiff.tiff([tiff.deflated()], {tiff.COMPRESSION: (short, [8])})
    yield "old-deflate", tiff.tiff([tiff.deflated()], {tiff.COMPRESSION: (short, [32946])})
    yield "bits-white-is-0", tiff.small_bits(1, 0, 0, 1)
    yield "bits-black-is-0", tiff.small_bits(1, 1, 1, 0)
    yield "grey-4", tiff.small_bits(4, 1, 15, 0)
    yield "grey-white-is-0", tiff.samples(b"\0", b"\xff", [8], 0)
    yield "grey-8", tiff.samples(b"\xff", b"\0", [8], 1)
    yield "grey-16", tiff.samples(b"\xff\xff", b"\0\0", [16], 1)
    yield "rgb-16", tiff.samples(b"\xff" * 6, b"\0" * 6, [16] * 3, 2)
    colours = [65535, 0] + [0] * 254
    yield "palette-8", tiff.samples(b"\0", b"\1", [8], 3, {tiff.COLOUR_MAP: (short, colours * 3)})
    yield "palette-4", tiff.small_bits(4, 3, 0, 1, {tiff.COLOUR_MAP: (short, ([65535] + [0] * 15) * 3)})
    yield "planar-rgb", tiff.planar([(b"\xff", b"\0")] * 3, 2)
    yield "alpha-associated", tiff.samples(b"\0" * 4, b"\0\0\0\xff", [8] * 4, 2, {tiff.EXTRA: (short, [1])})
    yield "alpha-not-associated", tiff.samples(b"\0" * 4, b"\0\0\0\xff", [8] * 4, 2, {tiff.EXTRA: (short, [2])})
    yield "cmyk", tiff.samples(b"\0" * 4, b"\0\0\0\xff", [8] * 4, 5)
    yield "cmyk-16", tiff.samples(b"\0" * 8, b"\0" * 6 + b"\xff\xff", [16] * 4, 5)
    yield "planar-cmyk", tiff.planar([(b"\0", b"\0")] * 3 + [(b"\0", b"\xff")], 5)
    yield "lab", tiff.samples(b"\xff\0\0", b"\0\0\0", [8] * 3, 8)
    yield "lab-16", tiff.samples(b"\xff\xff\0\0\0\0", b"\0" * 6, [16] * 3, 8)


def depths():
    for name, content in png_kinds():
        yield Case("samples", f"{name}.png", content, inspected())
    for name, content in tiff_kinds():
        yield Case("samples", f"{name}.tif", content, inspected())
    for mode in ("L", "CMYK"):
        yield Case("samples", f"{mode.lower()}.jpg", jpeg(mode), inspected())
    yield Case("samples", "lossy.webp", webp(lossless=False, quality=95), inspected())
    rows = page.packed_rows(1, 0, 1)
    yield Case("samples", "bits.pbm", b"P4 425 307\n" + b"".join(rows), inspected(), DPI_FLAGS)
    yield Case("samples", "10-bits.pgm", b"P5 425 307 1023\n" + b"".join(page.rows(b"\x03\xff", b"\0\0")), inspected(),
               DPI_FLAGS)
    plain = b" ".join(b"%d" % value for row in page.rows(b"\xff", b"\0") for value in row)
    yield Case("samples", "plain.pgm", b"P2 425 307 255\n" + plain + b"\n", inspected(), DPI_FLAGS)
    yield from inks()
    yield from floats()


def inks():
    """CMYK and further inks: what frisket does not see it must not call clear."""
    for count in range(5, 13):
        content = tiff.samples(b"\0" * count, b"\0\0\0\xff" + b"\0" * (count - 4), [8] * count, 5,
                               {tiff.EXTRA: (tiff.SHORT, [0] * (count - 4))})
        yield Case("inks", f"{count}-inks.tif", content, inspected("further channels"))
    hidden = tiff.samples(b"\0" * 5, b"\0\0\0\0\xff", [8] * 5, 5, {tiff.EXTRA: (tiff.SHORT, [0])})
    yield Case("inks", "box-in-a-spot-ink.tif", hidden, judged("further channels"))


def floats():
    kinds = {"float": ("<f", [32], 3), "half": ("<e", [16], 3), "double": ("<d", [64], 3)}
    for name, (form, bits, sample_format) in kinds.items():
        for label, value in {"1": 1.0, "nan": float("nan"), "infinite": float("inf")}.items():
            paper, ink = struct.pack(form, value) * 3, struct.pack(form, 0) * 3
            changes = {tiff.SAMPLE_FORMAT: (tiff.SHORT, [sample_format] * 3)}
            yield Case("floats", f"{name}-{label}.tif", tiff.samples(paper, ink, bits * 3, 2, changes),
                       refused("floating-point" if name == "float" else "the TIFF cannot be decoded"))
    yield Case("floats", "32-bits.tif", tiff.samples(b"\xff" * 12, b"\0" * 12, [32] * 3, 2), refused("32-bit"))
    signed = {tiff.SAMPLE_FORMAT: (tiff.SHORT, [2] * 3)}
    yield Case("floats", "signed.tif", tiff.samples(b"\x7f" * 3, b"\0" * 3, [8] * 3, 2, signed), refused("signed"))


def profiles():
    right = profile.profile()
    ignored = "does not fit its pixels or is damaged"
    wrong = {"no-signature": profile.profile(magic=b"nope"), "cut": right[:200], "size-0": profile.profile(size=0),
             "a-billion-tags": profile.profile(count=10 ** 9),
             "zeros": b"\0" * 500, "one-byte": b"\0", "text": b"this is no profile" * 20,
             "tag-beyond-end": right[:132] + right[132:].replace(b"rTRC" + right[right.index(b"rTRC") + 4:][:8],
                                                                 b"rTRC\x7f\xff\xff\xf0\0\0\xff\xff", 1),
             "no-tags": profile.profile(tags={}), "of-cmyk": profile.profile(b"CMYK"), "of-grey": profile.profile(b"GRAY"),
             "of-xyz": profile.profile(b"XYZ "), "of-12-inks": profile.profile(b"CCLR")}
    yield Case("profiles", "right.tif", tiff.tiff(changes={tiff.ICC: (tiff.UNDEFINED, right)}),
               inspected("by the profile in the file"))
    # Whoever reads a profile knows where the file ends, and does not need its size.
    yield Case("profiles", "size-4-GB.tif", tiff.tiff(changes={tiff.ICC: (tiff.UNDEFINED, profile.profile(size=2 ** 32 - 1))}),
               inspected("by the profile in the file"))
    yield Case("profiles", "right.png", png.profiled(right), inspected())
    for name, content in wrong.items():
        yield Case("profiles", f"{name}.tif", tiff.tiff(changes={tiff.ICC: (tiff.UNDEFINED, content)}),
                   inspected(ignored))
    white = b"".join(page.rows(WHITE, WHITE))
    yield Case("profiles", "white-page-and-zeros.tif", tiff.tiff([white], {tiff.ICC: (tiff.UNDEFINED, [0] * 500)}),
               judged(ignored))
    yield Case("profiles", "20-MB.tif", tiff.tiff(changes={tiff.ICC: (tiff.UNDEFINED, right + b"\0" * 20_000_000)}),
               refused("its colour profile has"))
    yield Case("profiles", "over-flag.tif", tiff.tiff(changes={tiff.ICC: (tiff.UNDEFINED, right + b"\0" * 9_000)}),
               refused("its colour profile has"), ["--most-profile", "0.005"])
    yield Case("profiles", "zeros.png", png.profiled(b"\0" * 500), inspected())
    yield Case("profiles", "bomb.png", png.profiled(b"\0" * 200_000_000), inspected())
    yield Case("profiles", "no-deflate.png", png.profiled(b"", raw=b"garbage"), inspected())
    yield Case("profiles", "zeros.jpg", jpeg(icc_profile=b"\0" * 500), inspected(ignored))
    yield Case("profiles", "part-2-of-9.jpg", jpeg()[:2] + b"\xff\xe2" + struct.pack(">H", 2 + 14 + 50) +
               b"ICC_PROFILE\0\x02\x09" + b"x" * 50 + jpeg()[2:], inspected())


def exif(entries, order="II", next_at=0):
    """An Exif block; `entries` are 12 bytes each."""
    mark = order.encode() + struct.pack("<H" if order == "II" else ">H", 42) + struct.pack("<I", 8)
    return mark + struct.pack("<H", len(entries)) + b"".join(entries) + struct.pack("<I", next_at)


def entry(tag, kind, count, value):
    return struct.pack("<HHII", tag, kind, count, value)


def with_exif(block):
    whole = jpeg()
    body = b"Exif\0\0" + block
    return whole[:2] + b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body + whole[2:]


def exifs():
    blocks = {"next-is-itself": exif([entry(0x0128, 3, 1, 2)], next_at=8),
              "sub-block-is-itself": exif([entry(0x8769, 4, 1, 8)]),
              "two-in-a-ring": exif([entry(0x8769, 4, 1, 26)]) + struct.pack("<H", 1) + entry(0x8769, 4, 1, 8) + b"\0" * 4,
              "beyond-end": exif([entry(0x8769, 4, 1, 2 ** 31)]), "count-4-GB": exif([entry(0x010F, 2, 2 ** 32 - 1, 8)]),
              "thumbnail-beyond-end": exif([entry(0x0201, 4, 1, 2 ** 31), entry(0x0202, 4, 1, 2 ** 31)], next_at=8),
              "60000-entries": exif([entry(0x0128, 3, 1, 2)] * 5_000), "empty": b"", "cut": b"II*\0",
              "maker-note": exif([entry(0x927C, 7, 2 ** 16, 8)])}
    for name, block in blocks.items():
        yield Case("exif", f"{name}.jpg", with_exif(block), inspected())
    for value in (0, 9, 65535):
        yield Case("exif", f"orientation-{value}.jpg", with_exif(exif([entry(0x0112, 3, 1, value)])), inspected())
    yield Case("exif", "orientation-6.jpg", with_exif(exif([entry(0x0112, 3, 1, 6)])), judged("size-differs"))
    yield Case("exif", "ring.png", png.png(before=png.chunk(b"eXIf", blocks["two-in-a-ring"])), inspected())


def resolutions():
    unknown, odd = "resolution unknown", "resolution unknown"
    for name, phys in {"0": (0, 0, 1), "1": (1, 1, 1), "4e9": (2 ** 32 - 1, 2 ** 32 - 1, 1), "no-unit": (11811, 11811, 0),
                       "two": (11811, 5906, 1)}.items():
        content = png.png(phys=png.resolution(*phys))
        yield Case("resolution", f"{name}.png", content, refused(unknown))
        yield Case("resolution", f"{name}-and-flag.png", content, inspected(), DPI_FLAGS)
    yield Case("resolution", "none.png", png.png(phys=b""), refused(unknown))
    yield Case("resolution", "short-chunk.png", png.png(phys=png.chunk(b"pHYs", b"\0\0")), refused(unknown))
    ratio = {"0-of-0": (0, 0), "1-of-0": (1, 0), "1": (1, 1), "1e9": (10 ** 9, 1), "tiny": (1, 2 ** 32 - 1)}
    for name, value in ratio.items():
        changes = {tag: (tiff.RATIONAL, [value]) for tag in (tiff.X_RESOLUTION, tiff.Y_RESOLUTION)}
        yield Case("resolution", f"{name}.tif", tiff.tiff(changes=changes), refused(odd))
    negative = {tag: (tiff.SRATIONAL, [(-300, 1)]) for tag in (tiff.X_RESOLUTION, tiff.Y_RESOLUTION)}
    yield Case("resolution", "negative.tif", tiff.tiff(changes=negative), refused(unknown))
    for name, unit in {"no-unit": 1, "unit-9": 9}.items():
        yield Case("resolution", f"{name}.tif", tiff.tiff(changes={tiff.UNIT: (tiff.SHORT, [unit])}), refused(unknown))
    yield Case("resolution", "unit-missing.tif", tiff.tiff(without=(tiff.UNIT,)), refused(unknown))
    centimetre = {tag: (tiff.RATIONAL, [(11811, 100)]) for tag in (tiff.X_RESOLUTION, tiff.Y_RESOLUTION)}
    yield Case("resolution", "centimetre.tif", tiff.tiff(changes={**centimetre, tiff.UNIT: (tiff.SHORT, [3])}), inspected())
    whole = jpeg()
    at = whole.index(b"JFIF\0") + 7
    for name, density in {"0": b"\1\0\0\0\0", "no-unit": b"\0\1\x2c\1\x2c", "65535": b"\1\xff\xff\xff\xff"}.items():
        yield Case("resolution", f"{name}.jpg", whole[:at] + density + whole[at + 5:], refused(unknown))
    for value in ("0", "-300", "1e9", "nan", "inf", "many"):
        yield Case("resolution", f"flag-{value}.png", png.png(), misused("dpi"), ["--dpi=" + value])




def cases(_seed):
    yield from depths()
    yield from profiles()
    yield from exifs()
    yield from resolutions()
