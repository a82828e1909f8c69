"""The page that the table's files hold: 36 x 26 mm at 300 dpi, trim and bleed, white, with one box 2 mm from the top
trim. Whatever way it is written down, frisket has to find that box and nothing else."""

JOB = ["--trim", "30x20mm", "--bleed", "3mm", "--safe", "3mm"]
DPI = 300
WIDTH, HEIGHT = 425, 307
BOX = (150, 59, 60, 30)  # x, y, width, height in pixels


def inside(x, y):
    left, top, width, height = BOX
    return left <= x < left + width and top <= y < top + height


def rows(paper, ink):
    """Rows of samples: `paper` and `ink` are the bytes of a pixel."""
    left, top, width, height = BOX
    white = paper * WIDTH
    boxed = paper * left + ink * width + paper * (WIDTH - left - width)
    return [boxed if top <= y < top + height else white for y in range(HEIGHT)]


def packed_rows(bits, paper, ink):
    """Rows of samples of fewer than 8 bits, the first in the highest bits."""
    left, top, width, height = BOX
    each = 8 // bits

    def row(inks):
        values = [inks if left <= x < left + width else paper for x in range(WIDTH)]
        values += [0] * (-len(values) % each)
        return bytes(sum(value << (8 - bits * (place + 1)) for place, value in enumerate(values[at:at + each]))
                     for at in range(0, len(values), each))

    white, boxed = row(paper), row(ink)
    return [boxed if top <= y < top + height else white for y in range(HEIGHT)]
