"""Colour profiles by hand (ICC.1:2010): a matrix profile that is right, and what can be wrong with it."""
import struct


def s15(value):
    return struct.pack(">i", round(value * 65536))


def xyz(x, y, z):
    return b"XYZ \0\0\0\0" + s15(x) + s15(y) + s15(z)


def curve(gamma):
    return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256)) + b"\0\0"


def description(text):
    return b"desc\0\0\0\0" + struct.pack(">I", len(text) + 1) + text + b"\0" + b"\0" * 78


def profile(space=b"RGB ", tags=None, kind=b"mntr", size=None, count=None, magic=b"acsp"):
    """Primaries of sRGB adapted to D50 (IEC 61966-2-1), with a plain gamma."""
    if tags is None:
        tags = {b"desc": description(b"of the table"), b"cprt": b"text\0\0\0\0none\0\0\0\0", b"wtpt": xyz(0.9642, 1, 0.8249)}
        if space == b"RGB ":
            tags.update({b"rXYZ": xyz(0.4361, 0.2225, 0.0139), b"gXYZ": xyz(0.3851, 0.7169, 0.0971),
                         b"bXYZ": xyz(0.1431, 0.0606, 0.7141), b"rTRC": curve(1.8), b"gTRC": curve(1.8),
                         b"bTRC": curve(1.8)})
        if space == b"GRAY":
            tags[b"kTRC"] = curve(1.8)
    at = 128 + 4 + 12 * len(tags)
    table, body = b"", b""
    for name, data in tags.items():
        data += b"\0" * (-len(data) % 4)
        table += name + struct.pack(">II", at + len(body), len(data))
        body += data
    whole = at + len(body)
    head = struct.pack(">I4sI4s4s4s", whole if size is None else size, b"none", 0x02400000, kind, space, b"XYZ ")
    head += struct.pack(">6H", 2020, 1, 1, 0, 0, 0) + magic + b"\0" * 28 + s15(0.9642) + s15(1) + s15(0.8249)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags) if count is None else count) + table + body
