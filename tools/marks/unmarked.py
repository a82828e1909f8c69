"""Sheets without marks, full of what could be taken for them: frames, rules, tables, crosses, brackets, scales,
coupons, calendars, graph paper, flags."""
import artwork
from drawing import Sheet
from marked import DPI, TRIMS, Truth


def pen(rng):
    return rng.uniform(0.1, 0.5), rng.choice([(0, 0, 0), (0.3, 0.3, 0.3), artwork.full(rng)])


def crosses(sheet, rng, box):
    """A lattice of plus signs."""
    weight, ink = pen(rng)
    columns, rows, arm = rng.randint(2, 6), rng.randint(2, 6), rng.uniform(1.5, 5)
    x, y, width, height = box
    for i in range(columns):
        for j in range(rows):
            at_x, at_y = x + width * i / (columns - 1), y + height * j / (rows - 1)
            sheet.line(at_x - arm, at_y, at_x + arm, at_y, weight, ink)
            sheet.line(at_x, at_y - arm, at_x, at_y + arm, weight, ink)


def brackets(sheet, rng, box):
    """Corners of a view finder: angles that point inwards along a frame that is not drawn."""
    weight, ink = pen(rng)
    arm = rng.uniform(4, 12)
    x, y, width, height = box
    for right in (0, 1):
        for low in (0, 1):
            at_x, at_y = x + width * right, y + height * low
            sheet.line(at_x, at_y, at_x + arm * (1 - 2 * right), at_y, weight, ink)
            sheet.line(at_x, at_y, at_x, at_y + arm * (1 - 2 * low), weight, ink)


def frame(sheet, rng, box):
    weight, ink = pen(rng)
    dash = rng.choice([None, (2, 1), (1, 1)])
    sheet.frame(*box, weight, ink, dash)
    if rng.random() < 0.5:
        inner = rng.uniform(1, 6)
        sheet.frame(box[0] + inner, box[1] + inner, box[2] - 2 * inner, box[3] - 2 * inner, weight, ink)


def four_rules(sheet, box, more, weight, ink, dash=None):
    """Along the sides of a box, going on by `more` past its corners."""
    x, y, width, height = box
    for at in (x, x + width):
        sheet.line(at, y - more, at, y + height + more, weight, ink, dash)
    for at in (y, y + height):
        sheet.line(x - more, at, x + width + more, at, weight, ink, dash)


def overhanging(sheet, rng, box):
    """Four rules that cross at the corners and go on, as on a sampler."""
    weight, ink = pen(rng)
    four_rules(sheet, box, rng.uniform(3, 10), weight, ink, rng.choice([None, None, (2, 1)]))


def two_inks(sheet, rng, box):
    """The same, and a frame of another ink over them, so that no ink runs through."""
    weight, ink = pen(rng)
    four_rules(sheet, box, rng.uniform(3, 10), weight, ink)
    _, other = pen(rng)
    sheet.frame(*box, weight * rng.uniform(0.8, 2.0), rng.choice([other, artwork.pale(rng)]))


def grid(sheet, rng, box):
    artwork.table(sheet, rng, *box, overhang=rng.choice([0, 0, rng.uniform(2, 6)]))


def form(sheet, rng, box):
    weight, ink = pen(rng)
    x, y, width, height = box
    for i in range(rng.randint(4, 16)):
        at = y + height * (i + 1) / 18
        sheet.text(x, at, 8, rng.choice(artwork.WORDS))
        sheet.line(x + 25, at, x + width * rng.uniform(0.4, 1), at, weight, ink, rng.choice([None, (0.3, 0.8)]))
        if rng.random() < 0.4:
            sheet.frame(x + width - 4, at - 3, 3, 3, weight, ink)


def ticks(sheet, rng, box):
    """A diagram with scales outside of its axes."""
    weight, ink = pen(rng)
    x, y, width, height = box
    sheet.frame(*box, weight, ink)
    count, arm = rng.randint(3, 9), rng.uniform(2, 5)
    gap = rng.choice([0, 0, 1.0])
    for i in range(count):
        at_x, at_y = x + width * i / (count - 1), y + height * i / (count - 1)
        sheet.line(at_x, y + height + gap, at_x, y + height + gap + arm, weight, ink)
        sheet.line(x - gap, at_y, x - gap - arm, at_y, weight, ink)
        sheet.text(at_x - 2, y + height + arm + 4, 6, str(i * 10))


