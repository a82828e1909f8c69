#!/usr/bin/python3
"""What one would script instead of frisket: the same checks with OpenCV, NumPy and scikit-image, as well as it goes.

usage: scripted.py PAGE TICKET OUT

It reads the page at full resolution, masks the paper, labels the ink, measures how far each thing is from trim and
folds, follows the colour along each edge out into the bleed, finds pictures and estimates how far they were enlarged,
and leaves OUT/NAME.findings.json and OUT/NAME.overlay.png. Everything that touches all pixels is one call of a library.
"""
import json
import pathlib
import sys

import cv2
import numpy as np
from skimage.filters.rank import entropy
from skimage.measure import label, regionprops
from skimage.morphology import disk

PAPER_STEP = 16  # levels off the paper's colour that count as ink
INK_STEP = 48  # levels off its ground that make a thing that stands on colour
SLIVER_MM = 1.5
FOLD_BREAK_MM = 3.2
GREY_BITS = 4.0  # entropy from which a neighbourhood is a picture


class Job:
    def __init__(self, ticket, shape):
        self.px = ticket["dpi"] / 25.4
        self.width, self.height = shape[1], shape[0]
        bleed = ticket["bleed"] * self.px
        self.trim = np.array([bleed, bleed, self.width - bleed, self.height - bleed])  # left, top, right, bottom
        self.safe = ticket["safe"] * self.px
        self.bleed = bleed
        panels = ticket.get("folds", {}).get("panels", [])
        self.folds = bleed + np.cumsum(panels[:-1]) * self.px
        self.wanted = ticket["resolution"]["wanted"]
        self.dpi = ticket["dpi"]

    def distances(self, boxes):
        """Of boxes (left, top, right, bottom) from the four sides of the trim, in mm; negative beyond it."""
        return np.column_stack([boxes[:, :2] - self.trim[:2], self.trim[2:] - boxes[:, 2:]]) / self.px


def read(file):
    page = cv2.imread(str(file), cv2.IMREAD_COLOR)
    if page is None:
        sys.exit(f"{file}: cannot be read")
    return page


def paper_mask(page):
    """True where there is ink. Paper is white, or what most of the page's light pixels are."""
    paper = np.median(page[::16, ::16][page[::16, ::16].min(axis=2) > 200], axis=0) if page.max() > 200 else (255,) * 3
    if np.isnan(paper).any():
        paper = (255, 255, 255)
    low = np.clip(np.array(paper) - PAPER_STEP, 0, 255)
    return cv2.bitwise_not(cv2.inRange(page, tuple(low.tolist()), (255, 255, 255)))


def things(mask, least=4):
    """Boxes (left, top, right, bottom) of connected ink, without the ground and specks."""
    _, _, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8, ltype=cv2.CV_32S)
    boxes = stats[1:, :4][stats[1:, cv2.CC_STAT_AREA] >= least]
    boxes[:, 2:] += boxes[:, :2]
    return boxes


def on_grounds(page, ink, job):
    """Ink that stands on paper or on large colour: what differs in any channel from the ground around it, which is the
    median of a reduced page, so that red type on green of the same grey is seen and letters do not colour it."""
    shrink = max(1, int(job.dpi / 75))
    small = cv2.resize(page, None, fx=1 / shrink, fy=1 / shrink, interpolation=cv2.INTER_AREA)
    ground = cv2.resize(cv2.medianBlur(small, 15), (job.width, job.height), interpolation=cv2.INTER_LINEAR)
    blue, green, red = cv2.split(cv2.absdiff(page, ground))
    step = cv2.max(cv2.max(blue, green), red)
    return cv2.bitwise_and(cv2.compare(step, INK_STEP, cv2.CMP_GT), ink)


def lines_of(mask, job):
    """Letters joined to lines of type: gaps as wide as a word space closed."""
    gap = cv2.getStructuringElement(cv2.MORPH_RECT, (max(3, int(job.dpi / 16)) | 1, 1))
    return things(cv2.morphologyEx(mask, cv2.MORPH_CLOSE, gap), least=20)


