"""Pages of pictures among everything that is none, to see whether the pictures are found."""
import base64
import io
import math
import pathlib
import random
import subprocess
import tempfile
from dataclasses import dataclass, field

from PIL import Image, ImageDraw, ImageFont

import numpy

import figures
import photographs

DPI, MM = 300, 300 / 25.4
PAGE = (148, 210)  # mm: A5
SLOTS = (2, 3)  # across, down
GAP = 5.0  # mm
WORDS = "harbour lantern quay tide slate meadow ferry orchard signal copper winter ledger".split()
ALIKE = 0.8  # intersection over union of a region that was found
LONGEST = 300  # seconds for a page of a fraction of one: some drawings make the renderer hang


@dataclass
class Page:
    """What a page shows, and what was found on it."""

    kinds: list = field(default_factory=list)  # of its pictures
    outlines: list = field(default_factory=list)  # x0, y0, x1, y1 of each, pixels
    beside: list = field(default_factory=list)  # what else is on it
    found: list = field(default_factory=list)
    find_ms: float = 0.0
    check_ms: float = 0.0
    is_drawn: bool = True  # False where the renderer did not end: the page does not count

    @property
    def page_ms(self):
        return self.find_ms + self.check_ms

    def is_found(self, outline):
        return any(likeness(outline, box) > ALIKE for box in self.found)

    def is_right(self):
        return all(map(self.is_found, self.outlines)) and not any(map(self.is_false, self.found))

    def is_false(self, box):
        """True for a region with hardly anything of a picture in it."""
        return sum(common(box, outline) for outline in self.outlines) < 0.2 * area(box)


def revived(values):
    """The page of which `asdict` and JSON made `values`."""
    return Page(**values)


def area(box):
    return max(0, box[2] - box[0]) * max(0, box[3] - box[1])


def common(a, b):
    return area((max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])))


def likeness(a, b):
    both = common(a, b)
    return both / (area(a) + area(b) - both)


def uri(image):
    saved = io.BytesIO()
    image.save(saved, "PNG", compress_level=1)
    return "data:image/png;base64," + base64.b64encode(saved.getvalue()).decode()


def colour(rng, low=20, high=235):
    return "#" + "".join(f"{rng.randint(low, high):02x}" for _ in range(3))


def image_tag(image, x, y, w, h, more=""):
    return (f"<image x='{x:.4f}' y='{y:.4f}' width='{w:.4f}' height='{h:.4f}' preserveAspectRatio='none' {more} "
            f"xlink:href='{uri(image)}'/>")


def photograph(rng, seed, w, h, ppi=None):
    ppi = ppi or math.exp(rng.uniform(math.log(60), math.log(330)))
    size = [max(24, round(side / 25.4 * ppi)) for side in (w, h)]
    picture, _ = photographs.cut(rng, seed, *size)
    return picture.convert("L").convert("RGB") if rng.random() < 0.15 else picture


def with_white_sky(image):
    """The top fades to nearly white, as overcast skies do."""
    sky = Image.new("RGB", image.size, (250, 250, 251))
    mask = Image.linear_gradient("L").resize(image.size).point(lambda v: max(0, min(255, int(330 - 3.2 * v))))
    return Image.composite(sky, image, mask)


# Each draws one picture into its slot (mm); returns the drawing and the outlines.
def plain(rng, seed, box):
    x, y, w, h = box
    return image_tag(photograph(rng, seed, w, h), *box), [(x, y, x + w, y + h)]


def with_type(rng, seed, box):
    x, y, w, h = box
    drawing, outline = plain(rng, seed, box)
    return drawing + type_set(rng, (x + 0.1 * w, y + 0.5 * h, 0.8 * w, 0.3 * h), "white", 11), outline


def white_sky(rng, seed, box):
    x, y, w, h = box
    frame = f"<rect x='{x}' y='{y}' width='{w}' height='{h}' fill='{colour(rng, 120, 230)}'/>"
    inner = (x + 3, y + 3, w - 6, h - 6)
    tag = image_tag(with_white_sky(photograph(rng, seed, *inner[2:])), *inner)
    return frame + tag, [(inner[0], inner[1], inner[0] + inner[2], inner[1] + inner[3])]


def clipped(rng, seed, box, shape):
    x, y, w, h = box
    name = f"c{rng.getrandbits(40)}"
    return (f"<clipPath id='{name}'>{shape}</clipPath>"
            + image_tag(photograph(rng, seed, w, h), *box, f"clip-path='url(#{name})'")), [(x, y, x + w, y + h)]


def rounded(rng, seed, box):
    x, y, w, h = box
    return clipped(rng, seed, box, f"<rect x='{x}' y='{y}' width='{w}' height='{h}' rx='{rng.uniform(2, 9):.2f}'/>")


def oval(rng, seed, box):
    x, y, w, h = box
    return clipped(rng, seed, box, f"<ellipse cx='{x + w / 2}' cy='{y + h / 2}' rx='{w / 2}' ry='{h / 2}'/>")


