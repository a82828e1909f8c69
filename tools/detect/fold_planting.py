"""Faults at folds and left-in guide lines, laid on a bed of matter."""
import math

import colours
import drawing
import matter as live
from job import Box
from planting import FOLD_CLEARANCE, TRIES, united_boxes
from truth import Fault

# Spaces between letters are narrower than the first, those between words wider than the second; of a line's
# height (common practice, no source), and of its usual space, for type that is letter-spaced.
SPACE_OF_HEIGHT = (0.2, 0.35)
SPACE_OF_USUAL = (1.4, 2.2)


def folds_text(bed):
    return live.measured(live.some_text(bed.rng, bed.rng.uniform(20, 60), 0.2 * bed.job.height), bed.folder)


def random_fold(bed):
    return bed.rng.choice(bed.job.all_folds())


def place_by_fold(bed, box, vertical, across):
    """Left and top of a box that begins at `across` from the fold's axis, at random along the fold."""
    safe = bed.job.safe_zone.grown(-0.2)
    low, high = (safe.top, safe.bottom - box.height) if vertical else (safe.left, safe.right - box.width)
    if high < low:
        return None
    along = bed.rng.uniform(low, high)
    place = (across, along) if vertical else (along, across)
    return place if Box(*place, place[0] + box.width, place[1] + box.height).inside(safe) else None


def severities_across(piece, vertical, at, cut):
    """`fix` through a letter, `review` through a word space.

    Between two letters of one word the fold touches no ink, and yet parts the word: a reader sees half of it on
    either panel, as where a letter is cut, and not two whole words. So it is `fix`. Where a space is as wide as
    either, either is right.
    """
    if cut:
        return ("fix",)
    said = {severity for part in piece.inks for severity in severity_of_space(part, vertical, at)}
    return ("fix",) if said == {"fix"} else ("review",) if said == {"review"} else ("fix", "review")


def severity_of_space(part, vertical, at):
    space, height = part.space_at(vertical, at), min(part.box.width, part.box.height)
    if not math.isfinite(space):
        return ()
    least, most = (
        max(of_height * height, of_usual * part.usual_space(vertical))
        for of_height, of_usual in zip(SPACE_OF_HEIGHT, SPACE_OF_USUAL)
    )
    return ("fix",) if space < least else ("review",) if space > most else ("fix", "review")


def plant_across(bed):
    """Type over a fold: through a letter, or through a space between letters."""
    number, vertical, at = random_fold(bed)
    piece = folds_text(bed)
    start, length = (piece.box.left, piece.box.width) if vertical else (piece.box.top, piece.box.height)
    if length < 2:
        return
    for _ in range(TRIES):
        share = bed.rng.uniform(0.15, 0.85)
        place = place_by_fold(bed, piece.box, vertical, at - share * length)
        cut = [part.crossing(vertical, start + share * length, 0.12) for part in piece.inks]
        # Between two turned lines of a block the fold crosses neither.
        crossed = any(part.lies_over(vertical, start + share * length) for part in piece.inks)
        found = bed.try_at(piece, *place, crossed=number) if place and crossed and None not in cut else None
        if found:
            bed.lay(piece, *found)
            boxes = [part.box.moved(*found[:2]) for part in piece.inks]
            near = [box for box in boxes if not bed.clear_of(box, vertical, at, bed.job.fold_safe)]
            bed.faults.append(
                Fault(
                    "folds",
                    "text across fold",
                    severities_across(piece, vertical, start + share * length, any(cut)),
                    united_boxes(boxes, near),
                    measured=0.0,
                    fold=number,
                    ground=found[2][2],
                    matter=piece.name,
                    effect=piece.effect,
                    is_type=True,
                )
            )
            return


def plant_near(bed):
    """Type within the clear distance of a fold."""
    clear = bed.job.fold_safe
    if clear < 0.8:
        return
    number, vertical, at = random_fold(bed)
    piece, distance = folds_text(bed), bed.rng.uniform(0.2, clear - 0.2)
    length = piece.box.width if vertical else piece.box.height
    for _ in range(TRIES):
        start = at + distance if bed.rng.random() < 0.5 else at - distance - length
        place = place_by_fold(bed, piece.box, vertical, start)
        found = bed.try_at(piece, *place, crossed=number) if place else None
        if found:
            bed.lay(piece, *found)
            boxes = [part.box.moved(*found[:2]) for part in piece.inks]
            near = [box for box in boxes if not bed.clear_of(box, vertical, at, clear)]
            bed.faults.append(
                Fault(
                    "folds",
                    "text near fold",
                    ("review",),
                    united_boxes(boxes, near),
                    measured=distance,
                    fold=number,
                    ground=found[2][2],
                    matter=piece.name,
                    effect=piece.effect,
                    size=clear - distance,
                    is_type=True,
                )
            )
            return


def guide(bed, vertical, at, fault):
    """A thin line over the whole canvas, solid, dashed or dotted; laid before all other matter."""
    rng, canvas = bed.rng, bed.job.canvas
    width = rng.uniform(0.1, 0.35)
    line = (
        Box(at - width / 2, canvas.top, at + width / 2, canvas.bottom)
        if vertical
        else Box(canvas.left, at - width / 2, canvas.right, at + width / 2)
    )
    ink = colours.readable_ink(rng, bed.layout.pixels(line.grown(0.5).clipped(canvas)))
    if ink is None or any(other.grown(0.5).meets(line) for other, _ in bed.occupied):
        return
    dashes = rng.choice((None, None, "3 1.5", f"{width:.3f} {3 * width:.3f}"))
    ends = (at, canvas.top, at, canvas.bottom) if vertical else (canvas.left, at, canvas.right, at)
    bed.paint.append(
        drawing.tag(
            "line",
            x1=float(ends[0]),
            y1=float(ends[1]),
            x2=float(ends[2]),
            y2=float(ends[3]),
            stroke=ink,
            stroke_width=float(width),
            stroke_dasharray=dashes,
        )
    )
    bed.occupied.append((line, bed.job.fold_safe + FOLD_CLEARANCE))
    fault.wholes = [line.clipped(bed.job.trim)]
    fault.ground = bed.layout.ground_at(line) or "several"
    bed.faults.append(fault)


def plant_fold_guide(bed):
    number, vertical, at = random_fold(bed)
    off = bed.rng.uniform(-0.2, 0.2)
    guide(
        bed,
        vertical,
        at + off,
        Fault(
            "folds",
            "guide on fold",
            ("fix",),
            [],
            measured=abs(off),
            fold=number,
            matter="guide",
            thin=True,
        ),
    )


def plant_trim_guide(bed, edge):
    job, vertical = bed.job, edge in ("left", "right")
    at = {"top": 0, "left": 0, "right": job.width, "bottom": job.height}[edge]
    guide(
        bed,
        vertical,
        at,
        Fault(
            "safe-zone",
            "guide on trim",
            ("fix",),
            [],
            measured=0.0,
            edges=(edge,),
            matter="guide",
            thin=True,
        ),
    )
