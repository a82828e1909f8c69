"""Random jobs: trim, bleed, safe zone and folds, and the ticket that says so. All lengths in mm."""
from dataclasses import dataclass, field

EDGES = ("top", "right", "bottom", "left")
MM_PER_INCH = 25.4
CUT_TOLERANCE = 1.5  # frisket's default; what ends closer to the trim than this is a matter of bleed
ONE_POINT = MM_PER_INCH / 72
# Cards, tags and leaflets rather than posters, so that a thousand pages take minutes.
FLAT_TRIMS = (
    (85, 55),
    (55, 85),
    (88.9, 50.8),
    (74, 105),
    (105, 74),
    (99, 99),
    (105, 148),
    (99, 210),
    (148, 105),
)
FOLDED_TRIMS = ((170, 55), (148, 105), (198, 70), (210, 99), (180, 85), (120, 160))


@dataclass
class Box:
    """Left, top, right, bottom, from the top left corner of the trim, mm."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self):
        return self.right - self.left

    @property
    def height(self):
        return self.bottom - self.top

    def moved(self, dx, dy):
        return Box(self.left + dx, self.top + dy, self.right + dx, self.bottom + dy)

    def grown(self, by):
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def united(self, other):
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    def meets(self, other):
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def inside(self, other):
        return (
            self.left >= other.left
            and self.top >= other.top
            and self.right <= other.right
            and self.bottom <= other.bottom
        )

    def clipped(self, other):
        return Box(
            max(self.left, other.left),
            max(self.top, other.top),
            min(self.right, other.right),
            min(self.bottom, other.bottom),
        )

    def overlap(self, other):
        """Intersection over union, 0 to 1."""
        width = min(self.right, other.right) - max(self.left, other.left)
        height = min(self.bottom, other.bottom) - max(self.top, other.top)
        shared = max(width, 0) * max(height, 0)
        return shared / (self.width * self.height + other.width * other.height - shared) if shared else 0.0


@dataclass
class Job:
    width: float
    height: float
    bleed: dict
    safe: dict
    fold_safe: float
    folds: list = field(default_factory=list)  # x of each fold, left to right
    folds_y: list = field(default_factory=list)  # y of each fold, top to bottom

    @property
    def trim(self):
        return Box(0, 0, self.width, self.height)

    @property
    def canvas(self):
        return Box(
            -self.bleed["left"],
            -self.bleed["top"],
            self.width + self.bleed["right"],
            self.height + self.bleed["bottom"],
        )

    @property
    def safe_zone(self):
        return Box(
            self.safe["left"],
            self.safe["top"],
            self.width - self.safe["right"],
            self.height - self.safe["bottom"],
        )

    def all_folds(self):
        """(number from 1, is it vertical, where), numbered as the report numbers them."""
        placed = [(True, at) for at in self.folds] + [(False, at) for at in self.folds_y]
        return [(number, vertical, at) for number, (vertical, at) in enumerate(placed, 1)]

    def distance(self, box, edge):
        """From the ink to the trim edge, mm; negative past it."""
        return {
            "top": box.top,
            "left": box.left,
            "bottom": self.height - box.bottom,
            "right": self.width - box.right,
        }[edge]

    def length_of(self, edge):
        return self.width if edge in ("top", "bottom") else self.height

    def ticket(self, dpi):
        ticket = {
            "frisket_ticket": 1,
            "unit": "mm",
            "trim": [self.width, self.height],
            "bleed": self.bleed,
            "safe": self.safe,
            "fold_safe": self.fold_safe,
            "cut_tolerance": CUT_TOLERANCE,
            "dpi": dpi,
            # Not what is measured here, and half of the pages are rendered below what print needs.
            "resolution": {"wanted": 40, "least": 36},
            "pages": [{"file": None}],
        }
        if self.folds or self.folds_y:
            ticket["folds"] = {"panels": panels(self.folds, self.width)}
            if self.folds_y:
                ticket["folds"]["panels_y"] = panels(self.folds_y, self.height)
            ticket["pages"][0]["side"] = "inside"
        return ticket


def choose(rng, weights):
    """One of the keys, as often as its weight says."""
    return rng.choices(list(weights), weights=list(weights.values()))[0]


def panels(folds, length):
    ends = [0, *folds, length]
    return [round(b - a, 6) for a, b in zip(ends, ends[1:])]


def edges(rng, low, high, step=0.25):
    """The same on all edges more often than not, as in most jobs."""

    def draw():
        return low + step * rng.randint(0, round((high - low) / step))

    if rng.random() < 0.75:
        value = draw()
        return {edge: value for edge in EDGES}
    return {edge: draw() for edge in EDGES}


def fold_positions(rng, length):
    count = rng.choice((2, 2, 3)) if length > 110 else 2
    middle = [length * i / count for i in range(1, count)]
    return [round(at + rng.choice((0, 0, 0.5, -1, 1.5)), 3) for at in middle]


def random_job(rng):
    folded = rng.random() < 0.5
    width, height = rng.choice(FOLDED_TRIMS if folded else FLAT_TRIMS)
    width, height = round(width + rng.choice((0, 0, 1.7, -2.3)), 3), round(
        height + rng.choice((0, 0, 1.1)), 3
    )
    job = Job(
        width,
        height,
        bleed=edges(rng, 2, 5),
        safe=edges(rng, 3.5, 8),
        fold_safe=rng.choice((0, 1, 1.5, 2, 3)),
    )
    if folded:
        job.folds = fold_positions(rng, width) if width > height or rng.random() < 0.5 else []
        if not job.folds or rng.random() < 0.15:
            job.folds_y = [round(height / 2, 3)]
    return job
