"""What lies under the matter: fills for the whole page or for a block of it, as SVG."""
import math
from dataclasses import dataclass

import colours
import drawing
from job import Box

SMOOTH = ("flat", "linear", "radial", "banded")
KINDS = ("white", "paper", *SMOOTH, "pattern", "stripes", "photograph")


@dataclass
class Shape:
    """The outline of a field: a box, or a polygon that follows a box but for one side."""

    points: list

    @staticmethod
    def of(box):
        return Shape(
            [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]
        )

    @property
    def box(self):
        across, down = zip(*self.points)
        return Box(min(across), min(down), max(across), max(down))

    @property
    def is_box(self):
        return (
            len(self.points) == 4
            and len({x for x, _ in self.points}) == 2
            and len({y for _, y in self.points}) == 2
        )

    def drawn(self, **attributes):
        return drawing.polygon(self.points, **attributes)


@dataclass
class Ground:
    kind: str  # as in KINDS; pictures made here are "procedural"
    paint: str  # definitions and drawing; fills the box it was made for
    colours: tuple = ()  # that it is made of, where they can be named


def gradient(rng, kind, shape, serial):
    first = rng.choice(colours.STRONG)
    base = colours.rgb(first)
    target = [255, 255, 255] if rng.random() < 0.5 else colours.rgb(rng.choice(colours.STRONG))
    second = colours.name(base + (colours.rgb(colours.name(target)) - base) * rng.uniform(0.25, 0.8))
    stops = [(0.0, first), (1.0, second)]
    if kind == "banded":
        bands = rng.randint(6, 20)
        mixed = [colours.name(base + (colours.rgb(second) - base) * i / (bands - 1)) for i in range(bands)]
        stops = [(end / bands, mixed[i]) for i in range(bands) for end in (i, i + 1)]
    inner = "".join(drawing.tag("stop", offset=float(at), stop_color=colour) for at, colour in stops)
    if kind == "radial":
        definition = drawing.tag(
            "radialGradient",
            inner,
            id=f"fill{serial}",
            cx=rng.uniform(0.2, 0.8),
            cy=rng.uniform(0.2, 0.8),
            r=rng.uniform(0.6, 1.0),
        )
    else:
        across = rng.choice(((1, 0), (0, 1), (1, 1), (1, 0.4)))
        definition = drawing.tag(
            "linearGradient", inner, id=f"fill{serial}", x1=0, y1=0, x2=across[0], y2=across[1]
        )
    return Ground(kind, definition + shape.drawn(fill=f"url(#fill{serial})"), (first, second))


def figure(rng, side):
    """Path data of one repeat, round its own middle."""
    half = side / 2
    shape, r = rng.choice(("dots", "checks", "diamonds", "crosses")), side * rng.uniform(0.15, 0.4)
    if shape == "dots":
        return f"m{-r} 0a{r} {r} 0 1 0 {2 * r} 0a{r} {r} 0 1 0 {-2 * r} 0z"
    if shape == "checks":
        return f"m{-half} {-half}h{half}v{half}h{half}v{half}h{-half}v{-half}h{-half}z"
    if shape == "diamonds":
        return f"m0 {-r}l{r} {r}l{-r} {r}l{-r} {-r}z"
    thin = r * 0.3
    upright = f"m{-thin} {-r}h{2 * thin}v{2 * r}h{-2 * thin}z"
    return f"{upright}m{-r + thin} {r - thin}h{2 * r}v{2 * thin}h{-2 * r}z"


def repeats(rng, kind, box, side):
    """Path data that covers a box, round its middle; drawn out, for renderers differ in how they tile."""
    reach = math.hypot(box.width, box.height) / 2 + side
    steps = range(-math.ceil(reach / side), math.ceil(reach / side) + 1)
    if kind == "stripes":
        width = side * rng.uniform(0.3, 0.6)
        return "".join(
            f"M{x * side:.4f} {-reach:.4f}h{width:.4f}v{2 * reach:.4f}h{-width:.4f}z" for x in steps
        )
    one = figure(rng, side)
    return "".join(f"M{x * side:.4f} {y * side:.4f}{one}" for x in steps for y in steps)


def pattern(rng, kind, shape, serial):
    base = rng.choice(colours.STRONG + colours.PAPERS)
    other = colours.rgb(rng.choice(colours.STRONG))
    # Weak enough that some ink stands out from both colours.
    second = colours.name(colours.rgb(base) + (other - colours.rgb(base)) * rng.uniform(0.15, 0.5))
    side, turn, box = round(rng.uniform(1.8, 7.0), 2), rng.choice((0, 0, 45, 30, 90, 12)), shape.box
    path = drawing.tag(
        "path",
        d=repeats(rng, kind, box, side),
        fill=second,
        transform=f"translate({drawing.number((box.left + box.right) / 2)} "
        f"{drawing.number((box.top + box.bottom) / 2)}) rotate({turn})",
    )
    clip = drawing.tag("clipPath", shape.drawn(), id=f"clip{serial}")
    return Ground(
        kind,
        shape.drawn(fill=base) + clip + drawing.tag("g", path, clip_path=f"url(#clip{serial})"),
        (base, second),
    )


def photograph(shape, pictures, serial):
    name, source = pictures.write(shape.box.width, shape.box.height)
    if shape.is_box:
        return Ground(source, drawing.picture(name, shape.box))
    clip = drawing.tag("clipPath", shape.drawn(), id=f"clip{serial}")
    return Ground(source, clip + drawing.picture(name, shape.box, clip_path=f"url(#clip{serial})"))


def make(rng, kind, shape, pictures, serial, apart_from=()):
    """A ground of one of KINDS that fills a shape; flat ones differ from the colours `apart_from`."""
    if kind == "white":
        return Ground("white", "", ("#ffffff",))
    if kind in ("paper", "flat"):
        colour = (
            rng.choice(colours.PAPERS)
            if kind == "paper"
            else colours.apart(rng, apart_from or ("#ffffff",))
        )
        return Ground(kind, shape.drawn(fill=colour), (colour,))
    if kind in SMOOTH:
        return gradient(rng, kind, shape, serial)
    if kind in ("pattern", "stripes"):
        return pattern(rng, kind, shape, serial)
    return photograph(shape, pictures, serial)