def band_findings(boxes, job, kind):
    """Things between trim and safe zone, or cut; those that go out to the canvas are bleed, not live matter."""
    outside = (boxes[:, 0] <= 1) | (boxes[:, 1] <= 1) | (boxes[:, 2] >= job.width - 1) | (boxes[:, 3] >= job.height - 1)
    distance = job.distances(boxes)
    nearest = distance.min(axis=1)
    near = np.flatnonzero((nearest < job.safe / job.px - 0.05) & ~outside)
    return [{"check": "safe-zone", "kind": kind, "box_px": boxes[i].tolist(), "measured_mm": round(float(nearest[i]), 3),
             "edge": ("left", "top", "right", "bottom")[int(distance[i].argmin())]} for i in near]


def runs(wrong, least):
    """(begin, end) of stretches of True of at least that length."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], wrong.astype(np.int8), [0]])))
    return [(int(a), int(b)) for a, b in edges.reshape(-1, 2) if b - a >= least]


def bleed_findings(ink, job):
    """Along each edge: how far colour that lies just inside the trim goes on outwards, column by column."""
    found = []
    inside, bleed = int(SLIVER_MM * job.px), int(round(job.bleed))
    depth = inside + bleed
    sides = {"top": ink[:depth], "bottom": ink[::-1][:depth], "left": ink.T[:depth], "right": ink.T[::-1][:depth]}
    for edge, strip in sides.items():
        paper = strip[::-1] == 0  # from inside the trim outwards
        first = np.where(paper.any(axis=0), paper.argmax(axis=0), depth)  # rows of colour before paper
        short = (first > 0) & (first < depth)
        for begin, end in runs(short, max(3, int(2 * job.px))):
            reach = (np.median(first[begin:end]) - inside) / job.px
            found.append({"check": "bleed", "kind": "sliver" if reach < 0 else "short-bleed", "edge": edge,
                          "from_px": begin, "to_px": end, "measured_mm": round(float(reach), 3)})
    return found


def fold_findings(grey, lines, job):
    found = []
    for number, fold in enumerate(job.folds, 1):
        across = (lines[:, 0] < fold) & (lines[:, 2] > fold) & (lines[:, 3] - lines[:, 1] < job.dpi / 2)
        found += [{"check": "folds", "kind": "text-across-fold", "fold": number, "box_px": lines[i].tolist()}
                  for i in np.flatnonzero(across)]
        reach = int(FOLD_BREAK_MM * job.px)
        strip = grey[:, max(0, int(fold) - reach):int(fold) + reach]
        steps = np.abs(cv2.Sobel(strip, cv2.CV_16S, 1, 0, ksize=3))
        share = (steps > 200).mean(axis=0)
        best = int(share.argmax())
        offset = (best - reach) / job.px
        if share[best] > 0.5 and abs(offset) > 0.5:
            found.append({"check": "folds", "kind": "colour-break-off-fold", "fold": number,
                          "measured_mm": round(float(offset), 3)})
    return found


def picture_boxes(grey, job):
    """Regions of many grey levels, looked for on a reduced page."""
    shrink = max(1, int(job.dpi / 40))
    small = cv2.resize(grey, None, fx=1 / shrink, fy=1 / shrink, interpolation=cv2.INTER_NEAREST)
    busy = entropy(small, disk(4)) > GREY_BITS
    busy = cv2.morphologyEx(busy.astype(np.uint8), cv2.MORPH_OPEN, np.ones((9, 9), np.uint8))
    return [np.array([left, top, right, bottom]) * shrink
            for top, left, bottom, right in (r.bbox for r in regionprops(label(busy)) if r.area > 400)]


def period(part):
    """In columns, of what interpolation leaves in the second differences along the rows; None where none stands out."""
    differences = np.abs(np.diff(part, 2, axis=1)).mean(axis=0)
    spectrum = np.abs(np.fft.rfft((differences - differences.mean()) * np.hanning(differences.size)))
    low = spectrum.size // 20
    peak = low + int(spectrum[low:].argmax())
    return float(differences.size / peak) if spectrum[peak] > 12 * np.median(spectrum[low:]) else None


def enlargement(grey, box):
    """The factor by which a picture was enlarged, where both axes agree on it (the method: Gallagher, Detection of
    linear and cubic interpolation in JPEG compressed images, CRV 2005; from memory)."""
    left, top, right, bottom = box
    part = grey[top:bottom, left:right][:2048, :2048].astype(np.float32)
    if min(part.shape) < 128:
        return None
    across, down = period(part), period(part.T)
    return (across + down) / 2 if across and down and abs(across - down) < 0.1 * across else None


def resolution_findings(grey, pictures, job):
    images = [{"box_px": box.tolist(), "enlarged": enlargement(grey, box)} for box in pictures]
    low = [i for i in images if i["enlarged"] and job.dpi / i["enlarged"] < job.wanted]
    return images, [{"check": "resolution", "kind": "low-ppi", "box_px": i["box_px"],
                     "measured_ppi": round(job.dpi / i["enlarged"], 1)} for i in low]


def draw(page, job, findings, file):
    scale = min(1.0, 1600 / max(page.shape[:2]))
    small = cv2.resize(page, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    dimmed = cv2.cvtColor(cv2.convertScaleAbs(cv2.cvtColor(small, cv2.COLOR_BGR2GRAY), None, 0.48, 132), cv2.COLOR_GRAY2BGR)
    corners = (job.trim * scale).round().astype(int)
    safe = (np.array([1, 1, -1, -1]) * job.safe * scale + corners).round().astype(int)
    cv2.rectangle(dimmed, tuple(corners[:2].tolist()), tuple(corners[2:].tolist()), (178, 114, 0), 2)
    cv2.rectangle(dimmed, tuple(safe[:2].tolist()), tuple(safe[2:].tolist()), (115, 158, 0), 1)
    for fold in job.folds:
        cv2.line(dimmed, (int(fold * scale), 0), (int(fold * scale), dimmed.shape[0]), (167, 121, 204), 1)
    for number, finding in enumerate(findings, 1):
        box = (np.array(finding.get("box_px", [10, 10, 20, 20])) * scale).astype(int).tolist()
        cv2.rectangle(dimmed, tuple(box[:2]), tuple(box[2:]), (0, 94, 213), 2)
        cv2.putText(dimmed, str(number), (box[0], max(12, box[1] - 4)), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (0, 0, 0), 1)
    cv2.imwrite(str(file), dimmed)


def main():
    page_file, ticket_file, out = map(pathlib.Path, sys.argv[1:])
    page = read(page_file)
    job = Job(json.loads(ticket_file.read_text()), page.shape)
    ink = paper_mask(page)
    boxes = things(ink)
    boxes = boxes[(boxes[:, 2:] - boxes[:, :2]).max(axis=1) > job.dpi / 6]  # letters are told by their lines
    grey = cv2.cvtColor(page, cv2.COLOR_BGR2GRAY)
    standing = on_grounds(page, ink, job)
    pictures = picture_boxes(grey, job)
    for left, top, right, bottom in pictures:  # type on pictures cannot be told from them
        standing[top:bottom, left:right] = 0
    lines = lines_of(standing, job)
    images, low = resolution_findings(grey, pictures, job)
    findings = band_findings(boxes, job, "matter-in-band") + band_findings(lines, job, "text-in-band")
    findings += bleed_findings(ink, job) + fold_findings(grey, lines, job) + low
    out.mkdir(parents=True, exist_ok=True)
    (out / f"{page_file.stem}.findings.json").write_text(json.dumps({"images": images, "findings": findings}, indent=1))
    draw(page, job, findings, out / f"{page_file.stem}.overlay.png")


if __name__ == "__main__":
    main()
