"""The part of the benchmark that runs with the tests: few pictures, always the same, and what they must show."""
import json
import pathlib

import figures

TRIALS = 72  # takes about ten seconds on one core
BOUNDS = pathlib.Path(__file__).resolve().parents[2] / "tests" / "resolution" / "bounds.json"


def share(trials, test):
    return 100 * sum(map(test, trials)) / len(trials)


def measured(trials):
    enlarged = [t for t in trials if t.group in ("renderer", "kernel")]
    return {
        "enlarged pictures told within 5 %, at least": share(enlarged, figures.is_right),
        "enlarged pictures told wrong, at most": share(enlarged, figures.is_wrong),
        "pictures as fine as the page called low, at most": share(
            [t for t in trials if t.group == "fine"], figures.is_wrong
        ),
        "enlarged pictures called fine, at most": share(trials, figures.is_false_fine),
        "pictures on JPEG pages told wrong, at most": share(
            [t for t in trials if t.group == "JPEG page"], figures.is_wrong
        ),
    }


def broken(trials):
    """One sentence for each bound that does not hold; all in %."""
    values, bounds = measured(trials), json.loads(BOUNDS.read_text(encoding="utf-8"))
    wrong = []
    for name, bound in bounds.items():
        holds = values[name] >= bound if name.endswith("at least") else values[name] <= bound
        print(f"{name}: {values[name]:.1f} %, bound {bound} %")
        if not holds:
            wrong.append(f"{name} {bound} %: it is {values[name]:.1f} %")
    return wrong
