"""Draws truth and findings over a page, so that a person can look."""
from PIL import Image, ImageDraw, ImageFont

from truth import box_of

LONGEST = 1500
TRUTH, FINDING = (0, 114, 178), (
    213,
    94,
    0,
)  # Okabe and Ito's blue and vermilion, safe for colour-blind readers
FONT = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"


class Drawn:
    def __init__(self, page, job):
        with Image.open(page) as opened:
            image = opened.convert("RGB")
        scale = min(1.0, LONGEST / max(image.size)) or 1.0
        self.image = image.resize([round(length * scale) for length in image.size])
        self.per_mm = self.image.width / job.canvas.width
        self.canvas, self.pen = job.canvas, ImageDraw.Draw(self.image)
        self.font = ImageFont.truetype(FONT, 13)

    def at(self, box):
        return [
            (box.left - self.canvas.left) * self.per_mm,
            (box.top - self.canvas.top) * self.per_mm,
            (box.right - self.canvas.left) * self.per_mm,
            (box.bottom - self.canvas.top) * self.per_mm,
        ]

    def box(self, box, colour, words, below):
        place = self.at(box)
        self.pen.rectangle(place, outline=colour, width=2)
        y = min(place[3] + 2, self.image.height - 16) if below else max(place[1] - 16, 0)
        at = (max(min(place[0], self.image.width - 8 * len(words)), 0), y)
        self.pen.rectangle(self.pen.textbbox(at, words, font=self.font), fill="white")
        self.pen.text(at, words, fill=colour, font=self.font)


def fault_marks(faults):
    def words(fault):
        distances = fault.measured.values() if isinstance(fault.measured, dict) else [fault.measured]
        measured = "".join(f" {distance:.2f}" for distance in distances if distance is not None)
        return f"{fault.name}: {fault.matter} {'/'.join(fault.severities)}{measured}"

    return [(fault.wholes[0], words(fault)) for fault in faults]


def draw(page, job, marks, findings, out):
    """What is true in blue (boxes with words), findings in vermilion, trim, safe zone and folds in grey."""
    drawn = Drawn(page, job)
    for line in (job.trim, job.safe_zone):
        drawn.pen.rectangle(drawn.at(line), outline=(128, 128, 128))
    for _, vertical, at in job.all_folds():
        ends = drawn.at(job.trim.moved(at, 0) if vertical else job.trim.moved(0, at))
        drawn.pen.line(
            (ends[0], ends[1], ends[0], ends[3]) if vertical else (ends[0], ends[1], ends[2], ends[1]),
            fill=(128, 128, 128),
        )
    for box, words in marks:
        drawn.box(box, TRUTH, words, True)
    for finding in findings:
        measured = finding.get("measured_mm") and round(finding["measured_mm"], 2)
        where = finding["edge"] or f"fold {finding['fold']}"
        drawn.box(
            box_of(finding["whole_mm"]),
            FINDING,
            f"{finding['kind']} {where} {finding['severity']} {measured or ''}",
            False,
        )
    drawn.image.save(out)
