"""Pages drawn as SVG in millimetres: a leaflet with all that frisket looks at, type alone, dense line work.

Every drawing scales with its sheet, so that one leaflet is drawn on 9 and on 139 megapixels. The names are invented.
"""
import math

WORDS = """harbour walks along the tide mill and past the old rope yard lead down to the quay where the ferry waits
for late visitors in summer bring shoes that may get wet and a coat for the wind from the estuary""".split()
INKS = ("#1d3557", "#2f6f6a", "#7a3b2e", "#5b4b8a", "#b5651d", "#37474f")
FACE = "font-family='EB Garamond 12, EB Garamond, DejaVu Serif'"


def svg(sheet, content):
    width, height = sheet.canvas
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' "
        f"width='{width}mm' height='{height}mm' viewBox='0 0 {width} {height}'>\n"
        f"<rect width='{width}' height='{height}' fill='white'/>\n{content}\n</svg>\n"
    )


def rect(x, y, width, height, fill):
    return f"<rect x='{x:.3f}' y='{y:.3f}' width='{width:.3f}' height='{height:.3f}' fill='{fill}'/>"


def line_of_type(x, y, size, words, ink="#202020"):
    return f"<text x='{x:.3f}' y='{y:.3f}' font-size='{size:.3f}' {FACE} fill='{ink}'>{' '.join(words)}</text>"


def column(rng, x, y, width, height, size, ink="#202020"):
    """Lines of type with ragged ends; a word takes about 2.6 of its size."""
    lines = []
    for number in range(int(height / (1.35 * size))):
        words = [rng.choice(WORDS) for _ in range(max(1, int(width * rng.uniform(0.75, 0.98) / (2.6 * size))))]
        lines.append(line_of_type(x, y + size + number * 1.35 * size, size, words, ink))
    return "\n".join(lines)


def panels(sheet):
    """Left edge and width of three equal panels on the canvas."""
    trim = sheet.trim[0]
    return [(sheet.bleed + trim * number / 3, trim / 3) for number in range(3)]


def leaflet(rng, sheet, picture):
    """Three panels: a photograph and a field that bleed, type on paper and on colour, a drawing; four faults."""
    width, height = sheet.canvas
    (left, panel, *_), (middle, _), (right, _) = panels(sheet)
    unit = panel / 100
    edge = sheet.safe + 3 * unit
    content = [
        f"<image x='0' y='0' width='{left + panel:.3f}' height='{height * 0.55:.3f}' "
        f"preserveAspectRatio='xMidYMid slice' xlink:href='{picture}'/>",
        rect(right, 0, width - right, height, "#1d3557"),
        line_of_type(left + edge, height * 0.64, 11 * unit, ["Saltmarsh", "walks"], "#1d3557"),
        column(rng, left + edge, height * 0.67, panel - 2 * edge, height * 0.27, 2.6 * unit),
        column(rng, middle + edge, height * 0.08, panel - 2 * edge, height * 0.45, 2.6 * unit),
        f"<image x='{middle + edge:.3f}' y='{height * 0.56:.3f}' width='{panel - 2 * edge:.3f}' "
        f"height='{height * 0.34:.3f}' preserveAspectRatio='xMidYMid slice' xlink:href='{picture}'/>",
        column(rng, right + edge, height * 0.12, panel - 2 * edge, height * 0.4, 2.8 * unit, "#ffffff"),
        rosette(right + panel / 2, height * 0.75, panel * 0.3),
    ]
    return svg(sheet, "\n".join(content + faults(sheet, unit)))


def faults(sheet, unit):
    """A line too near the top trim, one across the first fold, colour that stops at the trim, a sliver."""
    (_, panel), (middle, _), _ = panels(sheet)
    bleed, height = sheet.bleed, sheet.canvas[1]
    size = 3 * unit
    return [
        line_of_type(middle + panel * 0.3, bleed + sheet.safe * 0.4 + size * 0.7, size, ["open", "all", "year"]),
        line_of_type(middle - 14 * unit, height * 0.6, size, ["by", "the", "ferry", "stairs"]),
        rect(middle + panel * 0.2, height - bleed - 4 * unit, panel * 0.25, 4 * unit, "#b5651d"),
        rect(middle + panel * 0.6, height - bleed - 5 * unit, panel * 0.25, 5 * unit - 0.5, "#2f6f6a"),
    ]


def rosette(x, y, radius):
    petals = []
    for turn in range(0, 360, 12):
        petals.append(
            f"<ellipse cx='{x:.3f}' cy='{y - radius / 2:.3f}' rx='{radius / 9:.3f}' ry='{radius / 2:.3f}' fill='none' "
            f"stroke='#f1e3c8' stroke-width='{radius / 120:.4f}' transform='rotate({turn} {x:.3f} {y:.3f})'/>"
        )
    return "\n".join(petals)


def type_page(rng, sheet, _):
    """Type on white paper, some nine thousand letters."""
    edge = sheet.safe + 4
    size = sheet.trim[0] / 110
    height = sheet.trim[1] - 2 * edge
    columns = [column(rng, x + edge, sheet.bleed + edge, width - 2 * edge, height, size) for x, width in panels(sheet)]
    return svg(sheet, "\n".join(columns))


def line_work(rng, sheet, _):
    """A plan as mapmakers draw them: plots in many inks, paths, contour lines, names."""
    width, height = sheet.canvas
    content = [
        "<defs><linearGradient id='sea' x1='0' y1='0' x2='1' y2='1'><stop offset='0' stop-color='#dbe9f4'/>"
        "<stop offset='1' stop-color='#8fb3cc'/></linearGradient></defs>",
        rect(0, 0, width, height, "url(#sea)"),
    ]
    content += [plot(rng, rng.uniform(0, width), rng.uniform(0, height), width / 90) for _ in range(3500)]
    content += [contour(width * 0.3, height * 0.5, width / 160 * ring, ring) for ring in range(4, 70)]
    for _ in range(500):
        spot = rng.uniform(sheet.bleed, width * 0.95), rng.uniform(sheet.bleed * 2, height - sheet.bleed)
        content.append(line_of_type(*spot, width / 160, [rng.choice(WORDS).title()], "#1b1b1b"))
    return svg(sheet, "\n".join(content))


def plot(rng, x, y, size):
    """A house or a field: a polygon of four to seven corners with an outline."""
    corners = rng.randint(4, 7)
    turn = rng.uniform(0, math.tau)
    points = []
    for corner in range(corners):
        reach = size * rng.uniform(0.4, 1.0)
        angle = turn + math.tau * corner / corners
        points.append(f"{x + reach * math.cos(angle):.3f},{y + reach * math.sin(angle):.3f}")
    return (
        f"<polygon points='{' '.join(points)}' fill='hsl({rng.randrange(360)},40%,{rng.randint(55, 85)}%)' "
        f"stroke='{rng.choice(INKS)}' stroke-width='{size / 25:.4f}'/>"
    )


def contour(x, y, radius, ring):
    points = []
    for step in range(120):
        angle = math.tau * step / 120
        reach = radius * (1 + 0.12 * math.sin(3 * angle + ring / 9) + 0.05 * math.sin(7 * angle))
        points.append(f"{x + reach * math.cos(angle):.3f},{y + reach * math.sin(angle):.3f}")
    return f"<polygon points='{' '.join(points)}' fill='none' stroke='#7a3b2e' stroke-width='{radius / 400 + 0.1:.4f}'/>"