def dimensions(sheet, rng, box):
    """A drawing with dimension lines: pairs of short lines square to its sides, outside of them."""
    weight, ink = pen(rng)
    x, y, width, height = box
    sheet.frame(x + 15, y + 15, width - 30, height - 30, 0.4, ink)
    for at in (x + 15, x + width - 15):
        sheet.line(at, y + 4, at, y + 13, weight, ink)
    sheet.line(x + 15, y + 6, x + width - 15, y + 6, weight, ink)
    for at in (y + 15, y + height - 15):
        sheet.line(x + 4, at, x + 13, at, weight, ink)
    sheet.line(x + 6, y + 15, x + 6, y + height - 15, weight, ink)


def rules(sheet, rng, box):
    """Short rules here and there, upright and level."""
    weight, ink = pen(rng)
    x, y, width, height = box
    for _ in range(rng.randint(6, 30)):
        at_x, at_y = x + rng.uniform(0, width), y + rng.uniform(0, height)
        long = rng.uniform(3, 12)
        upright = rng.random() < 0.5
        sheet.line(at_x, at_y, at_x + (0 if upright else long), at_y + (long if upright else 0), weight, ink)


def columns(sheet, rng, box):
    x, y, width, height = box
    points = rng.uniform(6, 18)
    for i in range(2):
        lines = int(height * 0.9 / (points * 0.45))
        artwork.paragraph(sheet, rng, x + i * width / 2, y + 5, width * 0.42, lines, points)
    sheet.line(x + width * 0.47, y, x + width * 0.47, y + height, *pen(rng))


def cutting_lines(sheet, rng, box):
    """Coupons: broken lines to cut along, from edge to edge of the box or past it."""
    weight, ink = pen(rng)
    dash = rng.choice([(4, 2), (6, 3), (5, 1.8), (3, 1.5), (2, 2), (1, 1)])
    columns, rows, more = rng.randint(1, 3), rng.randint(1, 4), rng.choice([0, rng.uniform(2, 12)])
    x, y, width, height = box
    for i in range(columns + 1):
        at = x + width * i / columns
        sheet.line(at, y - more, at, y + height + more, weight, ink, dash)
    for i in range(rows + 1):
        at = y + height * i / rows
        sheet.line(x - more, at, x + width + more, at, weight, ink, dash)
        sheet.text(x + 5, at + 6, 8, rng.choice(artwork.WORDS))


def graph_paper(sheet, rng, box):
    x, y, width, height = box
    step, ink = rng.choice([2, 4, 5]), rng.choice([(0.6, 0.75, 0.9), (0.9, 0.6, 0.5), artwork.full(rng)])
    more = rng.choice([0, 0, rng.uniform(2, 5)])
    for i in range(int(width / step) + 1):
        over, weight = (more, 0.3) if i % 5 == 0 else (0, 0.1)
        sheet.line(x + i * step, y - over, x + i * step, y + height + over, weight, ink)
    for i in range(int(height / step) + 1):
        over, weight = (more, 0.3) if i % 5 == 0 else (0, 0.1)
        sheet.line(x - over, y + i * step, x + width + over, y + i * step, weight, ink)


def calendar(sheet, rng, box):
    x, y, width, height = box
    weight, ink = pen(rng)
    for week in range(6):
        for day in range(7):
            left, top = x + width * day / 7, y + height * week / 6
            sheet.text(left + 1, top + 4, 8, str(week * 7 + day + 1), ink)
            if rng.random() < 0.9:
                sheet.frame(left, top, width / 7 - 1, height / 6 - 1, weight, ink)


def sights(sheet, rng, box):
    """Round emblems with a cross through them, at corners or here and there."""
    weight, ink = pen(rng)
    x, y, width, height = box
    radius, arm = rng.uniform(1.5, 4), rng.uniform(2, 7)
    gap = rng.choice([0, 0.5, 1.0])
    places = [(x, y), (x + width, y), (x, y + height), (x + width, y + height)]
    if rng.random() < 0.5:
        places = [(x + rng.uniform(0, width), y + rng.uniform(0, height)) for _ in range(rng.randint(3, 9))]
    for at_x, at_y in places:
        sheet.circle(at_x, at_y, radius, weight, ink)
        for way in (-1, 1):
            sheet.line(at_x + way * gap, at_y, at_x + way * arm, at_y, weight, ink)
            sheet.line(at_x, at_y + way * gap, at_x, at_y + way * arm, weight, ink)


