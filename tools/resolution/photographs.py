"""Photographs that Debian ships as desktop backgrounds, reduced so that every pixel is one of their own."""
import functools
import math
import pathlib

from PIL import Image, ImageDraw

BACKGROUNDS = pathlib.Path("/usr/share/backgrounds")  # gnome-backgrounds, mate-backgrounds
TUNING = (
    "mate/nature/Blinds.jpg",
    "mate/nature/Dune.jpg",
    "mate/nature/Garden.jpg",
    "mate/nature/LadyBird.jpg",
    "mate/nature/Storm.jpg",
    "mate/nature/Wood.jpg",
    "gnome/wood-d.webp",
    "gnome/wood-l.webp",
)
REPORTED = (
    "mate/nature/Aqua.jpg",
    "mate/nature/FreshFlower.jpg",
    "mate/nature/GreenMeadow.jpg",
    "mate/nature/RainDrops.jpg",
    "mate/nature/TwoWings.jpg",
    "mate/nature/YellowFlower.jpg",
    "mate/abstract/Elephants_3840x2160.jpg",
    "gnome/licorice-d.webp",
    "gnome/licorice-l.webp",
)
FIRST_REPORTED_SEED = 1000
LEAST_REDUCTION = 2.0  # cameras interpolate colour, and some backgrounds were enlarged before: this ends both
MOST_REDUCTION = 10.0
FILTERS = (Image.Resampling.LANCZOS, Image.Resampling.BICUBIC, Image.Resampling.BOX)


MADE_SEED = 0  # of the tests: pictures made here, without the packages


def names(seed):
    """Photographs used for tuning are not those that figures are reported on."""
    return REPORTED if seed >= FIRST_REPORTED_SEED else TUNING


def missing(seed):
    return [] if seed == MADE_SEED else [name for name in names(seed) if not (BACKGROUNDS / name).exists()]


@functools.lru_cache(maxsize=16)
def opened(name):
    with Image.open(BACKGROUNDS / name) as image:
        return image.convert("RGB")


def cut(rng, seed, width, height):
    """A part of some photograph, of `width` x `height` pixels after it was reduced; and the photograph's name."""
    if seed == MADE_SEED:
        return made(rng, width, height), "made"
    fitting = [
        name for name in names(seed) if most_reduction(opened(name), width, height) >= LEAST_REDUCTION
    ]
    name = rng.choice(fitting)
    photograph = opened(name)
    most = min(MOST_REDUCTION, most_reduction(photograph, width, height))
    reduction = math.exp(rng.uniform(math.log(LEAST_REDUCTION), math.log(most)))
    across, down = width * reduction, height * reduction
    left, top = rng.uniform(0, photograph.width - across), rng.uniform(0, photograph.height - down)
    part = photograph.resize(
        (width, height), rng.choice(FILTERS), box=(left, top, left + across, top + down)
    )
    return part, name


def most_reduction(photograph, width, height):
    return min(photograph.width / width, photograph.height / height)


def made(rng, width, height):
    """Leaves of all sizes that lie on each other, which have the edges and the statistics of natural scenes (Lee,
    Mumford, Huang, Occlusion models for natural images, Int. J. Computer Vision 41, 2001; from memory)."""
    scale = 3  # drawn larger and reduced, as photographs are
    image = Image.new("RGB", (scale * width, scale * height))
    draw = ImageDraw.Draw(image)
    smallest, largest = 2.0 * scale, 0.2 * scale * max(width, height)
    for _ in range(min(9000, width * height // 8)):
        radius = smallest / math.sqrt(rng.uniform((smallest / largest) ** 2, 1.0))
        x, y = rng.uniform(0, image.width), rng.uniform(0, image.height)
        level = rng.randint(20, 235)
        colour = tuple(max(0, min(255, level + rng.randint(-30, 30))) for _ in range(3))
        draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=colour)
    return image.resize((width, height), Image.Resampling.LANCZOS)
