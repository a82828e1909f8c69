"""Pages that nobody here drew: documents of Debian's texlive-pictures-doc, with jobs laid over them.

The truth is where poppler says that words are (pdftotext -bbox-layout): boxes of the font, narrowed to what
differs from the ground in them; and where it says that pictures are (pdftohtml -xml), narrowed to what is not
white. What ends within a millimetre of a limit does not count.
"""
import pathlib
import random
import re
import subprocess
import tempfile
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass

import numpy
from PIL import Image

from job import EDGES, Box, Job
from truth import box_of

DOCUMENTS = pathlib.Path("/usr/share/doc/texlive-doc/latex")
LARGEST_FILE = 20_000_000
PT = 25.4 / 72
DPI = 300
BLEED = 3.0
DOUBT = 1.0  # mm round a limit within which a word does not count
LEAST_WORDS = 40
OUTER_WORDS = 0.1  # share of the words that the band takes in, at most, by an edge
LEAST_CONTRAST = 60  # of 255
COVERED = 0.5  # share of a word's box
TOUCHED = 0.2
PICTURED = 0.4  # share of the pages that are looked for among those with pictures
LEAST_PICTURE = 4.0  # mm: smaller ones are signs in the text
LEAST_TONE = 16  # of 255 below white, for a picture to be seen
FOLD_SAFE = 1.0
TEXT_AT_FOLD = ("text-across-fold", "text-near-fold")


@dataclass
class Word:
    box: Box
    line: Box  # of the line it stands in
    text: str


@dataclass
class RealPage:
    name: str
    job: Job
    words: list
    pictures: list  # boxes, mm
    size: tuple  # px
    counts: dict  # figure: [hits, of how many]
    wrong: list  # (what, box)


def documents():
    return sorted(path for path in DOCUMENTS.glob("*/*.pdf") if path.stat().st_size < LARGEST_FILE)


def words_of(path, number):
    """Size of a page in mm, and its words."""
    found = subprocess.run(
        ["pdftotext", "-bbox-layout", "-f", str(number), "-l", str(number), path, "-"],
        capture_output=True,
        check=True,
    ).stdout.decode(errors="replace")
    root = ElementTree.fromstring(re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]", "", found))
    space = {"x": "http://www.w3.org/1999/xhtml"}
    page = root.find(".//x:page", space)
    if page is None:
        return None, []
    words = []
    for line in page.iterfind(".//x:line", space):
        words += [
            Word(to_box(word), to_box(line), word.text or "") for word in line.iterfind("x:word", space)
        ]
    return (float(page.get("width")) * PT, float(page.get("height")) * PT), words


def pages_with_pictures(path):
    listed = subprocess.run(["pdfimages", "-list", path], capture_output=True, text=True, errors="replace").stdout
    return sorted({int(line.split()[0]) for line in listed.splitlines()[2:] if line.split()[2:3] == ["image"]})


def pictures_of(path, number, page_width):
    """Boxes of the pictures on a page of this width (mm), in mm from the top left corner of the trim."""
    with tempfile.TemporaryDirectory(prefix="frisket-detect-") as folder:
        name = pathlib.Path(folder) / "page"
        subprocess.run(["pdftohtml", "-xml", "-f", str(number), "-l", str(number), path, name],
                       capture_output=True, check=True)
        found = name.with_suffix(".xml").read_text(errors="replace")
    page = re.search(r'<page [^>]*height="(\d+)" width="(\d+)"', found)
    images = re.findall(r'<image top="(-?\d+)" left="(-?\d+)" width="(\d+)" height="(\d+)"', found)
    if not page or not images:
        return []
    mm = page_width / int(page.group(2))
    boxes = [[mm * int(value) for value in image] for image in images]
    return [Box(left, top, left + width, top + height).moved(-BLEED, -BLEED) for top, left, width, height in boxes]


def to_box(element):
    """In mm from the top left corner of the trim."""
    return Box(*(float(element.get(key)) * PT - BLEED for key in ("xMin", "yMin", "xMax", "yMax")))


