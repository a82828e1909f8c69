"""Pages of 25 megapixels, and an A0 at 600 dpi, that fit their job and are hard to look at: full of specks, dots, stripes,
strokes and boxes, so that what is kept of each of them counts."""
import random
import zlib

import bombs
import png
from outcome import Case, Outcome, judged, noted

SIDE = 5000
JOB = ["--trim", "417.33x417.33mm", "--bleed", "3mm", "--safe", "3mm"]
A0_JOB = ["--trim", "A0", "--bleed", "0", "--safe", "3mm", "--dpi", "600"]
WHITE, BLACK = b"\xff", b"\0"


def grey(rows, width=SIDE, height=SIDE):
    squeeze = zlib.compressobj(1)
    data = b"".join(squeeze.compress(b"\0" + row) for row in rows) + squeeze.flush()
    return png.png(ihdr=png.header(width, height, colour=png.GREY), idat=data)


def repeated(tile, width=SIDE):
    return (tile * (width // len(tile) + 1))[:width]


def dots(ink, pitch):
    """Squares of `ink` px at every `pitch` px, up to the edge."""
    inked, blank = repeated(BLACK * ink + WHITE * (pitch - ink)), WHITE * SIDE
    return grey(inked if y % pitch < ink else blank for y in range(SIDE))


def stripes():
    row = repeated(BLACK * 2 + WHITE * 2)
    return grey(row for _ in range(SIDE))


def specks(chance):
    """Every pixel black by chance, of 256."""
    by_chance = BLACK * 20 + WHITE * 236
    return grey(chance.randbytes(SIDE).translate(by_chance) for _ in range(SIDE))


def noise(chance):
    rows = (chance.randbytes(SIDE * 3) for _ in range(SIDE))
    data = zlib.compress(b"".join(b"\0" + row for row in rows), 0)
    return png.png(ihdr=png.header(SIDE, SIDE), idat=data)


def strokes(chance, cell=12):
    """In each cell a stroke from corner to corner, one way or the other: lines without end, and pockets between them."""
    way = {turned: [bytes(0 if abs((cell - 1 - x if turned else x) - y) < 2 else 255 for x in range(cell))
                    for y in range(cell)] for turned in (False, True)}

    def rows():
        for _ in range(SIDE // cell + 1):
            line = [way[chance.random() < 0.5] for _ in range(SIDE // cell + 1)]
            for y in range(cell):
                yield b"".join(one[y] for one in line)[:SIDE]
    return grey(row for row, _ in zip(rows(), range(SIDE)))


def boxes(chance, count=60_000):
    """Small boxes of all greys, anyhow."""
    canvas = [bytearray(WHITE * SIDE) for _ in range(SIDE)]
    for _ in range(count):
        x, y, width, height = chance.randrange(SIDE - 14), chance.randrange(SIDE - 14), chance.randrange(2, 14), \
            chance.randrange(2, 14)
        ink = bytes([chance.randrange(200)]) * width
        for row in canvas[y:y + height]:
            row[x:x + width] = ink
    return grey(map(bytes, canvas))


def nested():
    """Boxes within boxes, 4 px apart."""
    def row(y):
        deep = min(y, SIDE - 1 - y)
        edge = b"".join((BLACK if ring % 2 else WHITE) * 4 for ring in range(deep // 4)) + \
            (BLACK if deep // 4 % 2 else WHITE) * (deep % 4)
        return edge + (BLACK if deep // 4 % 2 else WHITE) * (SIDE - 2 * len(edge)) + edge[::-1]
    return grey(row(y) for y in range(SIDE))


def a0(row):
    """A box 1.9 mm from the top trim, else `row(y)`."""
    width, height = bombs.A0_AT_600
    box = WHITE * 4000 + BLACK * 3000 + WHITE * (width - 7000)
    return grey((box if 45 <= y < 400 else row(y) for y in range(height)), width, height)


def a0_blank():
    blank = WHITE * bombs.A0_AT_600[0]
    return a0(lambda y: blank)


def a0_of_bars():
    blank, bars = WHITE * bombs.A0_AT_600[0], repeated(BLACK * 30 + WHITE * 18, bombs.A0_AT_600[0])
    return a0(lambda y: bars if y > 500 and y % 90 < 54 else blank)


def written(name, draw):
    return lambda folder: (folder / name).write_bytes(draw())


def cases(seed):
    def case(name, draw, outcome, slow=True, job=JOB):
        return Case("costly", name, written(name, draw), outcome, job=job, slow=slow)

    def chance():
        return random.Random(seed)

    line_art = "without any grey"
    yield case("specks.png", lambda: specks(chance()), noted(line_art), slow=False)
    yield case("dots.png", lambda: dots(2, 5), noted(line_art), slow=False)
    yield case("stripes.png", stripes, judged("matter-cut"))
    yield case("finest-dots.png", lambda: dots(1, 3), noted(line_art))
    yield case("strokes.png", lambda: strokes(chance()), judged("matter-cut"))
    yield case("boxes.png", lambda: boxes(chance()), judged("matter-cut"))
    yield case("nested.png", nested, noted(line_art))
    yield case("noise.png", lambda: noise(chance()), noted("ppi-unknown"))
    yield case("a0-with-a-box.png", a0_blank, Outcome(1, "drawing-in-band", large=True), job=A0_JOB)
    yield case("a0-of-bars.png", a0_of_bars, Outcome(1, "drawing-in-band", large=True), job=A0_JOB)
