"""Type: lines, blocks, labels and arcs in many faces and scripts, as SVG in black or in an ink."""
import math
import subprocess
import sys
from dataclasses import dataclass

import drawing

PT = 25.4 / 72
LATIN = (
    "EB Garamond 12",
    "Lato",
    "Vollkorn",
    "DejaVu Sans",
    "DejaVu Serif",
    "Nimbus Roman",
    "Nimbus Sans Narrow",
    "URW Gothic",
    "P052",
)
SCRIPTS = {  # kind: (families, words, width of a letter in ems)
    "latin": (
        LATIN,
        (
            "Harbour",
            "Lantern",
            "tide table",
            "Open daily",
            "Quay 7",
            "since 1904",
            "Marigold & Finch",
            "evening sail",
            "Saturday",
            "from 12.50",
            "Pilot House",
            "ferry times",
            "No. 5",
            "to the light",
        ),
        0.5,
    ),
    "script": (
        ("Z003", "Lobster Two"),
        ("Harbour Lights", "with love", "Marigold", "Summer Fair", "you are invited"),
        0.45,
    ),
    "cjk": (("WenQuanYi Micro Hei",), ("港口の市場", "灯台", "夏の祭り", "海辺的小屋", "每日开放", "船の時間"), 1.0),
    "arabic": (("Amiri",), ("سوق الميناء", "مفتوح يوميا", "منارة البحر", "مرحبا"), 0.45),
    "devanagari": (("Lohit Devanagari",), ("बंदरगाह बाज़ार", "रोज़ खुला", "दीपस्तंभ", "स्वागत है"), 0.55),
}
PACKAGES = {
    "EB Garamond 12": "fonts-ebgaramond",
    "Lato": "fonts-lato",
    "Vollkorn": "fonts-vollkorn",
    "DejaVu Sans": "fonts-dejavu-core",
    "DejaVu Serif": "fonts-dejavu-core",
    "Nimbus Roman": "fonts-urw-base35",
    "Nimbus Sans Narrow": "fonts-urw-base35",
    "URW Gothic": "fonts-urw-base35",
    "P052": "fonts-urw-base35",
    "Z003": "fonts-urw-base35",
    "Lobster Two": "fonts-lobster",
    "WenQuanYi Micro Hei": "fonts-wqy-microhei",
    "Amiri": "fonts-hosny-amiri",
    "Lohit Devanagari": "fonts-lohit-deva",
}
# None that a face does not have: the bold that a renderer makes up lies half a millimetre and more elsewhere in
# cairo's PDF than in librsvg's picture, which is the truth here.
WEIGHTS = {
    "Lato": (100, 300, 400, 700, 900),
    "Vollkorn": (400, 600, 900),
    "Z003": (400, 400),
    "WenQuanYi Micro Hei": (400, 400),
    "Lohit Devanagari": (400, 400),
}


def require_fonts():
    """A font that is missing is replaced without a word, and the pages are then not those of the seed."""
    for family, package in PACKAGES.items():
        found = subprocess.run(
            ["fc-match", "--format=%{family}", family], capture_output=True, text=True, check=True
        )
        if family not in found.stdout:
            sys.exit(f"detect: the font {family} is not installed: apt-get install {package}")


@dataclass
class Face:
    family: str
    weight: int
    size: float  # mm to the em
    spacing: float = 0.0

    def line(self, words, y=0.0, **attributes):
        return drawing.text(
            words,
            x=0,
            y=float(y),
            font_family=self.family,
            font_size=float(self.size),
            font_weight=self.weight,
            letter_spacing=float(self.spacing) or None,
            **attributes,
        )


def fitting(rng, words, letters):
    """Words of about so many letters; the shortest one there is where none fits."""
    line = rng.choice(words)
    while len(line) < letters * 0.5 and rng.random() < 0.8:
        line += " " + rng.choice(words)
    if len(line) <= letters:
        return line
    short = [w for w in words if len(w) <= letters]
    return rng.choice(short) if short else min(words, key=len)[: max(2, int(letters))]


def face(rng, script, largest):
    family = rng.choice(SCRIPTS[script][0])
    size = PT * math.exp(rng.uniform(math.log(5), math.log(120)))
    return Face(family, rng.choice(WEIGHTS.get(family, (400, 700))), min(size, largest))


def lines(rng, room, largest, script=None, count=1):
    """Lines of type that run right to `room` mm at most: the face and the words of each."""
    script = script or rng.choices(list(SCRIPTS), weights=(6, 1.5, 1.5, 1.2, 1.2))[0]
    chosen = face(rng, script, largest)
    letters = room / (chosen.size * SCRIPTS[script][2])
    return script, chosen, [fitting(rng, SCRIPTS[script][1], letters) for _ in range(count)]


def arc(chosen, words, radius, **attributes):
    """Letters on the upper half of a circle, each turned to stand on it."""
    step = chosen.size * 0.72 / radius
    start = -step * (len(words) - 1) / 2
    return "".join(
        drawing.turned(
            drawing.text(
                letter,
                x=0,
                y=-float(radius),
                text_anchor="middle",
                font_family=chosen.family,
                font_size=float(chosen.size),
                font_weight=chosen.weight,
                **attributes,
            ),
            math.degrees(start + i * step),
        )
        for i, letter in enumerate(words)
        if letter != " "
    )
