"""What the figures have to keep to, and whether they do."""
import statistics
from dataclasses import dataclass

MEAN_RATIO, WORST_RATIO, WORST_RATIO_QUICK, QUICK_SECONDS = 1.8, 2.5, 3.2, 0.2
LARGEST_RATIO, LARGEST_MB, MOST_BYTES_PER_PIXEL = 1.8, 900.0, 7.0
MOST_UNEVEN, LEAST_GAIN, MOST_HARD = 1.25, 8.0, 3.0
VERSION_SECONDS, CARD_SECONDS = 0.060, 0.150
GROWING = ("letter.png", "a3.png", "a0-150.png", "a0-300.png")  # one leaflet, from 9 to 139 megapixels
NORMAL_OF_HARD = "letter.png"


@dataclass
class Bound:
    what: str
    figure: float
    most: float
    unit: str = " x"
    least: bool = False  # the figure is to be at least that, not at most

    @property
    def met(self):
        return self.figure >= self.most if self.least else self.figure <= self.most

    def as_json(self):
        return {"what": self.what, "figure": round(self.figure, 4), "least" if self.least else "most": self.most,
                "unit": self.unit.strip(), "met": self.met}


def ratio(measured, name):
    return measured[name]["frisket"].median / measured[name]["decode"].median


def on_time(pages, measured):
    normal = [page.name for page in pages if page.role == "normal"]
    if normal:
        yield Bound("over decoding, mean of the normal pages", statistics.mean(ratio(measured, n) for n in normal), MEAN_RATIO)
    for quick in (False, True):
        those = [n for n in normal if (measured[n]["decode"].median < QUICK_SECONDS) == quick]
        if those:
            worst = max(those, key=lambda name: ratio(measured, name))
            when = "under" if quick else "at least"
            yield Bound(f"worst where decoding takes {when} {QUICK_SECONDS} s ({worst})", ratio(measured, worst),
                        WORST_RATIO_QUICK if quick else WORST_RATIO)
    for page in pages:
        if page.role == "largest":
            yield Bound(f"over decoding, {page.name}", ratio(measured, page.name), LARGEST_RATIO)


def on_memory(pages, measured):
    for page in pages:
        if page.role in ("largest", "large"):
            yield Bound(f"peak memory, {page.name}", measured[page.name]["frisket"].peak, LARGEST_MB, " MB")


def growing(pages, measured):
    """One leaflet on ever larger sheets: time and memory to the pixel."""
    sizes = {page.name: page.megapixels for page in pages if page.name in GROWING}
    if len(sizes) < 2:
        return
    steps = sorted(sizes, key=sizes.get)
    for small, large in zip(steps, steps[1:]):
        more = measured[large]["frisket"].peak - measured[small]["frisket"].peak
        yield Bound(f"memory from {small} to {large}", more / (sizes[large] - sizes[small]), MOST_BYTES_PER_PIXEL,
                    " bytes a pixel")
    pace = [measured[name]["frisket"].median / sizes[name] for name in steps]
    yield Bound("time a megapixel, slowest over quickest, 9 to 139 megapixels", max(pace) / min(pace), MOST_UNEVEN)


def on_hard_pages(pages, measured):
    if NORMAL_OF_HARD not in measured:
        return
    normal = measured[NORMAL_OF_HARD]["frisket"].median
    for page in pages:
        if page.role == "hard":
            yield Bound(f"{page.name} over {NORMAL_OF_HARD}", measured[page.name]["frisket"].median / normal, MOST_HARD)


def on_the_script(pages, measured):
    gains = {page.name: measured[page.name]["script"].median / measured[page.name]["frisket"].median
             for page in pages if page.role in ("normal", "largest") and "script" in measured[page.name]}
    if gains:
        least = min(gains, key=gains.get)
        yield Bound("the script over frisket, mean", statistics.mean(gains.values()), LEAST_GAIN, least=True)
        yield Bound(f"the script over frisket, least ({least})", gains[least], LEAST_GAIN, least=True)


def on_start(pages, measured):
    if "--version" in measured:
        yield Bound("frisket --version", measured["--version"]["frisket"].median, VERSION_SECONDS, " s")
    for page in pages:
        if page.role == "start":
            yield Bound("a page of 100 x 100 px", measured[page.name]["frisket"].median, CARD_SECONDS, " s")


def of(pages, measured):
    """All bounds that the pages measured have a say in."""
    for part in (on_time, on_memory, growing, on_hard_pages, on_the_script, on_start):
        yield from part(pages, measured)
