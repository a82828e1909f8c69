"""Draws a sheet as one PDF page by writing its operators; millimetres from the top left, y downwards."""
import math
import zlib

MM = 72 / 25.4


def colour_operators(rgb):
    values = " ".join(f"{value:.3f}" for value in rgb)
    return f"{values} rg {values} RG"


class Sheet:
    """A page of whole pixels at 300 dpi, so that no renderer has to round it."""

    def __init__(self, width_px, height_px, dpi=300):
        self.width, self.height = width_px / dpi * 25.4, height_px / dpi * 25.4
        self.parts, self.pictures = [], []

    def turn(self, degrees):
        """What is drawn from here on lies turned clockwise about the middle of the sheet."""
        angle = math.radians(degrees)
        c, s = math.cos(angle), math.sin(angle)
        x, y = self.width / 2, self.height / 2
        self.parts.append(f"{c:.9f} {s:.9f} {-s:.9f} {c:.9f} {x - c * x + s * y:.6f} {y - s * x - c * y:.6f} cm")

    def add(self, operators):
        self.parts.append(f"q {operators} Q")

    def rectangle(self, x, y, width, height, rgb):
        self.add(f"{colour_operators(rgb)} {x:.5f} {y:.5f} {width:.5f} {height:.5f} re f")

    def frame(self, x, y, width, height, weight, rgb, dash=None):
        self.add(f"{colour_operators(rgb)} {self.pen(weight, dash)} {x:.5f} {y:.5f} {width:.5f} {height:.5f} re S")

    @staticmethod
    def pen(weight, dash):
        return f"{weight:.4f} w" + (f" [{dash[0]} {dash[1]}] 0 d" if dash else "")

    def line(self, x, y, to_x, to_y, weight, rgb, dash=None):
        self.add(f"{colour_operators(rgb)} {self.pen(weight, dash)} {x:.5f} {y:.5f} m {to_x:.5f} {to_y:.5f} l S")

    def circle(self, x, y, radius, weight, rgb):
        k = 0.5523 * radius
        r = radius
        self.add(
            f"{colour_operators(rgb)} {weight:.4f} w {x + r:.4f} {y:.4f} m "
            f"{x + r:.4f} {y + k:.4f} {x + k:.4f} {y + r:.4f} {x:.4f} {y + r:.4f} c "
            f"{x - k:.4f} {y + r:.4f} {x - r:.4f} {y + k:.4f} {x - r:.4f} {y:.4f} c "
            f"{x - r:.4f} {y - k:.4f} {x - k:.4f} {y - r:.4f} {x:.4f} {y - r:.4f} c "
            f"{x + k:.4f} {y - r:.4f} {x + r:.4f} {y - k:.4f} {x + r:.4f} {y:.4f} c S"
        )

    def text(self, x, y, points, words, rgb=(0, 0, 0), upwards=False):
        """Base line from (x, y)."""
        size = points / MM
        place = f"0 1 1 0 {x:.4f} {y:.4f}" if upwards else f"1 0 0 -1 {x:.4f} {y:.4f}"
        if upwards:
            place = f"0 -1 -1 0 {x:.4f} {y:.4f}"
        self.add(f"{colour_operators(rgb)} BT /F1 {size:.4f} Tf {place} Tm ({words}) Tj ET")

    def picture(self, x, y, width, height, pixels):
        """`pixels` is a numpy array of rows of RGB bytes."""
        self.pictures.append(pixels)
        self.add(f"{width:.5f} 0 0 {-height:.5f} {x:.5f} {y + height:.5f} cm /P{len(self.pictures)} Do")

    def pdf(self, boxes=""):
        """The document; `boxes` are entries of the page."""
        names = " ".join(f"/P{i} {i + 5} 0 R" for i in range(1, len(self.pictures) + 1))
        content = f"{MM:.9f} 0 0 {-MM:.9f} 0 {self.height * MM:.6f} cm\n" + "\n".join(self.parts)
        bodies = [
            b"<</Type/Catalog/Pages 2 0 R>>",
            b"<</Type/Pages/Count 1/Kids[3 0 R]>>",
            f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 {self.width * MM:.6f} {self.height * MM:.6f}]{boxes}"
            f"/Contents 4 0 R/Resources<</Font<</F1 5 0 R>>/XObject<<{names}>>>>>>".encode(),
            stream("", content.encode()),
            b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
        ]
        for pixels in self.pictures:
            entries = (
                f"/Type/XObject/Subtype/Image/Width {pixels.shape[1]}/Height {pixels.shape[0]}"
                "/ColorSpace/DeviceRGB/BitsPerComponent 8"
            )
            bodies.append(stream(entries, pixels.tobytes()))
        return document(bodies)


def stream(entries, data):
    packed = zlib.compress(data, 1)
    return f"<<{entries}/Filter/FlateDecode/Length {len(packed)}>> stream\n".encode() + packed + b"\nendstream"


def document(bodies):
    out, places = bytearray(b"%PDF-1.4\n"), []
    for number, body in enumerate(bodies, 1):
        places.append(len(out))
        out += f"{number} 0 obj ".encode() + body + b" endobj\n"
    table = len(out)
    out += f"xref\n0 {len(bodies) + 1}\n0000000000 65535 f \n".encode()
    out += b"".join(f"{place:010} 00000 n \n".encode() for place in places)
    out += f"trailer <</Root 1 0 R/Size {len(bodies) + 1}>>\nstartxref\n{table}\n%%EOF\n".encode()
    return bytes(out)