def job_over(rng, size, words, pictures):
    """A job whose band takes in some of the outer words, or a picture, on one or two edges, with a fold or two."""
    job = Job(
        round(size[0] - 2 * BLEED, 3),
        round(size[1] - 2 * BLEED, 3),
        dict.fromkeys(EDGES, BLEED),
        {},
        FOLD_SAFE,
    )
    away = {edge: sorted(job.distance(word.box, edge) for word in words) for edge in EDGES}
    reached = rng.sample(EDGES, rng.choice((1, 1, 2)))
    for edge in EDGES:
        some = away[edge][int(rng.uniform(0, OUTER_WORDS) * len(words))]
        if pictures and rng.random() < 0.5:
            some = min(job.distance(box, edge) for box in pictures)
        wanted = some + rng.uniform(2, 6) if edge in reached else away[edge][0] - rng.uniform(3, 6)
        job.safe[edge] = round(min(max(wanted, 2.0), 0.4 * min(job.width, job.height)), 2)
    if rng.random() < 0.7:
        job.folds = [round(rng.uniform(0.3, 0.7) * job.width, 2)]
    if rng.random() < 0.7 or not job.folds:
        job.folds_y = [round(rng.uniform(0.3, 0.7) * job.height, 2)]
    return job


def choose(seed, index):
    """A page of a document and a job over it: path, page number, job, words, pictures."""
    rng = random.Random(f"{seed}/real/{index}")
    while True:
        path = rng.choice(documents())
        info = subprocess.run(["pdfinfo", path], capture_output=True, text=True, errors="replace").stdout
        count = re.search(r"^Pages:\s+(\d+)", info, re.MULTILINE)
        if not count:
            continue
        pictured = pages_with_pictures(path) if rng.random() < PICTURED else []
        number = rng.choice(pictured or range(1, int(count.group(1)) + 1))
        size, words = words_of(path, number)
        inside = size and [
            w for w in words if w.box.inside(Box(-BLEED, -BLEED, size[0] - BLEED, size[1] - BLEED))
        ]
        if inside and 150 < size[0] < 220 and 200 < size[1] < 300 and len(inside) >= LEAST_WORDS:
            pictures = pictures_of(path, number, size[0])
            return path, number, job_over(rng, size, inside, pictures), inside, pictures


def render(path, number, job, folder):
    per_mm = DPI / 25.4
    size = round(job.canvas.width * per_mm), round(job.canvas.height * per_mm)
    subprocess.run(
        [
            "pdftoppm",
            "-r",
            str(DPI),
            "-f",
            str(number),
            "-l",
            str(number),
            "-x",
            "0",
            "-y",
            "0",
            "-W",
            str(size[0]),
            "-H",
            str(size[1]),
            "-png",
            "-singlefile",
            path,
            folder / "page",
        ],
        check=True,
        capture_output=True,
    )
    return "page.png", size


def visible(words, page):
    """The words that can be seen, each with the box of its ink: hidden ones are words to poppler too."""
    with Image.open(page) as opened:
        grey = numpy.asarray(opened.convert("L")).astype(int)
    return [Word(ink, word.line, word.text) for word in words if (ink := ink_of(grey, word.box))]


def ink_of(grey, box):
    """The box of what differs from the ground within a word's box, mm; None where nothing does."""
    part, corner = part_of(grey, box)
    if not part.size:
        return None
    return box_of_true(abs(part - numpy.median(part)) > LEAST_CONTRAST, corner)


def part_of(pixels, box):
    """The pixels of a box in mm, and their top left corner."""
    per_mm = DPI / 25.4
    left, top, right, bottom = (
        max(0, round((side + BLEED) * per_mm)) for side in (box.left, box.top, box.right, box.bottom)
    )
    return pixels[top:bottom, left:right], (left, top)


def box_of_true(part, corner):
    """The box in mm round what is true in a part of the page; None where nothing is."""
    rows, columns = numpy.flatnonzero(part.any(axis=1)), numpy.flatnonzero(part.any(axis=0))
    if not len(rows):
        return None
    found = Box(columns[0], rows[0], columns[-1] + 1, rows[-1] + 1).moved(*corner)
    per_mm = DPI / 25.4
    return Box(*(side / per_mm - BLEED for side in (found.left, found.top, found.right, found.bottom)))


def seen(pictures, page):
    """The pictures that can be seen, each narrowed to what is not white."""
    with Image.open(page) as opened:
        toned = numpy.asarray(opened.convert("L")) < 255 - LEAST_TONE
    found = [box_of_true(*part_of(toned, box)) for box in pictures]
    return [box for box in found if box and min(box.width, box.height) >= LEAST_PICTURE]


def share_covered(word, box):
    part = word.clipped(box)
    if part.width <= 0 or part.height <= 0:
        return 0.0
    return part.width * part.height / (word.width * word.height)


