"""Renders a PDF page by programs that are not ours."""
import shutil
import subprocess

RENDERERS = ("pdftoppm", "pdftocairo", "Ghostscript", "libvips")


def command(renderer, smooth, dpi):
    """Words of the command, and the file it leaves. Ghostscript is told to be smooth, the others read it in the page."""
    if renderer == "pdftoppm":
        return ["pdftoppm", "-r", dpi, "-singlefile", "page.pdf", "page"], "page.ppm"
    if renderer == "pdftocairo":
        return ["pdftocairo", "-r", dpi, "-png", "-singlefile", "page.pdf", "page"], "page.png"
    if renderer == "libvips":
        return ["vips", "copy", f"page.pdf[dpi={dpi}]", "page.ppm"], "page.ppm"
    device = ["-sDEVICE=ppmraw", f"-r{dpi}", "-sOutputFile=page.ppm"]
    always = ["-dInterpolateControl=-1"] if smooth else ["-dNOINTERPOLATE"]
    return ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", *device, *always, "page.pdf"], "page.ppm"


def missing():
    return [renderer for renderer in RENDERERS if not shutil.which(str(command(renderer, False, 300)[0][0]))]


def render(folder, renderer, smooth, dpi):
    words, name = command(renderer, smooth, dpi)
    subprocess.run([str(word) for word in words], cwd=folder, check=True, capture_output=True)
    return folder / name
