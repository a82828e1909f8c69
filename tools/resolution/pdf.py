"""Writes pages of pictures as PDF: one picture an image object, placed by its matrix."""
import math
import zlib

POINTS_PER_INCH = 72.0


def matrix(placed, scale, page_height):
    """PDF's a b c d e f for a picture whose corners lie at `placed` (pixels of the page, y down)."""
    x, y, width, height, degrees = placed
    turn = math.radians(degrees)
    cos, sin = math.cos(turn), math.sin(turn)
    middle_x, middle_y = (x + width / 2) * scale, page_height - (y + height / 2) * scale
    across, up = width * scale, height * scale
    a, b, c, d = across * cos, across * sin, -up * sin, up * cos
    return a, b, c, d, middle_x - (a + c) / 2, middle_y - (b + d) / 2


def page(path, size, dpi, pictures):
    """`pictures`: (image, (x, y, width, height, degrees) in page pixels, smooth)."""
    scale = POINTS_PER_INCH / dpi
    width, height = size[0] * scale, size[1] * scale
    content, objects = [], []
    for number, (image, placed, smooth) in enumerate(pictures):
        numbers = " ".join(f"{value:.6f}" for value in matrix(placed, scale, height))
        content.append(f"q {numbers} cm /P{number} Do Q")
        data = zlib.compress(image.tobytes(), 1)
        head = (
            f"<< /Type /XObject /Subtype /Image /Width {image.width} /Height {image.height} /BitsPerComponent 8 "
            f"/ColorSpace /DeviceRGB /Filter /FlateDecode /Interpolate {str(smooth).lower()} /Length {len(data)} >>"
        )
        objects.append(stream(head, data))
    named = " ".join(f"/P{i} {i + 5} 0 R" for i in range(len(objects)))
    data = "\n".join(content).encode()
    write(
        path,
        [
            b"<< /Type /Catalog /Pages 2 0 R >>",
            b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {width:.6f} {height:.6f}] /Contents 4 0 R "
            f"/Resources << /XObject << {named} >> >> >>".encode(),
            stream(f"<< /Length {len(data)} >>", data),
            *objects,
        ],
    )


def stream(head, data):
    return head.encode() + b"\nstream\n" + data + b"\nendstream"


def write(path, objects):
    out, places = bytearray(b"%PDF-1.4\n"), []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += f"{number} 0 obj\n".encode() + body + b"\nendobj\n"
    start = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode()
    out += b"".join(f"{place:010} 00000 n \n".encode() for place in places)
    out += f"trailer << /Size {len(objects) + 1} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n".encode()
    path.write_bytes(out)
