"""TIFF files by hand (TIFF 6.0; BigTIFF as in libtiff's description), one page or several."""
import struct
import zlib

import page

BYTE, ASCII, SHORT, LONG, RATIONAL, UNDEFINED, SRATIONAL, LONG8 = 1, 2, 3, 4, 5, 7, 10, 16
SIZES = {BYTE: 1, ASCII: 1, SHORT: 2, LONG: 4, RATIONAL: 8, UNDEFINED: 1, SRATIONAL: 8, LONG8: 8, 12: 8}
FORMATS = {BYTE: "B", ASCII: "B", SHORT: "H", LONG: "I", UNDEFINED: "B", LONG8: "Q", 12: "d"}
WIDTH, LENGTH, BITS, COMPRESSION, PHOTOMETRIC, STRIP_OFFSETS, SAMPLES, ROWS, STRIP_COUNTS = (
    256, 257, 258, 259, 262, 273, 277, 278, 279)
X_RESOLUTION, Y_RESOLUTION, PLANAR, UNIT, PREDICTOR, COLOUR_MAP = 282, 283, 284, 296, 317, 320
TILE_WIDTH, TILE_LENGTH, TILE_OFFSETS, TILE_COUNTS, INK_SET, EXTRA, SAMPLE_FORMAT, ICC = (
    322, 323, 324, 325, 332, 338, 339, 34675)


def packed(order, kind, values):
    if isinstance(values, bytes):
        return values
    if kind in (RATIONAL, SRATIONAL):
        return b"".join(struct.pack(order + ("ii" if kind == SRATIONAL else "II"), *value) for value in values)
    return struct.pack(order + FORMATS[kind] * len(values), *values)


def directory(order, big, at, tags, next_at):
    """The directory that lies at `at`, its long values behind it. `tags`: {tag: (type, values)}, or raw entries
    (type, count, value) where the values are None."""
    count, room, head = ("Q", 8, 8) if big else ("H", 4, 2)
    entry = 20 if big else 12
    values_at = at + head + entry * len(tags) + room
    entries, values = b"", b""
    for tag, field in sorted(tags.items()):
        if len(field) == 3:  # a lie: type, count and value as they stand
            kind, length, value = field
            entries += struct.pack(order + ("HHQQ" if big else "HHII"), tag, kind, length, value)
            continue
        kind, listed = field
        data = packed(order, kind, listed)
        entries += struct.pack(order + ("HHQ" if big else "HHI"), tag, kind, len(data) // SIZES[kind])
        if len(data) <= room:
            entries += data.ljust(room, b"\0")
        else:
            entries += struct.pack(order + ("Q" if big else "I"), values_at + len(values))
            values += data + b"\0" * (len(data) % 2)
    return (struct.pack(order + count, len(tags)) + entries +
            struct.pack(order + ("Q" if big else "I"), next_at) + values)


def tiff(strips=None, changes=None, order="<", big=False, without=(), next_at=0, tail=b"", rows=None):
    """One page. `strips` are its data, in as many pieces; `changes` are tags laid over the usual ones."""
    if strips is None:
        strips = [b"".join(page.rows(b"\xff\xff\xff", b"\0\0\0"))]
    start = 16 if big else 8
    offsets, at = [], start
    for strip in strips:
        offsets.append(at)
        at += len(strip)
    at += at % 2
    tags = {WIDTH: (LONG, [page.WIDTH]), LENGTH: (LONG, [page.HEIGHT]), BITS: (SHORT, [8, 8, 8]),
            COMPRESSION: (SHORT, [1]), PHOTOMETRIC: (SHORT, [2]), STRIP_OFFSETS: (LONG8 if big else LONG, offsets),
            SAMPLES: (SHORT, [3]), ROWS: (LONG, [page.HEIGHT if rows is None else rows]),
            STRIP_COUNTS: (LONG8 if big else LONG, [len(strip) for strip in strips]),
            X_RESOLUTION: (RATIONAL, [(page.DPI, 1)]), Y_RESOLUTION: (RATIONAL, [(page.DPI, 1)]),
            UNIT: (SHORT, [2])}
    tags.update(changes or {})
    for tag in without:
        del tags[tag]
    mark = (b"II" if order == "<" else b"MM") + struct.pack(order + "H", 43 if big else 42)
    head = mark + (struct.pack(order + "HHQ", 8, 0, at) if big else struct.pack(order + "I", at))
    body = head + b"".join(strips)
    body += b"\0" * (at - len(body))
    return body + directory(order, big, at, tags, next_at) + tail


def samples(paper, ink, bits, photometric, changes=None, **how):
    """A page of `len(bits)` samples a pixel."""
    tags = {BITS: (SHORT, bits), SAMPLES: (SHORT, [len(bits)]), PHOTOMETRIC: (SHORT, [photometric])}
    tags.update(changes or {})
    return tiff([b"".join(page.rows(paper, ink))], tags, **how)


def small_bits(bits, photometric, paper, ink, changes=None):
    tags = {BITS: (SHORT, [bits]), SAMPLES: (SHORT, [1]), PHOTOMETRIC: (SHORT, [photometric])}
    tags.update(changes or {})
    return tiff([b"".join(page.packed_rows(bits, paper, ink))], tags)


def planar(planes, photometric, changes=None):
    """`planes`: for each sample its paper and ink byte."""
    strips = [b"".join(page.rows(paper, ink)) for paper, ink in planes]
    tags = {BITS: (SHORT, [8] * len(planes)), SAMPLES: (SHORT, [len(planes)]), PHOTOMETRIC: (SHORT, [photometric]),
            PLANAR: (SHORT, [2])}
    tags.update(changes or {})
    return tiff(strips, tags)


def tiled(side_x, side_y, changes=None):
    """The usual page in tiles."""
    whole = page.rows(b"\xff\xff\xff", b"\0\0\0")
    tiles = []
    for top in range(0, page.HEIGHT, side_y):
        for left in range(0, page.WIDTH, side_x):
            rows = [row[left * 3:(left + side_x) * 3].ljust(side_x * 3, b"\xff") for row in whole[top:top + side_y]]
            rows += [b"\xff" * side_x * 3] * (side_y - len(rows))
            tiles.append(b"".join(rows))
    offsets = [8 + sum(map(len, tiles[:number])) for number in range(len(tiles))]
    tags = {TILE_WIDTH: (LONG, [side_x]), TILE_LENGTH: (LONG, [side_y]), TILE_OFFSETS: (LONG, offsets),
            TILE_COUNTS: (LONG, [len(tile) for tile in tiles])}
    tags.update(changes or {})
    return tiff(tiles, tags, without=(STRIP_OFFSETS, STRIP_COUNTS, ROWS))


def deflated(raw=None):
    raw = b"".join(page.rows(b"\xff\xff\xff", b"\0\0\0")) if raw is None else raw
    return zlib.compress(raw, 9)


def packbits(rows):
    """Each row as runs of one byte (TIFF 6.0, section 9)."""
    out = b""
    for row in rows:
        at = 0
        while at < len(row):
            run = 1
            while run < 128 and at + run < len(row) and row[at + run] == row[at]:
                run += 1
            out += bytes([(257 - run) % 256, row[at]]) if run > 1 else bytes([0, row[at]])
            at += run
    return out
