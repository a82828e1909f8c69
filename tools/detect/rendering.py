"""Renders a drawing by one of three renderers and saves it as a page file."""
import subprocess
from dataclasses import asdict, dataclass

from PIL import Image

import planted
from job import choose

RENDERERS = {"librsvg": 4, "poppler": 3, "ghostscript": 3}
RESOLUTIONS = {300: 11, 150: 3, 200: 3, 600: 2}
FORMATS = {"png": 10, "tiff": 3, "jpeg": 5, "cmyk tiff": 1, "cmyk jpeg": 1}
SUFFIX = {"png": "png", "tiff": "tif", "jpeg": "jpg", "cmyk tiff": "tif", "cmyk jpeg": "jpg"}


@dataclass
class Rendering:
    renderer: str = "librsvg"
    dpi: int = 300
    smooth: bool = True  # anti-aliased
    format: str = "png"
    quality: int = None  # of JPEG
    subsampling: int = None  # of JPEG: 0 is 4:4:4, 2 is 4:2:0

    @property
    def lossless(self):
        return self.quality is None

    def as_json(self):
        return asdict(self)


def random_rendering(rng, job):
    dpi = choose(rng, RESOLUTIONS)
    if dpi == 600 and job.canvas.width * job.canvas.height > 12000:
        dpi = 300  # keeps a page below 7 megapixels
    rendering = Rendering(choose(rng, RENDERERS), dpi, rng.random() < 0.85, choose(rng, FORMATS))
    if "jpeg" in rendering.format:
        rendering.quality = rng.choice((80, 85, 85, 85, 90, 95))
        rendering.subsampling = rng.choice((0, 2)) if rendering.format == "jpeg" else 0
    return rendering


def run(folder, *words):
    subprocess.run([str(word) for word in words], cwd=folder, check=True, capture_output=True)


def by_librsvg(folder, size, how, content):
    run(folder, "rsvg-convert", "-w", size[0], "-h", size[1], "-b", "white", "page.svg", "-o", "render.png")


def by_poppler(folder, size, how, content):
    smooth = "yes" if how.smooth else "no"
    run(
        folder,
        "pdftoppm",
        "-r",
        how.dpi,
        "-x",
        0,
        "-y",
        0,
        "-W",
        size[0],
        "-H",
        size[1],
        "-aa",
        smooth,
        "-aaVector",
        smooth,
        "-png",
        "-singlefile",
        "page.pdf",
        "render",
    )


def by_ghostscript(folder, size, how, content):
    bits = ["-dTextAlphaBits=4", "-dGraphicsAlphaBits=4"] if how.smooth else []
    device = "tiff32nc" if how.format == "cmyk tiff" else "png16m"
    run(
        folder,
        "gs",
        "-q",
        "-dNOPAUSE",
        "-dBATCH",
        "-dSAFER",
        f"-sDEVICE={device}",
        f"-r{how.dpi}",
        f"-g{size[0]}x{size[1]}",
        *bits,
        "-sOutputFile=render.png",
        "page.pdf",
    )


BY = {"librsvg": by_librsvg, "poppler": by_poppler, "ghostscript": by_ghostscript}


def to_cmyk(image):
    """Plain separation with full black generation, without a profile."""
    if image.mode == "CMYK":
        return image
    from PIL import ImageChops

    inks = [ImageChops.invert(channel) for channel in image.convert("RGB").split()]
    black = ImageChops.darker(ImageChops.darker(inks[0], inks[1]), inks[2])
    return Image.merge("CMYK", [ImageChops.subtract(ink, black) for ink in inks] + [black])


def save(folder, how, name):
    """Saves the rendering in its format."""
    with Image.open(folder / "render.png") as opened:
        image = to_cmyk(opened) if "cmyk" in how.format else opened.convert("RGB")
        options = {"dpi": (how.dpi, how.dpi)}
        if how.quality:
            options.update(quality=how.quality, subsampling=how.subsampling)
        elif how.format == "png":
            options.update(compress_level=1)
        else:
            options.update(compression="tiff_lzw")
        whole = folder / f"whole-{name}"
        image.save(whole, **options)
    (folder / "render.png").unlink()
    whole.rename(folder / name)  # last: a page that is there is whole


def is_drawn(folder, document, name):
    """Whether the folder holds the page of this very drawing already."""
    drawing = folder / "page.svg"
    return (folder / name).exists() and drawing.exists() and drawing.read_text(encoding="utf-8") == document


def render(folder, content, job, how):
    """Draws the page into `folder`, unless it is there; returns the page file's name."""
    sharp = how.renderer == "librsvg" and not how.smooth
    size, document = planted.document(content, job, how.dpi, sharp)
    name = f"page.{SUFFIX[how.format]}"
    if is_drawn(folder, document, name):
        return name
    (folder / "page.svg").write_text(document, encoding="utf-8")
    if how.renderer != "librsvg":
        run(folder, "rsvg-convert", "-f", "pdf", "page.svg", "-o", "page.pdf")
    BY[how.renderer](folder, size, how, content)
    save(folder, how, name)
    return name
