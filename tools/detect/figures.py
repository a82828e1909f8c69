"""Adds up the scores of many pages and prints them."""
import math
from collections import defaultdict
from dataclasses import dataclass

import numpy

from scoring import error_of

MM_PER_INCH = 25.4
FAR_PX = 2.0  # of error: a page to look at
PHOTOGRAPHIC = ("photograph", "procedural")
PATTERNED = ("pattern", "stripes")


@dataclass
class Row:
    """One fault, found or not, with all that the figures are split by."""

    fault: object
    page: object
    found: bool
    why: str = ""
    error_mm: float = None

    @property
    def error_px(self):
        return None if self.error_mm is None else self.error_mm * self.page.how.dpi / MM_PER_INCH

    @property
    def planar(self):
        return self.fault.ground not in PHOTOGRAPHIC + ("seam",)

    @property
    def plain(self):
        return self.planar and self.fault.ground not in PATTERNED


@dataclass
class Page:
    """What is kept of a page when its files are gone."""

    index: int
    how: object
    grounds: list
    clean: bool
    rows: list
    false: list
    repeats: int
    error: str = ""

    @property
    def far_off(self):
        """Faults that were found but measured wrong."""
        return [row for row in self.rows if row.error_px is not None and row.error_px > FAR_PX]

    @property
    def hard(self):
        return any(kind in PHOTOGRAPHIC + PATTERNED for kind in self.grounds)


def page_of(truth, how, score):
    page = Page(
        truth.index,
        how,
        truth.grounds,
        not truth.faults,
        [],
        [(f["severity"], f["check"], f["kind"]) for f in score.false],
        len(score.repeats),
    )
    page.rows = [Row(fault, page, True, "", error_of(fault, finding)) for fault, finding in score.found]
    page.rows += [Row(fault, page, False, why) for fault, why in score.missed]
    return page


def share(rows):
    return (
        f"{sum(r.found for r in rows)}/{len(rows)} = {100 * sum(r.found for r in rows) / len(rows):.1f} %"
        if rows
        else "none"
    )


def errors(rows, unit="px"):
    found = [r.error_px if unit == "px" else r.error_mm for r in rows if r.error_mm is not None]
    if not found:
        return "-"
    return f"{numpy.median(found):.2f}, {numpy.quantile(found, 0.95):.2f}, {max(found):.2f}"


def false_per_page(pages, severity):
    return (
        sum(sum(f[0] == severity for f in page.false) for page in pages) / len(pages) if pages else math.nan
    )


def split(items, key):
    groups = defaultdict(list)
    for item in items:
        groups[str(key(item))].append(item)
    return sorted(groups.items())


def print_splits(pages, out):
    rows = [row for page in pages for row in page.rows]
    splits = {
        "planted": lambda r: r.fault.name,
        "ground": lambda r: r.fault.ground,
        "matter": lambda r: r.fault.matter,
        "effect": lambda r: r.fault.effect,
        "renderer": lambda r: r.page.how.renderer,
        "dpi": lambda r: r.page.how.dpi,
        "format": lambda r: r.page.how.format,
        "anti-aliased": lambda r: r.page.how.smooth,
    }
    for name, key in splits.items():
        print(f"\nby {name:38} found                    error px: median, 95 %, worst", file=out)
        for value, group in split(rows, key):
            print(f"  {value:40} {share(group):24} {errors(group)}", file=out)
    clean = [page for page in pages if page.clean]
    by_page = {
        "first ground": lambda p: p.grounds[0],
        "renderer": lambda p: p.how.renderer,
        "dpi": lambda p: p.how.dpi,
        "format": lambda p: p.how.format,
        "anti-aliased": lambda p: p.how.smooth,
    }
    for name, key in by_page.items():
        print(f"\nclean pages by {name:29} pages   false fix, review a page", file=out)
        for value, group in split(clean, key):
            print(
                f"  {value:40} {len(group):5}   {false_per_page(group, 'fix'):.3f}, "
                f"{false_per_page(group, 'review'):.3f}",
                file=out,
            )
    for title, values in (
        ("why missed", [r.why for r in rows if not r.found]),
        ("false on clean pages", [" ".join(f) for p in clean for f in p.false]),
        ("false on faulty pages", [" ".join(f) for p in pages if not p.clean for f in p.false]),
    ):
        print(f"\n{title}", file=out)
        for value, group in split(values, str):
            print(f"  {value:40} {len(group)}", file=out)
    print(f"\nfindings that say again what another one said: {sum(p.repeats for p in pages)}", file=out)
