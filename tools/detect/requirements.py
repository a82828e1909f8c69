"""The figures that the benchmark is held to, each computed from the pages."""
import math
from dataclasses import dataclass

import numpy

import figures
from figures import PHOTOGRAPHIC

LEAST_BLEED_MM = 0.3  # smaller faults of the bleed are counted apart
LIVE = ("in band", "in the corner", "cut", "rule along the trim", "frame along the trim")


@dataclass
class Figure:
    name: str
    value: float  # NaN: no page of this kind
    wanted: float
    at_least: bool  # else: at most
    count: int  # pages or faults that it rests on
    unit: str = ""

    @property
    def met(self):
        return math.isnan(self.value) or (
            self.value >= self.wanted if self.at_least else self.value <= self.wanted
        )


def recall(name, rows, wanted):
    value = 100 * sum(r.found for r in rows) / len(rows) if rows else math.nan
    return Figure(name, value, wanted, True, len(rows), "%")


def false(name, pages, severity, wanted):
    return Figure(name, figures.false_per_page(pages, severity), wanted, False, len(pages), "a page")


def error(name, rows, quantile, unit, wanted):
    values = [r.error_px if unit == "px" else r.error_mm for r in rows if r.error_mm is not None]
    return Figure(
        name,
        float(numpy.quantile(values, quantile)) if values else math.nan,
        wanted,
        False,
        len(values),
        unit,
    )


def live(rows):
    return [r for r in rows if r.fault.name in LIVE]


def put_exactly(rows):
    """Without type set by poppler: it sets letters at whole pixels, up to one from where they are drawn."""
    return [r for r in rows if not (r.fault.is_type and r.page.how.renderer == "poppler")]


def is_q85(page):
    return page.how.quality == 85


def compute(pages):
    """All figures of the issue that planted pages can show."""
    rows = [row for page in pages for row in page.rows]
    clean = [page for page in pages if page.clean]
    best = [r for r in rows if r.page.how.lossless and r.page.how.dpi == 300]
    sharp = [r for r in rows if r.page.how.lossless and r.page.how.dpi != 150]
    on_photo = [r for r in live(best) if r.fault.ground in PHOTOGRAPHIC]
    easy = [p for p in clean if not p.hard and p.how.lossless and p.how.dpi != 150]
    hard = [p for p in clean if p.hard and p.how.lossless and p.how.dpi != 150]
    worse = [r for r in rows if is_q85(r.page) or r.page.how.dpi == 150]
    worse_hard = [p for p in clean if p.hard and (is_q85(p) or p.how.dpi == 150)]
    bleed = [r for r in sharp if r.fault.check == "bleed" and r.fault.size >= LEAST_BLEED_MM]
    return [
        recall("live matter found, on all but photographs", [r for r in live(sharp) if r.planar], 99.5),
        recall(
            "live matter found on photographs, 300 dpi lossless, opaque",
            [r for r in on_photo if r.fault.effect != "translucent"],
            97,
        ),
        recall("the same, translucent", [r for r in on_photo if r.fault.effect == "translucent"], 80),
        recall("bleed faults of 0.3 mm and more found", bleed, 99.5),
        recall("text across folds found", [r for r in sharp if r.fault.name == "text across fold"], 99),
        false("false fix findings, clean pages without photographs and patterns", easy, "fix", 0.01),
        false("false fix findings, clean pages with photographs or patterns", hard, "fix", 0.05),
        false("false review findings, clean pages", easy + hard, "review", 0.05),
        error("error at 300 dpi lossless, 95th percentile", put_exactly(best), 0.95, "px", 1.0),
        error("the same with type that poppler moved by up to a pixel", best, 0.95, "px", 2.0),
        error("error at 300 dpi lossless, worst", best, 1.0, "mm", 0.5),
        recall(
            "JPEG q 85 and 150 dpi: live matter found on paper, fields, gradients",
            [r for r in live(worse) if r.plain],
            97.5,
        ),
        error(
            "JPEG q 85 and 150 dpi: error there, 95th percentile",
            [r for r in put_exactly(worse) if r.plain],
            0.95,
            "px",
            2.0,
        ),
        recall(
            "JPEG q 85 and 150 dpi: live matter found on photographs and patterns",
            [r for r in live(worse) if not r.plain and r.fault.ground != "seam"],
            90,
        ),
        false(
            "JPEG q 85 and 150 dpi: false fix findings, photographs and patterns", worse_hard, "fix", 0.3
        ),
    ]


def show(results, out):
    for figure in results:
        sign, verdict = ("at least", "at most ")[not figure.at_least], "met" if figure.met else "SHORT"
        if math.isnan(figure.value):
            verdict = "not measured"
        value = "-" if math.isnan(figure.value) else f"{figure.value:.3g}"
        print(
            f"{figure.name:76} {value:>6} {figure.unit:6} of {figure.count:4}; "
            f"{sign} {figure.wanted:<5} {verdict}",
            file=out,
        )