def turned(rng, seed, box):
    x, y, w, h = box
    angle = rng.choice((-1, 1)) * rng.uniform(2, 12)
    inner = (x + 0.15 * w, y + 0.15 * h, 0.7 * w, 0.7 * h)
    cos, sin = math.cos(math.radians(angle)), abs(math.sin(math.radians(angle)))
    across, down = inner[2] * cos + inner[3] * sin, inner[2] * sin + inner[3] * cos
    middle = x + w / 2, y + h / 2
    turn = f"transform='rotate({angle:.3f} {middle[0]} {middle[1]})'"
    tag = image_tag(photograph(rng, seed, inner[2], inner[3]), *inner, turn)
    return tag, [(middle[0] - across / 2, middle[1] - down / 2, middle[0] + across / 2, middle[1] + down / 2)]


def split_by_hairline(rng, seed, box):
    x, y, w, h = box
    at = x + w * rng.uniform(0.35, 0.65)
    line = f"<rect x='{at:.3f}' y='{y}' width='{rng.uniform(0.09, 0.3):.3f}' height='{h}' fill='white'/>"
    return plain(rng, seed, box)[0] + line, [(x, y, at, y + h), (at, y, x + w, y + h)]


def touching(rng, seed, box):
    x, y, w, h = box
    at = x + w * rng.uniform(0.35, 0.65)
    left, right = (x, y, at - x, h), (at, y, x + w - at, h)
    tags = image_tag(photograph(rng, seed, *left[2:], 80), *left) + image_tag(photograph(rng, seed, *right[2:], 280), *right)
    return tags, [(x, y, at, y + h), (at, y, x + w, y + h)]


PICTURES = (plain, plain, plain, with_type, white_sky, rounded, oval, turned, split_by_hairline, touching)


# What is none.
def type_set(rng, box, ink="#222222", points=None):
    x, y, w, h = box
    points = points or rng.uniform(6.5, 11)
    step, lines = points * 0.47, []
    for row in range(int(h / step)):
        line = ""
        while len(line) * points * 0.19 < w - 4:
            line += rng.choice(WORDS) + " "
        lines.append(f"<text x='{x:.2f}' y='{y + (row + 1) * step:.3f}' font-family='DejaVu Serif' "
                     f"font-size='{points * 25.4 / 72:.3f}' fill='{ink}'>{line[:-1]}</text>")
    return "".join(lines)


def illustration(rng, box):
    x, y, w, h = box
    shapes = [f"<rect x='{x}' y='{y}' width='{w}' height='{h}' fill='{colour(rng, 150, 250)}'/>"]
    for _ in range(rng.randint(8, 40)):
        at = [(x + rng.random() * w, y + rng.random() * h) for _ in range(4)]
        points = " ".join(f"{a:.2f} {b:.2f}" for a, b in at[1:])
        shapes.append(f"<path d='M{at[0][0]:.2f} {at[0][1]:.2f} C{points}' fill='{colour(rng)}' "
                      f"stroke='{colour(rng)}' stroke-width='{rng.uniform(0, 0.6):.2f}'/>")
    return "".join(shapes)


def gradient(rng, box):
    x, y, w, h = box
    name, kind = f"g{rng.getrandbits(40)}", rng.choice(("linear", "radial"))
    stops = "".join(f"<stop offset='{i / 2}' stop-color='{colour(rng)}'/>" for i in range(3))
    where = f"x1='{rng.random():.2f}' y1='{rng.random():.2f}' x2='{rng.random():.2f}' y2='1'" if kind == "linear" else ""
    return (f"<{kind}Gradient id='{name}' {where}>{stops}</{kind}Gradient>"
            f"<rect x='{x}' y='{y}' width='{w}' height='{h}' fill='url(#{name})'/>")


def tint(rng, box):
    """Halftone dots of one tone."""
    x, y, w, h = box
    name, pitch = f"t{rng.getrandbits(40)}", rng.uniform(0.35, 1.6)
    return (f"<pattern id='{name}' width='{pitch:.3f}' height='{pitch:.3f}' patternUnits='userSpaceOnUse' "
            f"patternTransform='rotate({rng.choice((0, 15, 45, 75))})'><circle cx='{pitch / 2:.3f}' cy='{pitch / 2:.3f}' "
            f"r='{pitch * rng.uniform(0.2, 0.45):.3f}' fill='{colour(rng)}'/></pattern>"
            f"<rect x='{x}' y='{y}' width='{w}' height='{h}' fill='url(#{name})'/>")


def stripes(rng, box):
    x, y, w, h = box
    name, pitch = f"s{rng.getrandbits(40)}", rng.uniform(0.6, 4)
    return (f"<pattern id='{name}' width='{pitch:.3f}' height='{pitch:.3f}' patternUnits='userSpaceOnUse' "
            f"patternTransform='rotate({rng.uniform(0, 90):.1f})'><rect width='{pitch * 0.45:.3f}' height='{pitch:.3f}' "
            f"fill='{colour(rng)}'/></pattern><rect x='{x}' y='{y}' width='{w}' height='{h}' fill='url(#{name})'/>")


