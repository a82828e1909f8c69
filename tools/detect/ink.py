"""Where the ink of an element lies: measured on it drawn alone, in black on white, at high resolution.

The renderer is librsvg; nothing of frisket takes part. Good to one pixel of the finer pass, 0.01 to 0.03 mm.
"""
import io
import math
import subprocess

import numpy
from PIL import Image

import drawing
from job import Box

COARSE_PER_MM = 1.5
FINE_PER_MM = 1200 / 25.4
LARGEST_PX = 2600
REACH = 260  # mm to each side of an element's own origin: nothing drawn here is larger


class Ink:
    """The ink of an element, in its own coordinates."""

    def __init__(self, mask, left, top, per_mm):
        self.mask, self.left, self.top, self.per_mm = mask, left, top, per_mm
        rows, columns = numpy.flatnonzero(mask.any(axis=1)), numpy.flatnonzero(mask.any(axis=0))
        self.box = Box(
            left + columns[0] / per_mm,
            top + rows[0] / per_mm,
            left + (columns[-1] + 1) / per_mm,
            top + (rows[-1] + 1) / per_mm,
        )

    def crossing(self, vertical, at, clear):
        """Is a letter cut by a line at `at`? True, False (no ink within `clear` mm), or None: hard to say."""
        mask = self.mask if vertical else self.mask.T
        middle = round((at - (self.left if vertical else self.top)) * self.per_mm)
        reach = max(2, round(clear * self.per_mm))
        near = mask[:, max(middle - reach, 0) : middle + reach]
        if not near.any():
            return False
        return True if near.shape[1] == 2 * reach and near.all(axis=1).any() else None

    def lies_over(self, vertical, at):
        """Does a line at `at` go through the box of the ink?"""
        low, high = (self.box.left, self.box.right) if vertical else (self.box.top, self.box.bottom)
        return low < at < high

    def space_at(self, vertical, at):
        """Width in mm of the space without ink that a line at `at` lies in, 0 where it cuts ink."""
        inked = self.mask.any(axis=0 if vertical else 1)
        middle = round((at - (self.left if vertical else self.top)) * self.per_mm)
        before, after = numpy.flatnonzero(inked[:middle]), numpy.flatnonzero(inked[middle:])
        if not len(before) or not len(after):
            return math.inf
        return (middle + after[0] - before[-1] - 1) / self.per_mm

    def usual_space(self, vertical):
        """Median width in mm of the spaces without ink along the element, 0 where it is all of a piece."""
        inked = numpy.flatnonzero(self.mask.any(axis=0 if vertical else 1))
        gaps = numpy.diff(inked) - 1
        gaps = gaps[gaps > 0]
        return float(numpy.median(gaps)) / self.per_mm if len(gaps) else 0.0


def coverage(content, view, per_mm, folder):
    """Black ink on white, rendered: an array of rows, 0 to 1."""
    width, height = round(view.width * per_mm), round(view.height * per_mm)
    view = Box(view.left, view.top, view.left + width / per_mm, view.top + height / per_mm)
    found = subprocess.run(
        ["rsvg-convert", "-w", str(width), "-h", str(height), "-b", "white"],
        input=drawing.document(content, view).encode(),
        capture_output=True,
        cwd=folder,
        check=True,
    )
    grey = numpy.asarray(Image.open(io.BytesIO(found.stdout)).convert("L"), dtype=numpy.float32)
    return 1 - grey / 255


def measure(content, folder):
    """The ink of SVG drawn in black; raises ValueError where there is none."""
    reach = Box(-REACH, -REACH, REACH, REACH)
    coarse = coverage(content, reach, COARSE_PER_MM, folder) > 0.02
    if not coarse.any():
        raise ValueError("an element draws nothing")
    rough = Ink(coarse, -REACH, -REACH, COARSE_PER_MM).box.grown(1.5)
    per_mm = min(FINE_PER_MM, LARGEST_PX / max(rough.width, rough.height))
    return Ink(coverage(content, rough, per_mm, folder) >= 0.5, rough.left, rough.top, per_mm)
