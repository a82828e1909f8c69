"""Fields short of their bleed: along an edge or part of it, tapering, by a sliver, in another colour."""
import grounds
from job import CUT_TOLERANCE, ONE_POINT, Box, choose
from truth import Fault

OVER = 1.5  # mm: fields that bleed are drawn so far past the canvas
BLEED_FAULTS = {
    "short bleed": 4,
    "short in part": 3,
    "tapering bleed": 1.5,
    "other colour in the bleed": 1.5,
    "sliver": 1.5,
}


def side_points(shape_box, edge, profile):
    """The outline of a box whose side at `edge` follows `profile`: (place along it, place across it)."""
    box = shape_box
    if edge == "top":
        return [*profile, (box.right, box.bottom), (box.left, box.bottom)]
    if edge == "bottom":
        return [(box.left, box.top), (box.right, box.top), *reversed(profile)]
    turned = [(across, along) for along, across in profile]
    if edge == "left":
        return [*reversed(turned), (box.right, box.top), (box.right, box.bottom)]
    return [(box.left, box.top), *turned, (box.left, box.bottom)]


class BleedFault:
    """How a field falls short at one edge, and what should be found."""

    def __init__(self, rng, job, edge, box):
        self.job, self.edge, self.box = job, edge, box
        self.kind = choose(rng, BLEED_FAULTS)
        bleed = job.bleed[edge]
        self.missing = rng.uniform(0.2, min(3.0, bleed))
        if abs(self.missing - ONE_POINT) < 0.07:
            self.missing += 0.15
        if self.kind == "sliver":
            self.missing = bleed + rng.uniform(0.3, CUT_TOLERANCE - 0.2)
        elif self.kind == "tapering bleed":
            self.missing = rng.uniform(min(0.8, bleed), min(3.0, bleed))
        elif self.kind == "other colour in the bleed":
            self.missing = rng.uniform(max(0.5, bleed - 2.0), bleed)
        self.low, self.high = self.run(rng)

    def run(self, rng):
        """From where to where along the edge the colour is missing."""
        horizontal = self.edge in ("top", "bottom")
        ends = (self.box.left, self.box.right) if horizontal else (self.box.top, self.box.bottom)
        if self.kind != "short in part":
            return ends
        inner = max(ends[0], 2.0), min(ends[1], self.job.length_of(self.edge) - 2.0)
        length = rng.uniform(6.0, min(30.0, max(7.0, 0.6 * (inner[1] - inner[0]))))
        low = rng.uniform(inner[0], max(inner[0], inner[1] - length))
        return low, low + length

    def across(self, missing):
        """The place of an edge that lacks so much of the bleed."""
        canvas, edge = self.job.canvas, self.edge
        return {
            "top": canvas.top + missing,
            "left": canvas.left + missing,
            "bottom": canvas.bottom - missing,
            "right": canvas.right - missing,
        }[edge]

    def shape(self):
        full = -OVER
        if self.kind == "other colour in the bleed":
            return grounds.Shape.of(self.box)
        horizontal = self.edge in ("top", "bottom")
        ends = (self.box.left, self.box.right) if horizontal else (self.box.top, self.box.bottom)
        if self.kind == "tapering bleed":
            profile = [(ends[0], self.across(self.missing)), (ends[1], self.across(-0.5))]
        elif self.kind == "short in part":
            profile = [
                (ends[0], self.across(full)),
                (self.low, self.across(full)),
                (self.low, self.across(self.missing)),
                (self.high, self.across(self.missing)),
                (self.high, self.across(full)),
                (ends[1], self.across(full)),
            ]
        else:
            profile = [(end, self.across(self.missing)) for end in ends]
        return grounds.Shape(side_points(self.box, self.edge, profile))

    def strip(self, depth_from, depth_to):
        """The part of the run between two depths from the canvas edge."""
        a, b = sorted((self.across(depth_from), self.across(depth_to)))
        return (
            Box(self.low, a, self.high, b)
            if self.edge in ("top", "bottom")
            else Box(a, self.low, b, self.high)
        )

    def truth(self, ground):
        severity = "review" if self.missing < ONE_POINT else "fix"
        beyond = self.job.bleed[self.edge] - self.missing
        shape = self.shape().box.clipped(self.job.canvas)
        return Fault(
            "bleed",
            self.kind,
            (severity,),
            [shape],
            edges=(self.edge,),
            ground=ground,
            matter=self.kind,
            measured=None if self.kind == "tapering bleed" else beyond,
            size=self.missing,
        )
