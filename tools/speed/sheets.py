"""The fixed set of pages, and what they are pages of."""
import json
import math
from dataclasses import dataclass

INCH = 25.4


@dataclass(frozen=True)
class Sheet:
    """A job's sheet in millimetres; its canvas is trim and bleed."""

    trim: tuple
    bleed: float = 3.0
    safe: float = 5.0
    folded: bool = True

    @property
    def canvas(self):
        return self.trim[0] + 2 * self.bleed, self.trim[1] + 2 * self.bleed

    def pixels(self, dpi):
        return tuple(math.floor(side * dpi / INCH + 0.5) for side in self.canvas)

    def ticket(self, dpi):
        width, height = self.trim
        job = {"frisket_ticket": 1, "name": "Saltmarsh walks", "trim": [width, height], "bleed": self.bleed,
               "safe": self.safe, "dpi": dpi, "resolution": {"wanted": 150, "least": 100}}
        if self.folded:
            job["folds"] = {"panels": [width / 3] * 3}
        return json.dumps(job, indent=1) + "\n"


LETTER = Sheet((11 * INCH, 8.5 * INCH), bleed=0.125 * INCH, safe=0.25 * INCH)
A3 = Sheet((420.0, 297.0))
POSTER = Sheet((1189.0 - 6, 841.0 - 6))  # the canvas, bleed and all, is an A0 sheet: 139 megapixels at 300 dpi
CARD = Sheet((19.4, 19.4), safe=2.0, folded=False)  # 100 x 100 px at 100 dpi


@dataclass(frozen=True)
class Page:
    name: str  # of the file, with its ending
    what: str
    source: str  # what is drawn: a name in making.py
    sheet: Sheet
    dpi: int = 300
    role: str = "normal"  # normal: held to the bounds on time; hard: held to a normal page; largest, large: to those on memory

    @property
    def megapixels(self):
        width, height = self.sheet.pixels(self.dpi)
        return width * height / 1e6

    @property
    def kind(self):
        """png, jpg, lzw, plain, cmyk or bilevel."""
        stem, ending = self.name.rsplit(".", 1)
        found = [kind for kind in ("lzw", "plain", "cmyk") if stem.endswith("-" + kind)]
        return ending if ending != "tif" else found[0] if found else "bilevel"

    @property
    def ticket(self):
        return self.name + ".ticket.json"


FULL = (
    Page("letter.png", "letter, leaflet, PNG", "leaflet", LETTER),
    Page("letter-lzw.tif", "letter, leaflet, LZW TIFF", "leaflet", LETTER),
    Page("letter-plain.tif", "letter, leaflet, plain TIFF", "leaflet", LETTER, role="shown"),
    Page("letter.jpg", "letter, leaflet, JPEG", "leaflet", LETTER, role="shown"),
    Page("letter-cmyk.tif", "letter, leaflet, CMYK TIFF", "leaflet", LETTER, role="shown"),
    Page("type.png", "letter, type on white, PNG", "type", LETTER),
    Page("photograph.png", "letter, photograph, PNG", "photograph", LETTER),
    Page("line-work.png", "letter, dense line work, PNG", "line-work", LETTER),
    Page("scan.png", "letter, noisy scan, PNG", "scan", LETTER),
    Page("a3.png", "A3, leaflet, PNG", "leaflet", A3),
    Page("a3-lzw.tif", "A3, leaflet, LZW TIFF", "leaflet", A3),
    Page("a0-150.png", "A0 at 150 dpi, leaflet, PNG", "leaflet", POSTER, 150),
    Page("a0-150-lzw.tif", "A0 at 150 dpi, leaflet, LZW TIFF", "leaflet", POSTER, 150),
    Page("a0-300.png", "A0 at 300 dpi, leaflet, PNG", "leaflet", POSTER, role="largest"),
    Page("a0-300-lzw.tif", "A0 at 300 dpi, leaflet, LZW TIFF", "leaflet", POSTER, role="largest"),
    Page("letter-1200.tif", "letter at 1200 dpi, bilevel TIFF", "type", LETTER, 1200, role="large"),
    Page("specks.png", "letter, 100,000 specks, PNG", "specks", LETTER, role="hard"),
    Page("checkerboard.png", "letter, 1 px checkerboard, PNG", "checkerboard", LETTER, role="hard"),
    Page("noise.png", "letter, noise, PNG", "noise", LETTER, role="hard"),
    Page("card.png", "100 x 100 px, PNG", "card", CARD, 100, role="start"),
)

SMALL = (
    Page("small.png", "letter at 60 dpi, leaflet, PNG", "leaflet", LETTER, 60),
    Page("small-lzw.tif", "letter at 60 dpi, leaflet, LZW TIFF", "leaflet", LETTER, 60),
    Page("small-cmyk.tif", "letter at 60 dpi, leaflet, CMYK TIFF", "leaflet", LETTER, 60, role="shown"),
    Page("small-scan.png", "letter at 60 dpi, noisy scan, PNG", "scan", LETTER, 60),
    Page("small-specks.png", "letter at 60 dpi, specks, PNG", "specks", LETTER, 60, role="hard"),
    Page("card.png", "100 x 100 px, PNG", "card", CARD, 100, role="start"),
)

SETS = {"full": FULL, "small": SMALL}
