"""Makes pages of pictures whose enlargement is known."""
import math
import random
import shutil
import tempfile
import pathlib
from dataclasses import dataclass, field

from PIL import Image

import enlarging
import pdf
import photographs
import rendering

DPI = 300
PICTURES = 6  # a page
LEAST_FACTOR, MOST_FACTOR = 1.04, 9.0
LEAST_SIDE, MOST_SIDE = 400, 500  # of a picture, page pixels
CELL = 540  # a picture and the white around it
# What the pages show, in turn: how many of each group in a round of 66.
ROUND = {
    "renderer": 26,
    "kernel": 12,
    "unequal": 7,
    "fine": 8,
    "JPEG page": 6,
    "after": 4,
    "turned": 2,
    "turned freely": 1,
}
GROUPS = [group for group, _ in sorted(
    ((group, (place + 0.5) / count) for group, count in ROUND.items() for place in range(count)),
    key=lambda item: (item[1], item[0]))]


@dataclass
class Trial:
    """A picture on a page, and what was told of it."""

    group: str
    renderer: str = "editor"  # or one of rendering.RENDERERS
    kernel: str = ""  # of an editor; of a renderer "as is" or "smooth"
    factors: tuple = (1.0, 1.0)
    quality: int = None  # of the JPEG that the picture was before
    after: str = ""
    degrees: float = 0.0
    photograph: str = ""
    box: tuple = ()  # on the page, pixels: x, y, width, height
    told: dict = field(default_factory=dict)


def revived(values):
    """The trial of which `asdict` and JSON made `values`."""
    return Trial(**values | {"factors": tuple(values["factors"]), "box": tuple(values["box"])})


def log_uniform(rng, low, high):
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def factors_for(rng, group):
    if group == "fine":
        factor = 1.0 if rng.random() < 0.4 else rng.uniform(0.4, 1.0)
        return factor, factor
    factor = log_uniform(rng, LEAST_FACTOR, MOST_FACTOR)
    if group != "unequal":
        return factor, factor
    other = factor * log_uniform(rng, 1.1, 1.5)
    if other > MOST_FACTOR:
        factor, other = factor / 1.5, other / 1.5
    return (factor, other) if rng.random() < 0.5 else (other, factor)


def source(rng, seed, trial, width, height):
    picture, trial.photograph = photographs.cut(rng, seed, width, height)
    if rng.random() < 0.6:
        trial.quality = rng.choice((75, 85, 90, 95))
        picture = enlarging.as_jpeg(picture, trial.quality, rng.choice((0, 2)))
    return picture


def cell_corner(number):
    return 20 + CELL * (number % 2), 20 + CELL * (number // 2)


def page_size():
    return 40 + 2 * CELL, 40 + CELL * (PICTURES // 2)


def placed_by_renderer(rng, seed, trial, number):
    """A picture for the PDF, with its exact place; sets the trial's factors and box."""
    wanted = factors_for(rng, trial.group)
    sizes = [rng.uniform(LEAST_SIDE, MOST_SIDE) for _ in range(2)]
    pixels = [max(24, round(size / factor)) for size, factor in zip(sizes, wanted)]
    image = source(rng, seed, trial, *pixels)
    left, top = (corner + rng.random() for corner in cell_corner(number))
    if trial.group == "turned":
        trial.degrees = rng.choice((90, 180, 270))
    if trial.group == "turned freely":
        trial.degrees = rng.uniform(2, 88)
        sizes = [0.7 * size for size in sizes]
    if trial.degrees:
        left, top = (start + (MOST_SIDE - size) / 2 for start, size in zip((left, top), sizes))
    factors = tuple(size / count for size, count in zip(sizes, pixels))
    swapped = trial.degrees in (90, 270)
    trial.factors = factors[::-1] if swapped else factors
    trial.box = box_of(left, top, sizes, trial.degrees)
    return image, (left, top, *sizes, trial.degrees), trial.kernel == "smooth"


def box_of(left, top, sizes, degrees):
    """Whole pixels inside of the picture; of a freely turned one the box around it."""
    turn = math.radians(degrees)
    cos, sin = abs(math.cos(turn)), abs(math.sin(turn))
    width, height = sizes[0] * cos + sizes[1] * sin, sizes[0] * sin + sizes[1] * cos
    x, y = left + (sizes[0] - width) / 2, top + (sizes[1] - height) / 2
    x0, y0, x1, y1 = math.ceil(x) + 1, math.ceil(y) + 1, math.floor(x + width) - 1, math.floor(y + height) - 1
    return x0, y0, x1 - x0, y1 - y0


def drawn_by_editor(rng, seed, trial):
    """The pixels of a picture that an editor enlarged to the page's own resolution."""
    wanted = factors_for(rng, trial.group)
    size = tuple(rng.randint(LEAST_SIDE, MOST_SIDE) for _ in range(2))
    if trial.group == "fine":
        trial.kernel = "none"
        return source(rng, seed, trial, *size)
    trial.factors = wanted
    pixels = [math.ceil(side / factor) + 2 for side, factor in zip(size, wanted)]
    image = source(rng, seed, trial, *pixels)
    return enlarging.enlarged(image, trial.kernel, wanted, size, rng)


def treated(rng, trial, image):
    """What else may be done to pixels after they were enlarged."""
    if trial.group == "after" or (trial.group == "fine" and rng.random() < 0.3):
        trial.after = rng.choice(sorted(enlarging.AFTER))
        return enlarging.AFTER[trial.after](image, rng)
    return image


def editor_page(rng, seed, group, path):
    page, trials = Image.new("RGB", page_size(), "white"), []
    for number in range(PICTURES):
        trial = Trial(group, kernel=rng.choice(enlarging.KERNELS))
        image = treated(rng, trial, drawn_by_editor(rng, seed, trial))
        corner = cell_corner(number)
        page.paste(image, corner)
        trial.box = (*corner, *image.size)
        trials.append(trial)
    page.save(path)
    return trials


def rendered_page(rng, seed, group, path, folder):
    renderer, kernel = rng.choice(rendering.RENDERERS), rng.choice(("as is", "smooth"))
    trials = [Trial(group, renderer, kernel) for _ in range(PICTURES)]
    pictures = [placed_by_renderer(rng, seed, trial, number) for number, trial in enumerate(trials)]
    pdf.page(folder / "page.pdf", page_size(), DPI, pictures)
    shutil.move(rendering.render(folder, renderer, kernel == "smooth", DPI), path)
    return trials


def make(seed, index, path, only=None):
    """Writes page `index` of `seed` to `path`; returns its trials."""
    rng = random.Random(f"{seed}/{index}")
    group = only or GROUPS[index % len(GROUPS)]
    rendered = group in ("renderer", "turned", "turned freely") or (
        group in ("unequal", "fine", "JPEG page") and rng.random() < 0.5)
    with tempfile.TemporaryDirectory(prefix="frisket-resolution-") as folder:
        if rendered:
            trials = rendered_page(rng, seed, group, path, pathlib.Path(folder))
        else:
            trials = editor_page(rng, seed, group, path)
    if group == "JPEG page":
        with Image.open(path) as page:
            enlarging.as_jpeg(page.convert("RGB"), 90, rng.choice((0, 2))).save(path)
    return trials