def score(page, report):
    """Fills in counts and what went wrong."""
    findings = report["findings"]
    safe = [f for f in findings if f["check"] == "safe-zone" and f["severity"] != "note"]
    folds = [(f["fold"], box_of(f["whole_mm"])) for f in findings if f["kind"] in TEXT_AT_FOLD]
    count_band(page, [(f["edge"], box_of(f["whole_mm"])) for f in safe])
    count_inside(page, [blamed(page, finding) for finding in safe])
    count_pictures(page, [(f["edge"], box_of(f["whole_mm"])) for f in safe])
    for number, vertical, at in page.job.all_folds():
        count_fold(page, vertical, at, [box for fold, box in folds if fold == number])
    page.counts["findings a page"] = [len(safe) + len(folds), 1]


def blamed(page, finding):
    """The box in which a finding calls words wrong.

    Lines that intrude and are reported together may enclose a shorter one that does not, as a box or a
    frame may enclose words: then it is the part that offends. Text with no word near the limit has no excuse.
    """
    whole, edge = box_of(finding["whole_mm"]), finding["edge"]
    limit = page.job.safe[edge] + DOUBT
    near = any(
        page.job.distance(word.box, edge) < limit and share_covered(word.box, whole) >= COVERED
        for word in page.words
    )
    return box_of(finding["box_mm"]) if near or finding["kind"] != "text-in-band" else whole


def tally(page, figure, hit, wrong, box):
    hits = page.counts.setdefault(figure, [0, 0])
    hits[0] += hit
    hits[1] += 1
    if wrong:
        page.wrong.append((figure, box))


def count_band(page, findings):
    for word in page.words:
        deep = [edge for edge in EDGES if page.job.distance(word.box, edge) < page.job.safe[edge] - DOUBT]
        if deep:
            hit = any(edge in deep and share_covered(word.box, box) >= COVERED for edge, box in findings)
            tally(page, "words in the band covered", hit, not hit, word.box)


def count_inside(page, boxes):
    """Words that stand, with all of their line, well inside the safe zone."""
    inner = page.job.safe_zone.grown(-DOUBT)
    for word in page.words:
        if word.line.inside(inner):
            hit = any(share_covered(word.box, box) >= TOUCHED for box in boxes)
            tally(page, "words well inside touched", hit, hit, word.box)


def count_pictures(page, findings):
    inner = page.job.safe_zone.grown(-DOUBT)
    for picture in page.pictures:
        deep = [edge for edge in EDGES if page.job.distance(picture, edge) < page.job.safe[edge] - DOUBT]
        if deep:
            hit = any(edge in deep and share_covered(picture, box) >= COVERED for edge, box in findings)
            tally(page, "pictures in the band covered", hit, not hit, picture)
        elif picture.inside(inner):
            hit = any(share_covered(picture, box) >= TOUCHED for _, box in findings)
            tally(page, "pictures well inside touched", hit, hit, picture)


def count_fold(page, vertical, at, boxes):
    near = False
    for word in page.words:
        low, high = (word.box.left, word.box.right) if vertical else (word.box.top, word.box.bottom)
        near = near or (low < at + FOLD_SAFE + DOUBT and high > at - FOLD_SAFE - DOUBT)
        if low < at - DOUBT and high > at + DOUBT:
            hit = any(share_covered(word.box, box) >= COVERED for box in boxes)
            tally(page, "words across folds found", hit, not hit, word.box)
    if not near:
        tally(page, "folds clear of words reported", bool(boxes), bool(boxes), page.job.trim)


WANTED = {
    "words in the band covered": (99, True),
    "words well inside touched": (0.2, False),
    "words across folds found": (98, True),
    "folds clear of words reported": (1, False),
    "pictures in the band covered": (99, True),
    "pictures well inside touched": (0.2, False),
}


def show(pages, out):
    print(f"\n{len(pages)} real pages at {DPI} dpi", file=out)
    for figure, (wanted, at_least) in WANTED.items():
        hits = sum(page.counts.get(figure, (0, 0))[0] for page in pages)
        count = sum(page.counts.get(figure, (0, 0))[1] for page in pages)
        value = 100 * hits / count if count else float("nan")
        met = value >= wanted if at_least else value <= wanted
        verdict = ("SHORT", "met")[met] if count else "not measured"
        print(
            f"{figure:40} {hits}/{count} = {value:.2f} %; {('at most', 'at least')[at_least]} {wanted} % "
            f"{verdict}",
            file=out,
        )
    most = sorted((page.counts["findings a page"][0] for page in pages), reverse=True)
    if most:
        print(
            f"safe-zone and text findings a page: median {most[len(most) // 2]}, most {most[0]}", file=out
        )
    for page in pages:
        if page.wrong:
            print(
                f"  {page.name}: "
                + ", ".join(
                    f"{what} x {sum(w == what for w, _ in page.wrong)}"
                    for what in WANTED
                    if any(w == what for w, _ in page.wrong)
                ),
                file=out,
            )
