"""Photographs to lay on pages: made by procedure, or cut from the desktop backgrounds that Debian ships."""
import pathlib

import numpy
from PIL import Image, ImageFilter

BACKGROUNDS = pathlib.Path("/usr/share/backgrounds")  # gnome-backgrounds, mate-backgrounds
PHOTOGRAPHS = ("mate/nature/*.jpg", "mate/abstract/Elephants_3840x2160.jpg", "gnome/wood-*.webp")


def noise(grain, width, height, cells):
    """Smooth noise, 0 to 1, with about `cells` bumps across."""
    across, down = max(2, cells), max(2, round(cells * height / width))
    coarse = Image.fromarray(grain.random((down, across), dtype=numpy.float32))
    return numpy.asarray(coarse.resize((width, height), Image.Resampling.BICUBIC))


def rough_noise(grain, width, height, cells, octaves=5):
    return sum(noise(grain, width, height, cells * 2**i) / 2**i for i in range(octaves)) / 2


def ridges(grain, width, height):
    """Hills behind one another under a sky."""
    rows = numpy.arange(height, dtype=numpy.float32)[:, None] / height
    sky, haze = grain.uniform(90, 210, 3), grain.uniform(150, 240, 3)
    image = (
        sky + (haze - sky) * rows[..., None] + 30 * (rough_noise(grain, width, height, 3)[..., None] - 0.5)
    )
    for depth in range(1, 5):
        line = 0.25 + 0.15 * depth + 0.25 * (rough_noise(grain, width, 2, 3 + depth, 6)[0] - 0.5)
        colour = haze * (1 - depth / 5) + grain.uniform(10, 120, 3) * (depth / 5)
        texture = (rough_noise(grain, width, height, 12 * depth, 5)[..., None] - 0.5) * (30 + 22 * depth)
        image = numpy.where((rows > line)[..., None], colour + texture, image)
    return image


def lights(grain, width, height):
    """Lights out of focus on a dark ground."""
    image = rough_noise(grain, width, height, 3)[..., None] * grain.uniform(20, 90, 3)
    y, x = numpy.mgrid[0:height, 0:width].astype(numpy.float32)
    for _ in range(24):
        radius = width * grain.uniform(0.015, 0.07)
        away = numpy.hypot(x - grain.uniform(0, width), y - grain.uniform(0, height))
        image = image + numpy.clip((radius - away) / (0.08 * radius + 1), 0, 1)[..., None] * grain.uniform(
            10, 130, 3
        )
    return image


def foliage(grain, width, height):
    """Fine busy texture over broad light and shade."""
    fine, broad = rough_noise(grain, width, height, 40, 5), rough_noise(grain, width, height, 3)
    return (fine * 0.9 + broad * 0.7)[..., None] * grain.uniform(40, 190, 3)


def made(grain, width, height):
    """A photograph that is nobody's: structure, a little lens blur, a little grain."""
    scene = grain.choice((ridges, lights, foliage))(grain, width, height)
    image = Image.fromarray(numpy.clip(scene, 0, 255).astype(numpy.uint8)).filter(
        ImageFilter.GaussianBlur(0.7)
    )
    grained = numpy.asarray(image, dtype=numpy.float32) + grain.normal(
        0, grain.uniform(1.0, 3.5), (height, width, 1)
    )
    return Image.fromarray(numpy.clip(grained, 0, 255).astype(numpy.uint8))


def photographs():
    return sorted(path for pattern in PHOTOGRAPHS for path in BACKGROUNDS.glob(pattern))


def cut(path, rng, width, height):
    """A random part of a photograph, not enlarged by more than 1.2 where its size allows."""
    with Image.open(path) as opened:
        whole = opened.convert("RGB")
    scale = min(
        max(1 / 1.2, rng.uniform(0.4, 1.0) * min(whole.width / width, whole.height / height)),
        whole.width / width,
        whole.height / height,
    )
    part = (int(width * scale), int(height * scale))
    left, top = rng.randint(0, whole.width - part[0]), rng.randint(0, whole.height - part[1])
    return whole.crop((left, top, left + part[0], top + part[1])).resize(
        (width, height), Image.Resampling.LANCZOS
    )


class Pictures:
    """Hands out photographs for one page and writes them beside its drawing."""

    def __init__(self, rng, folder, procedural_only):
        self.rng, self.folder, self.count = rng, folder, 0
        self.files = [] if procedural_only else photographs()

    def write(self, width_mm, height_mm):
        """Writes a picture that fits the size; returns its file name and where it is from."""
        ppi = self.rng.uniform(170, 360)
        width, height = max(24, round(width_mm / 25.4 * ppi)), max(24, round(height_mm / 25.4 * ppi))
        if self.files and self.rng.random() < 0.6:
            path = self.rng.choice(self.files)
            image, source = cut(path, self.rng, width, height), "photograph"
        else:
            image, source = (
                made(numpy.random.default_rng(self.rng.getrandbits(64)), width, height),
                "procedural",
            )
        self.count += 1
        name = f"picture-{self.count}.jpg"
        image.save(self.folder / name, quality=self.rng.choice((88, 92, 95)), subsampling=0)
        return name, source
