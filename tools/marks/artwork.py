"""What is printed on a sheet besides its marks: pictures, colour, text, slug lines, colour bars."""
import numpy

WORDS = "harbour lantern yard seven quiet boats along the northern quay where tides turn slowly home".split()


def words(rng, count):
    return " ".join(rng.choice(WORDS) for _ in range(count))


def pale(rng):
    return tuple(rng.uniform(0.86, 0.97) for _ in range(3))


def full(rng):
    return tuple(rng.uniform(0.05, 0.9) for _ in range(3))


def photograph(rng, columns, rows):
    """Octaves of noise with the grain of a photograph."""
    noise = numpy.random.default_rng(rng.randrange(2**32))
    level = numpy.full((rows, columns, 3), 120.0)
    cell = 64
    while cell >= 1:
        grid = noise.uniform(-1, 1, (rows // cell + 2, columns // cell + 2, 3)) * (4 + 26 * (cell / 64) ** 0.5)
        level += numpy.kron(grid, numpy.ones((cell, cell, 1)))[:rows, :columns]
        cell //= 2
    return numpy.clip(level, 0, 255).astype(numpy.uint8)


def paragraph(sheet, rng, x, y, width, lines, points, rgb=(0.1, 0.1, 0.1)):
    for line in range(lines):
        count = max(1, int(width / (points * 0.95)))
        sheet.text(x, y + line * points * 0.45, points, words(rng, count), rgb)


def table(sheet, rng, x, y, width, height, overhang=0.0):
    columns, rows, weight = rng.randint(2, 6), rng.randint(2, 9), rng.uniform(0.1, 0.5)
    rgb = rng.choice([(0, 0, 0), (0.2, 0.2, 0.2), full(rng)])
    for i in range(columns + 1):
        at = x + width * i / columns
        sheet.line(at, y - overhang, at, y + height + overhang, weight, rgb)
    for i in range(rows + 1):
        at = y + height * i / rows
        sheet.line(x - overhang, at, x + width + overhang, at, weight, rgb)
    for i in range(columns):
        sheet.text(x + width * i / columns + 1, y + height / rows * 0.7, 7, rng.choice(WORDS))


def body(sheet, rng, box, bleed):
    """Artwork in a trim `box` (x, y, width, height) that bleeds by `bleed`."""
    x, y, width, height = box
    full_bleed = (x - bleed, y - bleed, width + 2 * bleed, height + 2 * bleed)
    kind = rng.choice(["picture", "picture", "colour", "band", "paper", "paper"])
    if kind == "picture":
        scale = rng.choice([3, 6])
        sheet.picture(*full_bleed, photograph(rng, int(full_bleed[2] * scale), int(full_bleed[3] * scale)))
    elif kind == "colour":
        sheet.rectangle(*full_bleed, full(rng))
    elif kind == "band":
        sheet.rectangle(full_bleed[0], full_bleed[1], full_bleed[2], full_bleed[3] * rng.uniform(0.2, 0.6), full(rng))
    ink = (1, 1, 1) if kind in ("picture", "colour") else (0.1, 0.1, 0.1)
    paragraph(sheet, rng, x + 8, y + height * 0.65, width * 0.6, rng.randint(2, 6), rng.uniform(7, 12), ink)
    if kind == "paper" and rng.random() < 0.5 and min(width, height) > 60:
        table(sheet, rng, x + 10, y + 10, width - 20, height * 0.4)
    if kind != "picture" and rng.random() < 0.3 and min(width, height) > 60:
        sheet.frame(x + 6, y + 6, width - 12, height - 12, rng.uniform(0.1, 0.5), full(rng))


def slug_text(sheet, rng, x, y, upwards=False):
    sheet.text(x, y, rng.uniform(5, 9), "sheet 3 of 8  " + words(rng, 5) + "  C M Y K", (0, 0, 0), upwards)


def colour_bar(sheet, rng, x, y, length, along_x):
    """A row of patches, some with outlines."""
    side = rng.uniform(3, 5)
    outlined = rng.random() < 0.4
    for i in range(int(min(length, 60) / side)):
        at = (x + i * side, y) if along_x else (x, y + i * side)
        sheet.rectangle(*at, side, side, rng.choice([(0, 1, 1), (1, 0, 1), (1, 1, 0), (0, 0, 0), full(rng)]))
        if outlined:
            sheet.frame(*at, side, side, 0.1, (0, 0, 0))