def screenshot(rng, box):
    """A window of panels and small type, of few pixels, enlarged by the renderer."""
    x, y, w, h = box
    ppi = rng.uniform(90, 150)
    size = round(w / 25.4 * ppi), round(h / 25.4 * ppi)
    image = Image.new("RGB", size, colour(rng, 225, 250))
    draw, font = ImageDraw.Draw(image), ImageFont.truetype("DejaVuSans.ttf", 11)
    draw.rectangle((0, 0, size[0], 18), fill=colour(rng, 40, 120))
    draw.rectangle((0, 18, size[0] // 4, size[1]), fill=colour(rng, 190, 220))
    for row in range(24, size[1] - 12, 16):
        draw.text((size[0] // 4 + 8, row), " ".join(rng.choices(WORDS, k=size[0] // 60)), "#303030", font)
        draw.text((6, row), rng.choice(WORDS), "#404040", font)
    more = "image-rendering='optimizeSpeed'" if rng.random() < 0.5 else ""
    return image_tag(image, *box, more)


def table(rng, box):
    x, y, w, h = box
    cells = ""
    for row in range(int(h / 4)):
        cells += f"<rect x='{x}' y='{y + 4 * row}' width='{w}' height='0.1' fill='#555555'/>"
        cells += "".join(f"<text x='{x + w * k / 6:.2f}' y='{y + 4 * row + 3:.2f}' font-family='DejaVu Sans' "
                         f"font-size='2.2'>{rng.randint(10, 99999)}</text>" for k in range(6))
    return cells


NO_PICTURES = (type_set, type_set, illustration, gradient, tint, stripes, screenshot, table)
GROUNDS = ("white", "white", "white", "field", "gradient")


def slots():
    wide = (PAGE[0] - (SLOTS[0] + 1) * GAP) / SLOTS[0]
    high = (PAGE[1] - (SLOTS[1] + 1) * GAP) / SLOTS[1]
    return [(GAP + (wide + GAP) * (i % SLOTS[0]), GAP + (high + GAP) * (i // SLOTS[0]), wide, high)
            for i in range(SLOTS[0] * SLOTS[1])]


def drawn(rng, seed):
    page, whole = Page(), (0, 0, *PAGE)
    ground = rng.choice(GROUNDS)
    drawing = f"<rect width='{PAGE[0]}' height='{PAGE[1]}' fill='{colour(rng, 170, 250) if ground == 'field' else 'white'}'/>"
    if ground == "gradient":
        drawing += gradient(rng, whole)
    for box in slots():
        if rng.random() < 0.4:
            make = rng.choice(PICTURES)
            part, outlines = make(rng, seed, box)
            page.kinds += [make.__name__] * len(outlines)
            page.outlines += [tuple(side * MM for side in outline) for outline in outlines]
        else:
            make = rng.choice(NO_PICTURES)
            part = make(rng, box)
            page.beside.append(make.__name__)
        drawing += part
    return page, drawing


def make(seed, index, path):
    """Writes page `index` of `seed` to `path` (PPM); returns what is on it."""
    rng = random.Random(f"regions/{seed}/{index}")
    page, drawing = drawn(rng, seed)
    svg = (f"<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='{PAGE[0]}mm' "
           f"height='{PAGE[1]}mm' viewBox='0 0 {PAGE[0]} {PAGE[1]}'>{drawing}</svg>")
    with tempfile.TemporaryDirectory(prefix="frisket-resolution-") as folder:
        source = pathlib.Path(folder) / "page.svg"
        source.write_text(svg, encoding="utf-8")
        try:
            subprocess.run(["vips", "copy", f"{source}[dpi={DPI},unlimited]", f"{path}"], check=True,
                           capture_output=True, timeout=LONGEST)
        except subprocess.TimeoutExpired:
            return Page(is_drawn=False)
    return page


def show(pages, out):
    """Shares found by kind, what was taken for a picture, and what it all cost."""
    hung = sum(not page.is_drawn for page in pages)
    if hung:
        print(f"{hung} more pages that the renderer did not end within {LONGEST} s", file=out)
    pages = [page for page in pages if page.is_drawn]
    kinds = [(kind, page.is_found(outline)) for page in pages for kind, outline in zip(page.kinds, page.outlines)]
    found, false = sum(hit for _, hit in kinds), sum(page.is_false(box) for page in pages for box in page.found)
    print(figures.Figure(f"pictures found, IoU above {ALIKE}", found, len(kinds), 95).line(), file=out)
    for kind in sorted({kind for kind, _ in kinds}):
        hits = [hit for name, hit in kinds if name == kind]
        print(f"  {kind:20} {sum(hits):4} of {len(hits):4}", file=out)
    print(f"false regions a page: {false / len(pages):.3f} ({false} on {len(pages)}); at most 0.02", file=out)
    for name in ("find_ms", "check_ms", "page_ms"):
        took = [getattr(page, name) for page in pages]
        print(f"{name}: mean {numpy.mean(took):.0f}, 95th percentile {numpy.quantile(took, 0.95):.0f}, "
              f"worst {max(took):.0f} a page", file=out)
