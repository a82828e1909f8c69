"""Small pages for trying runs over many of them: the same for the same numbers."""
import pathlib
import random

from PIL import Image, ImageDraw

TICKET = """{ "frisket_ticket": 1, "name": "Saltmarsh Press, tide cards", "trim": [60, 40], "bleed": 3, "safe": 4,
  "resolution": {"wanted": 100, "least": 100} }
"""
DPI = 100


def page(number):
    """A page of 66 x 46 mm: a block and bars; on every third something stands too near the top trim."""
    width, height = round(66 / 25.4 * DPI), round(46 / 25.4 * DPI)
    picture = Image.new("RGB", (width, height), "white")
    draw = ImageDraw.Draw(picture)
    chance = random.Random(number)
    draw.rectangle([60, 60, 140, 100], fill=tuple(chance.randrange(200) for _ in "rgb"))
    for bar in range(5):
        draw.rectangle([60, 110 + bar * 8, 60 + chance.randrange(20, 120), 113 + bar * 8], fill="black")
    if number % 3 == 0:
        draw.rectangle([100, 20, 150, 40], fill="black")
    return picture


def break_file(file, how):
    """Five ways in which files arrive broken. All are told by frisket, none is a page."""
    whole = file.read_bytes()
    if how == 0:
        file.write_bytes(b"")
    elif how == 1:
        file.write_bytes(whole[:len(whole) // 2])
    elif how == 2:
        file.write_bytes(b"See the attached file.\n")
    elif how == 3:
        Image.open(file).save(file, "PNG")  # says no resolution
    else:
        damaged = bytearray(whole)
        for at in range(len(whole) // 2, len(whole) // 2 + 40):
            damaged[at] ^= 0x5A
        file.write_bytes(damaged)


def fill(folder, pages, broken):
    """`pages` pages, `broken` of them broken, in `folder` and two folders within; gives the names of the broken."""
    folder = pathlib.Path(folder)
    (folder / "cards/back").mkdir(parents=True)
    (folder / "ticket.json").write_text(TICKET)
    (folder / "notes.txt").write_text("Not a page.\n")
    files = []
    for number in range(1, pages + 1):
        inner = ("", "cards/", "cards/back/")[number % 3]
        files.append(f"{inner}page{number}.png")
        page(number).save(folder / files[-1], dpi=(DPI, DPI))
    chosen = random.Random(7).sample(files, broken)
    for how, name in enumerate(chosen):
        break_file(folder / name, how % 5)
    return set(chosen)


def tree(folder):
    """Every file below `folder`, hidden ones as well, with its bytes."""
    folder = pathlib.Path(folder)
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
