"""Live matter: a thing with its ink measured, ready to be laid on a page in any ink."""
from dataclasses import dataclass, field
from typing import Callable

import colours
import drawing
import ink
import shapes
import type_matter
from job import Box

BLACK = "#000000"
EFFECTS = ("plain", "outlined", "shadow", "glow", "translucent")
LONGEST = 90.0  # mm


@dataclass
class Matter:
    kind: str  # text, drawing or picture
    name: str  # what the figures are split by
    parts: list  # drawings of (ink, second): one, or the lines of a block
    effect: str = "plain"
    straight: bool = False  # has straight sides, of 5 mm and more
    opacity: float = 1.0
    second: Callable = None  # second colour for an ink and a ground; None: that of the ground
    inks: list = field(default_factory=list)  # measured, one a part

    @property
    def box(self):
        box = self.inks[0].box
        for part in self.inks[1:]:
            box = box.united(part.box)
        return box

    def draw(self, colour, second, serial):
        plain = "".join(part(colour, second) for part in self.parts)
        if self.effect == "translucent":
            return drawing.tag("g", plain, opacity=self.opacity)
        if self.effect not in ("shadow", "glow"):
            return plain
        return soft_copy(self, colour, serial) + plain


def soft_copy(matter, colour, serial):
    """The blurred copy under an element; no ink of its own."""
    height = min(matter.box.width, matter.box.height)
    blur, shift = min(max(height * 0.06, 0.15), 0.9), min(max(height * 0.06, 0.1), 1.0)
    light = matter.effect == "glow" and colours.luma(colour) < 0.5
    under = "#ffffff" if light else "#000000"
    area = matter.box.grown(6 * blur + shift)
    definition = drawing.tag(
        "filter",
        drawing.tag("feGaussianBlur", stdDeviation=float(blur)),
        id=f"soft{serial}",
        filterUnits="userSpaceOnUse",
        x=area.left,
        y=area.top,
        width=area.width,
        height=area.height,
    )
    copy = "".join(part(under, under) for part in matter.parts)
    if matter.effect == "shadow":
        copy = drawing.moved(copy, shift, shift)
    return definition + drawing.tag("g", copy, filter=f"url(#soft{serial})", opacity=0.5)


def measured(matter, folder):
    matter.inks = [ink.measure(part(BLACK, BLACK), folder) for part in matter.parts]
    return matter


def text_parts(rng, chosen, words, turn, outlined):
    look = {}
    if outlined:
        look = {"fill": "none", "stroke_width": float(max(0.15, chosen.size * 0.025))}

    def part(row, line):
        def draw(colour, second):
            paint = dict(look, stroke=colour) if outlined else {"fill": colour}
            return drawing.turned(chosen.line(line, y=row * chosen.size * 1.25, **paint), turn)

        return draw

    return [part(row, line) for row, line in enumerate(words)]


def some_text(rng, room, largest, turned_too=True, lines=None):
    """Type of any face, size and script: lines, blocks, turned, outlined, spaced or on an arc."""
    turn = rng.choices((0, 90, 270, rng.uniform(-40, 40)), weights=(70, 8, 8, 14))[0] if turned_too else 0
    count = lines or rng.choices((1, 2, 3, 4), weights=(70, 12, 10, 8))[0]
    if count > 1:
        largest = min(largest, 16 * type_matter.PT)
    script, chosen, words = type_matter.lines(rng, room, largest, count=count)
    effect = rng.choices(EFFECTS, weights=(70, 6, 9, 7, 8))[0]
    if effect == "outlined" and chosen.size < 14 * type_matter.PT:
        effect = "plain"
    name = {"latin": "type", "script": "script face"}.get(script, script)
    if script in ("latin", "script", "cjk") and count == 1 and rng.random() < 0.12:
        chosen.spacing = chosen.size * rng.uniform(0.1, 0.4)
        words = [words[0][: max(3, len(words[0]) * 2 // 3)]]
        name = "letter-spaced"
    if script == "latin" and count == 1 and turn == 0 and rng.random() < 0.08:
        chosen.size, chosen.spacing = min(chosen.size, 24 * type_matter.PT), 0
        radius = chosen.size * rng.uniform(2.2, 4.0)
        curved = words[0][:10]
        return Matter(
            "text",
            "on a curve",
            [lambda colour, second: type_matter.arc(chosen, curved, radius, fill=colour)],
        )
    if turn and name == "type":
        name = "type turned by 90" if turn in (90, 270) else "type at an angle"
    if count > 1 and name == "type":
        name = "block of lines"
    parts = text_parts(rng, chosen, words, turn, effect == "outlined")
    return Matter("text", name, parts, effect, opacity=rng.uniform(0.5, 0.8))


def label(rng, room, largest):
    """Type knocked out of a box of its own."""
    _, chosen, words = type_matter.lines(rng, room - 4, min(largest, 22 * type_matter.PT), script="latin")
    width, height = len(words[0]) * chosen.size * 0.62 + 2, chosen.size * 1.6
    corner = rng.choice((0.0, 0.0, height / 4, height / 2))

    def draw(colour, second):
        box = drawing.rect(Box(0, 0, width, height), rx=corner, fill=colour)
        return box + drawing.moved(
            chosen.line(words[0], fill=second, text_anchor="middle"), width / 2, height * 0.68
        )

    return Matter("drawing", "knocked-out label", [draw], straight=True)


def picture(rng, largest, pictures):
    width = rng.uniform(8, max(9, min(30, largest)))
    height = width * rng.uniform(0.6, 1.2)
    name, _ = pictures.write(width, height)
    box = Box(0, 0, width, height)
    keyline = rng.uniform(0.4, 1.0) if rng.random() < 0.5 else 0.0

    def draw(colour, second):
        if colour == BLACK == second:
            return drawing.rect(box.grown(keyline), fill=colour)
        under = drawing.rect(box.grown(keyline), fill="#ffffff") if keyline else ""
        return under + drawing.picture(name, box)

    return Matter("picture", "picture in a keyline" if keyline else "small picture", [draw], straight=True)


def some_drawing(rng, largest):
    size = rng.uniform(4, max(5, min(25, largest)))
    name, maker = rng.choice(
        (
            ("logo", shapes.logo),
            ("icon", shapes.icon),
            ("badge", shapes.badge),
            ("square code in a box", shapes.boxed_code),
            ("square code", shapes.bare_code),
        )
    )
    draw, straight = maker(rng, size)
    matter = Matter("drawing", name, [draw], straight=straight)
    if name in ("logo", "badge", "icon"):
        matter.effect = rng.choices(("plain", "shadow", "glow", "translucent"), weights=(80, 8, 5, 7))[0]
        matter.opacity = rng.uniform(0.5, 0.8)
    return matter


def some_matter(rng, job, pictures, folder, room=None, largest=None):
    """Any live matter that may fit the job."""
    room = room or min(LONGEST, rng.uniform(0.25, 0.8) * job.safe_zone.width)
    largest = largest or 0.35 * min(job.safe_zone.width, job.safe_zone.height)
    kind = rng.choices(("text", "label", "drawing", "picture"), weights=(62, 6, 24, 8))[0]
    if kind == "text":
        return measured(some_text(rng, room, largest), folder)
    if kind == "label":
        return measured(label(rng, room, largest), folder)
    if kind == "drawing":
        return measured(some_drawing(rng, largest), folder)
    return measured(picture(rng, largest, pictures), folder)
