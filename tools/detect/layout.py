"""The grounds of a page: one for all of it, a block that bleeds on some edges, or a field for each panel.

Faults of the bleed and colour breaks off their fold are planted here, for they are faults of the grounds.
"""
import io
import subprocess
from dataclasses import dataclass, field

import numpy
from PIL import Image

import colours
import drawing
import grounds
from bleed_faults import OVER, BleedFault
from job import EDGES, Box, choose
from truth import Fault

RASTER_PER_MM = 3
BASES = {
    "white": 20,
    "paper": 9,
    "flat": 12,
    "linear": 8,
    "radial": 7,
    "banded": 6,
    "pattern": 7,
    "stripes": 5,
    "photograph": 22,
}
BLOCKS = {"flat": 4, "linear": 1.5, "radial": 1, "banded": 1, "pattern": 1, "stripes": 0.6, "photograph": 5}
ATTACHED = (
    ("top", "left", "right"),
    ("bottom", "left", "right"),
    ("left", "top", "bottom"),
    ("right", "top", "bottom"),
    ("top",),
    ("bottom",),
    ("left",),
    ("right",),
    ("top", "left"),
    ("bottom", "right"),
)


@dataclass
class Layout:
    job: object
    paint: list = field(default_factory=list)
    zones: list = field(default_factory=list)  # (box, kind), the upper ones last
    faults: list = field(default_factory=list)
    raster: object = None

    def add(self, ground, box):
        self.paint.append(ground.paint)
        self.zones.append((box, ground.kind))

    def ground_at(self, box):
        """The kind of ground under a box; None where it lies on two."""
        for zone, kind in reversed(self.zones):
            if box.inside(zone):
                return kind
            if box.meets(zone):
                return None
        return None

    def pixels(self, box):
        canvas = self.job.canvas
        low = [
            max(0, int((v - o) * RASTER_PER_MM))
            for v, o in ((box.left, canvas.left), (box.top, canvas.top))
        ]
        high = [
            max(l + 1, int(numpy.ceil((v - o) * RASTER_PER_MM)))
            for l, v, o in zip(low, (box.right, box.bottom), (canvas.left, canvas.top))
        ]
        return self.raster[low[1] : high[1], low[0] : high[0]]

    def rasterise(self, folder):
        path = folder / "ground.svg"
        path.write_text(drawing.document("".join(self.paint), self.job.canvas), encoding="utf-8")
        size = [
            str(round(length * RASTER_PER_MM)) for length in (self.job.canvas.width, self.job.canvas.height)
        ]
        found = subprocess.run(
            ["rsvg-convert", "-w", size[0], "-h", size[1], "-b", "white", path.name],
            cwd=folder,
            capture_output=True,
            check=True,
        )
        path.unlink()
        self.raster = numpy.asarray(
            Image.open(io.BytesIO(found.stdout)).convert("RGB"), dtype=numpy.float64
        )


def is_faint(layout, inner, outer_colour):
    """Does the ground hardly differ, over a tenth of a strip, from the colour beside it?"""
    pixels = layout.pixels(inner.clipped(layout.job.canvas)).reshape(-1, 3)
    return (
        float(numpy.quantile(numpy.abs(pixels @ colours.LUMA / 255 - colours.luma(outer_colour)), 0.1))
        < 0.08
    )


def attached_box(rng, job, attached):
    """A block of a quarter to two thirds of the page, to past the canvas on the attached edges."""
    canvas, safe = job.canvas.grown(OVER), job.safe_zone
    share = [rng.uniform(0.3, 0.6) for _ in range(2)]
    left, right = safe.left + 3, safe.right - 3
    top, bottom = safe.top + 3, safe.bottom - 3
    width, height = (right - left) * share[0], (bottom - top) * share[1]
    if "left" in attached and "right" not in attached:
        left, right = canvas.left, left + width
    elif "right" in attached and "left" not in attached:
        left, right = right - width, canvas.right
    elif "left" in attached:
        left, right = canvas.left, canvas.right
    if "top" in attached and "bottom" not in attached:
        top, bottom = canvas.top, top + height
    elif "bottom" in attached and "top" not in attached:
        top, bottom = bottom - height, canvas.bottom
    elif "top" in attached:
        top, bottom = canvas.top, canvas.bottom
    return clear_of_folds(job, Box(left, top, right, bottom), attached)


def clear_of_folds(job, box, attached):
    """A side that would end within 6 mm of a fold looks as if it were meant for it: moved off."""
    for fold in job.folds:
        if "left" not in attached and abs(box.left - fold) < 6:
            box.left = fold - 7
        if "right" not in attached and abs(box.right - fold) < 6:
            box.right = fold + 7
    for fold in job.folds_y:
        if "top" not in attached and abs(box.top - fold) < 6:
            box.top = fold - 7
        if "bottom" not in attached and abs(box.bottom - fold) < 6:
            box.bottom = fold + 7
    return box


def lay_field(rng, layout, kind, box, pictures, fault_edges, outside):
    """A field or picture, with a fault at one of its edges where wanted; `outside` is the colour round it."""
    job = layout.job
    fault = BleedFault(rng, job, fault_edges[0], box) if fault_edges else None
    shape = fault.shape() if fault else grounds.Shape.of(box)
    ground = grounds.make(rng, kind, shape, pictures, len(layout.paint), apart_from=(outside,))
    layout.add(ground, box)
    if not fault:
        return
    truth = fault.truth(ground.kind)
    if fault.kind == "other colour in the bleed":
        outside = colours.apart(rng, ground.colours or ("#808080",), 0.3)
        layout.paint.append(drawing.rect(fault.strip(-OVER, fault.missing), fill=outside))
    layout.faults.append((truth, fault.strip(fault.missing + 0.4, fault.missing + 1.4), outside))


