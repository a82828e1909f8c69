"""What was planted on a page."""
from dataclasses import asdict, dataclass, field

from job import Box


@dataclass
class Fault:
    check: str  # safe-zone, bleed or folds
    name: str  # what was planted: "in band", "short bleed", …
    severities: tuple  # any of these is right
    wholes: list  # boxes in mm: whole_mm must overlap one of them
    measured: float | dict = None  # mm, or mm by edge; None: nothing single to measure
    edges: tuple = ()  # any of these is right
    fold: int = None
    ground: str = ""
    matter: str = ""
    effect: str = "plain"
    size: float = None  # mm of missing bleed, or of intrusion
    is_type: bool = False  # set by the renderer's text machinery
    thin: bool = False  # a line: it is its position and length that count
    faint: bool = False  # no contrast over part of it: neither counted nor held against the tool


@dataclass
class Truth:
    seed: int
    index: int
    job: object
    faults: list = field(default_factory=list)
    matter: list = field(default_factory=list)  # (box, kind, name, ground) of all live matter
    grounds: list = field(default_factory=list)  # kinds on the page
    render: dict = field(default_factory=dict)

    def as_json(self):
        return {
            "seed": self.seed,
            "index": self.index,
            "render": self.render,
            "grounds": self.grounds,
            "job": asdict(self.job),
            "faults": [asdict(f) for f in self.faults],
            "matter": [
                {"box": asdict(box), "kind": kind, "name": name, "ground": ground}
                for box, kind, name, ground in self.matter
            ],
        }


def box_of(data):
    """A box as the report gives it."""
    return Box(data["x"], data["y"], data["x"] + data["width"], data["y"] + data["height"])
