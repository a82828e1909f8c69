"""What the trials show, each share with its 95 % bounds."""
import math
from dataclasses import dataclass

import numpy

RIGHT, WRONG = 0.05, 0.10  # relative error of ppi: at most, more than
LEAST_SHARE = 180 / 300  # 0.8 x 225 ppi on a page of 300 dpi: a picture that would be printed again
FINE_FROM = 1.10  # a picture that was enlarged by more must not be called as fine as the page
FINE_UNTIL = 1.01  # not enlarged
SURE = 0.9
BANDS = ((1.04, 1.2), (1.2, 1.5), (1.5, 2.0), (2.0, 3.0), (3.0, 5.0), (5.0, 8.0), (8.0, 14.0))


def wilson(hits, count):
    """95 % bounds of a share (E. B. Wilson, J. American Statistical Association 22, 1927)."""
    if count == 0:
        return 0.0, 1.0
    z, share = 1.959964, hits / count
    middle = (share + z * z / (2 * count)) / (1 + z * z / count)
    half = z / (1 + z * z / count) * math.sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    return middle - half, middle + half


def error(trial):
    """Relative error of the ppi, of the worse axis; None where nothing was claimed."""
    told = trial.told.get("factors")
    if not told:
        return None
    return max(abs(true / found - 1) for true, found in zip(trial.factors, told))


def is_right(trial):
    if max(trial.factors) <= FINE_UNTIL:
        return trial.told["fine"]
    return error(trial) is not None and error(trial) <= RIGHT


def is_false_fine(trial):
    return trial.told["fine"] and max(trial.factors) > FINE_FROM


def is_wrong(trial):
    if max(trial.factors) <= FINE_UNTIL:
        return error(trial) is not None
    return is_false_fine(trial) or (error(trial) is not None and error(trial) > WRONG)


def is_unknown(trial):
    return not trial.told["fine"] and not trial.told.get("factors")


def is_enlarged(trial):
    return min(trial.factors) > 1.0


@dataclass
class Figure:
    name: str
    hits: int
    count: int
    wanted: float  # %
    at_least: bool = True

    def line(self):
        low, high = wilson(self.hits, self.count)
        share = 100 * self.hits / self.count if self.count else math.nan
        met = self.count == 0 or (share >= self.wanted if self.at_least else share <= self.wanted)
        sign = "at least" if self.at_least else "at most "
        return (f"{self.name:74} {share:5.1f} % ({100 * low:.1f} to {100 * high:.1f}) of {self.count:4}; "
                f"{sign} {self.wanted:4} {'met' if met else 'SHORT'}")


def count(name, trials, test, wanted, at_least=True):
    return Figure(name, sum(map(test, trials)), len(trials), wanted, at_least)


def requirements(trials):
    plain = [t for t in trials if t.group in ("renderer", "kernel", "turned")]
    kernels = [t for t in trials if t.group == "kernel"]
    renders = [t for t in trials if t.group == "renderer" and 1.2 <= t.factors[0] <= 8]
    lossless = [t for t in trials if t.group != "JPEG page"]
    fine = [t for t in trials if t.group == "fine"]
    coarse = [t for t in plain if 1 / max(t.factors) < LEAST_SHARE]
    jpeg = [t for t in trials if t.group == "JPEG page"]
    unequal = [t for t in trials if t.group == "unequal"]
    sure = [t for t in lossless if t.told.get("factors") and t.told["confidence"] >= SURE]
    return [
        count("renders, factor 1.2 to 8: within 5 %", renders, is_right, 90),
        count("all kernels, factor 1.04 to 9: within 5 %", kernels, is_right, 80),
        count("renders and kernels: wrong", plain, is_wrong, 1, False),
        count("all on lossless pages: wrong", lossless, is_wrong, 1, False),
        count("at or above the page's dpi: called low", fine, lambda t: bool(t.told.get("factors")), 0.5, False),
        count("at or above the page's dpi: told fine", fine, is_right, 0),
        count("below 0.8 x least: reported", coarse, lambda t: bool(t.told.get("factors")), 92),
        count("below 0.8 x least: called fine", coarse, lambda t: t.told["fine"], 0, False),
        count("enlarged by more than 1.1, any page: called fine", [t for t in trials if max(t.factors) > FINE_FROM],
              is_false_fine, 0, False),
        count("JPEG page q 90: right or not assessed", jpeg, lambda t: is_right(t) or is_unknown(t), 98),
        count("JPEG page q 90: right", jpeg, is_right, 0),
        count("unequal axes: within 5 % on both", unequal, is_right, 75),
        count("answers at confidence 0.9 and more: within 5 %", sure, is_right, 97),
    ]


def row(trials):
    right, wrong = sum(map(is_right, trials)), sum(map(is_wrong, trials))
    unknown = sum(map(is_unknown, trials))
    low, high = wilson(right, len(trials))
    share = 100 / len(trials)
    return (f"{len(trials):5}   {right * share:5.1f} ({100 * low:.0f} to {100 * high:.0f})"
            f"   {unknown * share:5.1f}   {wrong * share:5.1f}")


def split(trials, key):
    groups = {}
    for trial in trials:
        groups.setdefault(key(trial), []).append(trial)
    return sorted(groups.items(), key=lambda item: str(item[0]))


def band(trial):
    return next((b for b in BANDS if b[0] <= max(trial.factors) < b[1]), (0, 1.04))


def show(trials, out):
    for figure in requirements(trials):
        print(figure.line(), file=out)
    columns = "trials  right % (bounds)  unknown  wrong"
    splits = {
        "group": lambda t: t.group,
        "renderer": lambda t: (t.renderer, t.kernel) if t.group == "renderer" else None,
        "kernel": lambda t: t.kernel if t.group == "kernel" else None,
        "renders by factor": lambda t: band(t) if t.group == "renderer" else None,
        "kernels by factor": lambda t: band(t) if t.group == "kernel" else None,
        "renderer and factor": lambda t: (t.renderer, band(t)) if t.group == "renderer" else None,
        "source quality": lambda t: t.quality if t.group in ("renderer", "kernel") else None,
        "afterwards": lambda t: t.after if t.group == "after" else None,
        "photograph": lambda t: t.photograph if t.group in ("renderer", "kernel") else None,
        "at page dpi": lambda t: (t.renderer, t.after) if t.group == "fine" else None,
        "confidence": lambda t: round(t.told["confidence"], 2) if t.told.get("factors") and t.group != "JPEG page" else None,
    }
    for name, key in splits.items():
        print(f"\n{name:44} {columns}", file=out)
        for value, group in split(trials, key):
            if value is not None:
                print(f"  {str(value):42} {row(group)}", file=out)
    times = [t.told["ms"] for t in trials]
    print(f"\ncost of a region: mean {numpy.mean(times):.0f} ms, 95th percentile {numpy.quantile(times, 0.95):.0f} ms, "
          f"worst {max(times):.0f} ms; JPEG pages recognised "
          f"{sum(t.told['was_jpeg'] for t in trials if t.group == 'JPEG page')}, falsely "
          f"{sum(t.told['was_jpeg'] for t in trials if t.group != 'JPEG page')}", file=out)
