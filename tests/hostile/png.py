"""PNG files by hand (ISO/IEC 15948)."""
import struct
import zlib

import page

SIGNATURE = b"\x89PNG\r\n\x1a\n"
GREY, RGB, PALETTE, GREY_ALPHA, RGB_ALPHA = 0, 2, 3, 4, 6


def chunk(kind, data, crc=None, length=None):
    crc = zlib.crc32(kind + data) if crc is None else crc
    return struct.pack(">I", len(data) if length is None else length) + kind + data + struct.pack(">I", crc)


def header(width=page.WIDTH, height=page.HEIGHT, depth=8, colour=RGB, interlace=0):
    return struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, interlace)


def resolution(x=11811, y=11811, unit=1):
    return chunk(b"pHYs", struct.pack(">IIB", x, y, unit))


def data(rows):
    return zlib.compress(b"".join(b"\0" + row for row in rows), 6)


def png(rows=None, ihdr=None, before=b"", phys=None, idat=None, after=b"", end=None):
    """A whole file; each part may be replaced."""
    rows = page.rows(b"\xff\xff\xff", b"\0\0\0") if rows is None else rows
    idat = data(rows) if idat is None else idat
    return (SIGNATURE + chunk(b"IHDR", header() if ihdr is None else ihdr) +
            (resolution() if phys is None else phys) + before + (chunk(b"IDAT", idat) if idat else b"") + after +
            (chunk(b"IEND", b"") if end is None else end))


def of_depth(depth, colour, paper, ink, **parts):
    rows = page.packed_rows(depth, paper, ink) if depth < 8 else page.rows(paper, ink)
    return png(rows, header(depth=depth, colour=colour), **parts)


def profiled(profile, name=b"p", colour=RGB, raw=None):
    body = name + b"\0\0" + (zlib.compress(profile, 9) if raw is None else raw)
    return png(before=chunk(b"iCCP", body))