def flags(sheet, rng, box):
    """Fields with crosses, broad and thin."""
    x, y, width, height = box
    columns, rows = rng.randint(1, 5), rng.randint(1, 5)
    for i in range(columns):
        for j in range(rows):
            left, top, w, h = x + width * i / columns, y + height * j / rows, width / columns - 3, height / rows - 3
            field, cross = artwork.full(rng), rng.choice([(1, 1, 1), artwork.full(rng)])
            bar = rng.choice([rng.uniform(0.2, 0.5), rng.uniform(1, 6)])
            sheet.rectangle(left, top, w, h, field)
            sheet.rectangle(left + w * 0.36 - bar / 2, top, bar, h, cross)
            sheet.rectangle(left, top + h / 2 - bar / 2, w, bar, cross)


def scales(sheet, rng, box):
    """A map: a frame with divisions outside of all four sides, and at its corners."""
    weight, ink = pen(rng)
    x, y, width, height = box
    sheet.frame(*box, weight, ink)
    columns, rows, arm, gap = rng.randint(2, 12), rng.randint(2, 12), rng.uniform(2.5, 6), rng.choice([0, 0, 0.4])
    for i in range(columns + 1):
        at = x + width * i / columns
        sheet.line(at, y - gap, at, y - gap - arm, weight, ink)
        sheet.line(at, y + height + gap, at, y + height + gap + arm, weight, ink)
    for i in range(rows + 1):
        at = y + height * i / rows
        sheet.line(x - gap, at, x - gap - arm, at, weight, ink)
        sheet.line(x + width + gap, at, x + width + gap + arm, at, weight, ink)


def staves(sheet, rng, box):
    x, y, width, height = box
    weight, ink = pen(rng)
    for system in range(rng.randint(2, 6)):
        top = y + height * system / 6
        for i in range(5):
            sheet.line(x, top + i * 1.8, x + width, top + i * 1.8, weight, ink)
        for bar in range(5):
            sheet.line(x + width * bar / 4, top, x + width * bar / 4, top + 7.2, weight, ink)


def ledger(sheet, rng, box):
    """Ruled paper with margins that go on."""
    x, y, width, height = box
    weight, ink = pen(rng)
    more = rng.uniform(0, 10)
    for i in range(int(height / 7) + 1):
        sheet.line(x, y + i * 7, x + width, y + i * 7, weight, ink)
    for at in (x, x + width):
        sheet.line(at, y - more, at, y + height + more, weight, artwork.full(rng))


DECOYS = [crosses, brackets, frame, overhanging, grid, form, ticks, dimensions, rules, columns, two_inks, cutting_lines,
          graph_paper, calendar, sights, flags, scales, staves, ledger]


def make(rng):
    """A sheet larger than its trim, without marks."""
    trim = rng.choice(TRIMS)
    room = [rng.uniform(17, 30) for _ in range(4)]
    sheet = Sheet(round((trim[0] + room[0] + room[1]) / 25.4 * DPI), round((trim[1] + room[2] + room[3]) / 25.4 * DPI))
    skew = rng.choice([0.0, 0.0, rng.uniform(-1, 1)])
    sheet.turn(skew)
    told = []
    if rng.random() < 0.4:
        artwork.body(sheet, rng, (room[0], room[2], *trim), 3)
        told.append("artwork")
    for decoy in rng.sample(DECOYS, rng.randint(1, 3)):
        inset = rng.choice([0.0, 0.0, rng.uniform(-8, 25)])
        inset = min(inset, min(trim) / 4)
        decoy(sheet, rng, (room[0] + inset, room[2] + inset, trim[0] - 2 * inset, trim[1] - 2 * inset))
        told.append(decoy.__name__)
    return sheet, Truth(trim, 3.0, skew, (0, 0), ", ".join(told))
