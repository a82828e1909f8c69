"""The part of the benchmark that runs with the tests: few pages, always the same, and what they must show."""
import json
import pathlib

from figures import false_per_page

SEED, PAGES = 99, 26  # takes about a minute on one core
BOUNDS = pathlib.Path(__file__).resolve().parents[2] / "tests" / "detect" / "bounds.json"


def measured(pages):
    rows = [row for page in pages for row in page.rows]
    clean = [page for page in pages if page.clean]
    return {
        "share of faults found, at least": sum(row.found for row in rows) / len(rows),
        "false fix findings a clean page, at most": false_per_page(clean, "fix"),
        "false review findings a clean page, at most": false_per_page(clean, "review"),
        "false findings a faulty page, at most": sum(len(p.false) for p in pages if not p.clean)
        / (len(pages) - len(clean)),
        "repeated findings a page, at most": sum(p.repeats for p in pages) / len(pages),
        "error of the found in mm, worst, at most": max(
            row.error_mm for row in rows if row.error_mm is not None
        ),
    }


def broken(pages):
    """One sentence for each bound that does not hold."""
    values, bounds = measured(pages), json.loads(BOUNDS.read_text(encoding="utf-8"))
    wrong = []
    for name, bound in bounds.items():
        holds = values[name] >= bound if name.endswith("at least") else values[name] <= bound
        print(f"{name}: {values[name]:.3f}, bound {bound}")
        if not holds:
            wrong.append(f"{name} {bound}: it is {values[name]:.3f}")
    return wrong
