"""Sheets with marks: their style, weight, colour, offset, dashes and skew drawn from a seed.

How marks are drawn is common practice; there is no source for it.
"""
import dataclasses
import math

import artwork
from drawing import Sheet

DPI = 300
TRIMS = [(210, 297), (297, 210), (148, 210), (105, 148), (99, 210), (279.4, 215.9), (85, 55), (215.9, 279.4), (200, 200)]
INKS = [(0, 0, 0), (0, 0, 0), (0.14, 0.12, 0.13), (0, 0.68, 0.94), (0.93, 0, 0.55), (0.8, 0.1, 0.1), (0, 0.3, 0.6),
        (0, 0.45, 0.2), (0.9, 0.45, 0), (0.95, 0.85, 0)]
DASHES = [(1, 0.5), (2, 1), (0.8, 0.8), (1.5, 0.7)]


@dataclasses.dataclass
class Truth:
    trim: tuple  # mm
    bleed: float
    skew: float  # degrees clockwise
    middle: tuple  # of the trim on the sheet, mm from its top left
    what: str
    folds: list = dataclasses.field(default_factory=list)
    tell_bleed: bool = True

    def corners(self):
        angle = math.radians(self.skew)
        c, s = math.cos(angle), math.sin(angle)
        for x in (-self.trim[0] / 2, self.trim[0] / 2):
            for y in (-self.trim[1] / 2, self.trim[1] / 2):
                yield self.middle[0] + c * x - s * y, self.middle[1] + s * x + c * y


class Marks:
    """The marks of one sheet, all in one pen."""

    def __init__(self, sheet, rng, box, bleed):
        self.sheet, self.rng, self.bleed = sheet, rng, bleed
        self.x, self.y, self.width, self.height = box
        self.weight = rng.uniform(0.1, 0.5)
        self.ink = rng.choice(INKS)
        self.dash = rng.choice(DASHES) if rng.random() < 0.25 else None
        self.offset = rng.choice([bleed + rng.uniform(0, 1.5), rng.uniform(1, 5), max(bleed, 2.0)])
        self.length = rng.uniform(max(4.0, 3.2 * sum(self.dash) if self.dash else 4.0), 9.0)

    def line(self, *ends, dash=None):
        self.sheet.line(*ends, self.weight, self.ink, dash or self.dash)

    def out_of(self, corner):
        """The corner and the ways out of it: -1 to the left or up."""
        right, low = corner
        return self.x + self.width * right, self.y + self.height * low, 2 * right - 1, 2 * low - 1

    def corner(self, corner, offset, shift=0.0):
        """Two lines out of a corner; `shift` moves each outwards beside itself, as for marks of the bleed."""
        x, y, right, down = self.out_of(corner)
        far = offset + self.length
        self.line(x + right * shift, y + down * offset, x + right * shift, y + down * far)
        self.line(x + right * offset, y + down * shift, x + right * far, y + down * shift)

    def angled(self, corner):
        """Trim and bleed in one: two angles that cross, the leg of each ending at the other's line."""
        x, y, right, down = self.out_of(corner)
        bleed, far = max(self.bleed, 2.0), max(self.bleed, 2.0) + self.length
        for a, b in ((0.0, bleed), (bleed, 0.0)):
            self.line(x + right * a, y + down * far, x + right * a, y + down * b)
            self.line(x + right * a, y + down * b, x + right * far, y + down * b)

    def across_sides(self, at_x, at_y, dash=None):
        """Marks square to the sides at some of their places, on both sides."""
        near, far = self.offset, self.offset + min(self.length, 6.0)
        for x in at_x:
            self.line(x, self.y - far, x, self.y - near, dash=dash)
            self.line(x, self.y + self.height + near, x, self.y + self.height + far, dash=dash)
        for y in at_y:
            self.line(self.x - far, y, self.x - near, y, dash=dash)
            self.line(self.x + self.width + near, y, self.x + self.width + far, y, dash=dash)

    def registration(self):
        middle_x, middle_y = self.x + self.width / 2, self.y + self.height / 2
        away = self.offset + 3.5
        for x, y in ((middle_x, self.y - away), (middle_x, self.y + self.height + away), (self.x - away, middle_y),
                     (self.x + self.width + away, middle_y)):
            self.sheet.line(x - 3, y, x + 3, y, 0.1, (0, 0, 0))
            self.sheet.line(x, y - 3, x, y + 3, 0.1, (0, 0, 0))
            self.sheet.circle(x, y, 1.6, 0.15, (0, 0, 0))


def corners_drawn(rng):
    every = [(0, 0), (1, 0), (0, 1), (1, 1)]
    lot = rng.random()
    if lot < 0.08:
        return [(0, 0), (1, 1)] if rng.random() < 0.5 else [(1, 0), (0, 1)], "two corners"
    if lot < 0.2:
        return rng.sample(every, 3), "three corners"
    return every, ""