def lay_panels(rng, layout, pictures, off_fold):
    """A field for each panel, white and coloured in turn; one break is off its fold where that is wanted."""
    job = layout.job
    canvas = job.canvas.grown(OVER)
    number, wrong = rng.randint(1, len(job.folds)), 0.0
    if off_fold:
        wrong = rng.choice((-1, 1)) * rng.choice((rng.uniform(0.65, 0.88), rng.uniform(1.12, 3.0)))
    ends = [
        fold + (wrong if i == number and off_fold else rng.uniform(-0.25, 0.25))
        for i, fold in enumerate(job.folds, 1)
    ]
    ends = [canvas.left, *ends, canvas.right]
    turn = rng.random() < 0.5
    for i, (left, right) in enumerate(zip(ends, ends[1:])):
        kind = (
            "white"
            if (i % 2 == 0) == turn
            else rng.choice(("flat", "flat", "linear", "pattern", "photograph"))
        )
        lay_field(rng, layout, kind, Box(left, canvas.top, right, canvas.bottom), pictures, (), "#ffffff")
    if off_fold:
        fold, at = job.folds[number - 1], ends[number]
        kind = next(kind for _, kind in layout.zones[number - 1 : number + 1] if kind != "white")
        whole = Box(min(fold, at), job.canvas.top, max(fold, at), job.canvas.bottom)
        coloured_left = layout.zones[number - 1][1] != "white"
        inner = (
            Box(at - 1.4, 0, at - 0.4, job.height)
            if coloured_left
            else Box(at + 0.4, 0, at + 1.4, job.height)
        )
        truth = Fault(
            "folds",
            "colour break off fold",
            ("fix" if abs(wrong) >= 1 else "review",),
            [whole],
            measured=abs(wrong),
            fold=number,
            ground=kind,
            matter="colour break",
            size=abs(wrong),
        )
        layout.faults.append((truth, inner, "#ffffff"))


def make_layout(rng, job, pictures, bleed_edges, off_fold, folder):
    """The grounds of a page, with bleed faults at some of `bleed_edges`, drawn and rasterised."""
    layout = Layout(job)
    if job.folds and (off_fold or rng.random() < 0.3):
        lay_panels(rng, layout, pictures, off_fold)
    else:
        lay_page(rng, layout, pictures, bleed_edges)
    layout.rasterise(folder)
    for truth, inner, outside in layout.faults:
        truth.faint = is_faint(layout, inner, outside)
    layout.faults = [truth for truth, _, _ in layout.faults]
    return layout


def left_visible(field, block):
    """What a block laid over a field from side to side lets see of it: no eye can tell how far it goes below."""
    seen = Box(field.left, field.top, field.right, field.bottom)
    if block.left <= field.left and block.right >= field.right:
        if block.top <= field.top:
            seen.top = max(seen.top, block.bottom)
        elif block.bottom >= field.bottom:
            seen.bottom = min(seen.bottom, block.top)
    if block.top <= field.top and block.bottom >= field.bottom:
        if block.left <= field.left:
            seen.left = max(seen.left, block.right)
        elif block.right >= field.right:
            seen.right = min(seen.right, block.left)
    return seen


def lay_page(rng, layout, pictures, bleed_edges):
    """One ground for the whole page, and perhaps a block on it."""
    canvas = layout.job.canvas.grown(OVER)
    attached = rng.choice(ATTACHED) if rng.random() < 0.45 else ()
    on_block = [edge for edge in bleed_edges if edge in attached]
    base = choose(rng, BASES)
    if on_block and base not in ("white", "paper"):
        base = rng.choice(("white", "paper"))
    if bleed_edges and not on_block and base == "white":
        base = rng.choice([kind for kind in BASES if kind != "white"])
    on_base = (
        [edge for edge in bleed_edges if edge not in attached] if base != "white" and not on_block else []
    )
    lay_field(rng, layout, base, canvas, pictures, on_base[:1], "#ffffff")
    if attached:
        kind = choose(rng, {k: w for k, w in BLOCKS.items() if k != base})
        paper = layout.zones[0][1] in ("white", "paper")
        box = attached_box(rng, layout.job, attached)
        for truth, _, _ in layout.faults:
            truth.wholes = [left_visible(whole, box) for whole in truth.wholes]
        lay_field(rng, layout, kind, box, pictures, on_block[:1] if paper else [], paper_colour(layout))


def paper_colour(layout):
    """The colour of the page's ground where it has one."""
    found = layout.paint[0].split('fill="')[-1][:7] if layout.zones[0][1] == "paper" else "#ffffff"
    return found if found.startswith("#") else "#ffffff"


def take_meeting(edges):
    """Takes two edges that meet from those left; None where the last two lie opposite."""
    first = edges.pop()
    upright = first in ("top", "bottom")
    second = next((edge for edge in edges if (edge in ("top", "bottom")) != upright), None)
    if second is None:
        return None
    edges.remove(second)
    return first, second


def free_edges(rng):
    return rng.sample(EDGES, len(EDGES))
