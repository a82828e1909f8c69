"""Colours for grounds and inks, and whether an ink can be told from the ground under it."""
import numpy

PAPERS = ("#f6f0e2", "#efe9dc", "#e9eef0", "#f4ecec", "#eef2e4")
STRONG = (
    "#1f3a5f",
    "#0b6e4f",
    "#8c1c13",
    "#f2a541",
    "#5b2a86",
    "#d7263d",
    "#2e86ab",
    "#3b3b3b",
    "#c9b79c",
    "#7fb069",
    "#e6aace",
    "#102a43",
    "#bc4b51",
    "#f4e285",
    "#5b8e7d",
    "#0d0d0d",
)
INKS = (
    "#000000",
    "#ffffff",
    "#1a1a1a",
    "#17324d",
    "#7a1020",
    "#0c4f3a",
    "#f7d038",
    "#e4572e",
    "#ffe9d0",
    "#b0d8f0",
    "#3d1f6e",
    "#00a0c0",
)
LEAST_CONTRAST = 0.25  # of the range from black to white, in luma
LUMA = numpy.array([0.299, 0.587, 0.114])  # ITU-R BT.601


def rgb(colour):
    return numpy.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)], dtype=numpy.float64)


def name(values):
    return "#" + "".join(f"{int(round(min(max(v, 0), 255))):02x}" for v in values)


def luma(colour):
    return float(rgb(colour) @ LUMA) / 255


def contrast(colour, ground, opacity=1.0):
    """The least difference in luma but for a twentieth of the ground's pixels; ground: rows x columns x 3."""
    lumas = ground.reshape(-1, 3) @ LUMA / 255
    return float(numpy.quantile(numpy.abs(lumas - luma(colour)), 0.05)) * opacity


def readable_ink(rng, ground, opacity=1.0, also=lambda colour: True):
    """A random ink that stands out from the ground; None where none does."""
    fitting = [ink for ink in INKS if contrast(ink, ground, opacity) >= LEAST_CONTRAST and also(ink)]
    return rng.choice(fitting) if fitting else None


def apart(rng, colours, least=0.2):
    """A random strong colour that differs in luma from all of `colours`."""
    fitting = [c for c in STRONG if all(abs(luma(c) - luma(other)) >= least for other in colours)]
    return rng.choice(fitting or ["#ffffff" if luma(colours[0]) < 0.5 else "#000000"])