def draw_marks(marks, rng, trim):
    """Returns what was drawn, in words, and the folds."""
    told, folds = [], []
    corners, lacking = corners_drawn(rng)
    style = rng.choices(["plain", "double", "angled"], [6, 2, 1])[0]
    told += [style] + [lacking] * bool(lacking)
    for corner in corners:
        if style == "angled":
            marks.dash = None
            marks.angled(corner)
            continue
        marks.corner(corner, max(marks.offset, marks.bleed) if style == "double" else marks.offset)
        if style == "double" and marks.bleed > 1:
            marks.corner(corner, max(marks.offset, marks.bleed), marks.bleed)
    if rng.random() < 0.4:
        marks.across_sides([marks.x + trim[0] / 2], [marks.y + trim[1] / 2])
        told.append("centre marks")
    elif rng.random() < 0.4:
        marks.registration()
        told.append("registration marks")
    if trim[0] > 140 and rng.random() < 0.5:
        folds = [round(trim[0] / 3 - 1, 2), round(trim[0] * 2 / 3, 2)]
        marks.across_sides([marks.x + fold for fold in folds], [], dash=rng.choice(DASHES))
        told.append("fold marks")
    return told, folds


def draw_slug(sheet, rng):
    """What the marks stand on: in words, and its colour."""
    slug = rng.choices(["paper", "tint", "colour", "picture"], [65, 20, 10, 5])[0]
    ground = {"paper": (1, 1, 1), "tint": artwork.pale(rng), "colour": artwork.full(rng), "picture": (0.47,) * 3}[slug]
    if slug == "picture":
        sheet.picture(0, 0, sheet.width, sheet.height, artwork.photograph(rng, int(sheet.width * 3), int(sheet.height * 3)))
    elif slug != "paper":
        sheet.rectangle(0, 0, sheet.width, sheet.height, ground)
    return slug, ground


def ink_on(ground, rng):
    """One that can be seen on it; on colour it may be white. On a picture black or white."""
    if ground == (0.47,) * 3:
        return rng.choice([(0, 0, 0), (1, 1, 1)])
    seen = [ink for ink in [*INKS, (1, 1, 1), (1, 1, 1)] if max(abs(a - b) for a, b in zip(ink, ground)) >= 0.4]
    return rng.choice(seen)


def make(rng):
    """A sheet and its truth."""
    trim = rng.choice(TRIMS) if rng.random() < 0.7 else (rng.uniform(60, 300), rng.uniform(50, 300))
    bleed = rng.choice([0.0, 2.0, 3.0, 3.0, 3.175, 5.0])
    room = [rng.uniform(17, 30) for _ in range(4)]
    sheet = Sheet(round((trim[0] + room[0] + room[1]) / 25.4 * DPI), round((trim[1] + room[2] + room[3]) / 25.4 * DPI))
    skew = rng.uniform(-1, 1) if rng.random() < 0.5 else 0.0
    box = (room[0] + rng.uniform(0, 0.2), room[2] + rng.uniform(0, 0.2), *trim)
    slug, ground = draw_slug(sheet, rng)
    sheet.turn(skew)
    marks = Marks(sheet, rng, box, bleed)
    marks.ink = ink_on(ground, rng)
    # A picture may go on past the bleed, right up to where the marks begin.
    up_to_marks = rng.random() < 0.3
    artwork.body(sheet, rng, box, max(bleed, marks.offset) if up_to_marks else bleed)
    told, folds = draw_marks(marks, rng, trim)
    away = marks.offset + marks.length + 1.5
    if rng.random() < 0.7:
        artwork.slug_text(sheet, rng, box[0] + rng.uniform(2, 20), box[1] - marks.offset - 1.0 - rng.uniform(0, 3))
    if rng.random() < 0.4:
        artwork.slug_text(sheet, rng, box[0] - away, box[1] + trim[1] * 0.6, upwards=True)
    if rng.random() < 0.5:
        artwork.colour_bar(sheet, rng, box[0] + 8, box[1] + trim[1] + marks.offset + 2.5, trim[0] * 0.4 - 10, True)
    if rng.random() < 0.3:
        artwork.colour_bar(sheet, rng, box[0] + trim[0] + marks.offset + 2.5, box[1] + 8, trim[1] * 0.4 - 10, False)
    if marks.dash:
        told.append(f"dashed {marks.dash}")
    told += [f"{marks.weight:.2f} mm", f"ink {marks.ink}", f"offset {marks.offset:.1f}", f"length {marks.length:.1f}"]
    told += [slug] * (slug != "paper") + ["picture up to the marks"] * up_to_marks
    return sheet, Truth(trim, bleed, skew, turned(sheet, box, skew), ", ".join(told), folds, rng.random() < 0.8)


def turned(sheet, box, skew):
    """The middle of the trim once the sheet is turned about its own."""
    angle = math.radians(skew)
    x, y = box[0] + box[2] / 2 - sheet.width / 2, box[1] + box[3] / 2 - sheet.height / 2
    return (sheet.width / 2 + math.cos(angle) * x - math.sin(angle) * y,
            sheet.height / 2 + math.sin(angle) * x + math.cos(angle) * y)
