"""Logos, icons, codes and badges, as SVG round their own origin.

Each gives a drawing of (ink, second colour), and whether it has a straight side along an edge of the page.
"""
import math

import drawing


def star(points, outer, inner):
    return [
        (r * math.sin(math.pi * i / points), -r * math.cos(math.pi * i / points))
        for i in range(2 * points)
        for r in ((outer, inner)[i % 2],)
    ]


def logo(rng, size):
    """A mark of two or three parts that belong together."""
    half, kind = size / 2, rng.choice(("sun", "boat", "leaf", "rings", "star"))
    points, ratio = rng.randint(5, 12), rng.uniform(0.4, 0.7)

    def draw(ink, second):
        if kind == "sun":
            return drawing.polygon(star(points, half, half * ratio), fill=ink) + drawing.tag(
                "circle", cx=0, cy=0, r=half * 0.3, fill=second
            )
        if kind == "boat":
            return drawing.polygon(
                ((-half, half * 0.3), (half, half * 0.3), (half * 0.6, half), (-half * 0.6, half)), fill=ink
            ) + drawing.polygon(((0.0, -half), (half * 0.7, half * 0.2), (0.0, half * 0.2)), fill=ink)
        if kind == "leaf":
            return drawing.tag(
                "path",
                fill=ink,
                d=f"M{-half} {half}C{-half} {-half * .6} {-half * .2} {-half} {half} {-half}"
                f"C{half} {half * .2} {half * .2} {half} {-half} {half}z",
            ) + drawing.tag(
                "path",
                d=f"M{-half * .7} {half * .7}L{half * .5} {-half * .5}",
                stroke=second,
                stroke_width=size * 0.04,
            )
        if kind == "rings":
            return "".join(
                drawing.tag(
                    "circle",
                    cx=at * half * 0.4,
                    cy=0,
                    r=half * 0.52,
                    fill="none",
                    stroke=ink,
                    stroke_width=half * 0.15,
                )
                for at in (-1, 1)
            )
        return drawing.polygon(star(points, half, half * ratio), fill=ink)

    return draw, kind == "boat"


def icon(rng, size):
    """A small pictogram of one part."""
    half, kind = size / 2, rng.choice(("pin", "arrow", "envelope", "heart", "drop"))

    def draw(ink, second):
        if kind == "pin":
            return drawing.tag(
                "path",
                fill=ink,
                d=f"M0 {half}C{-half * .9} 0 {-half * .7} {-half} 0 {-half}"
                f"C{half * .7} {-half} {half * .9} 0 0 {half}z",
            ) + drawing.tag("circle", cx=0, cy=-half * 0.35, r=half * 0.25, fill=second)
        if kind == "arrow":
            return drawing.polygon(
                (
                    (-half, -half * 0.2),
                    (half * 0.2, -half * 0.2),
                    (half * 0.2, -half * 0.6),
                    (half, 0.0),
                    (half * 0.2, half * 0.6),
                    (half * 0.2, half * 0.2),
                    (-half, half * 0.2),
                ),
                fill=ink,
            )
        if kind == "envelope":
            return drawing.tag(
                "path",
                fill="none",
                stroke=ink,
                stroke_width=size * 0.08,
                stroke_linejoin="round",
                d=f"M{-half * .9} {-half * .6}H{half * .9}V{half * .6}H{-half * .9}z"
                f"L0 {half * .1}L{half * .9} {-half * .6}",
            )
        if kind == "heart":
            return drawing.tag(
                "path",
                fill=ink,
                d=f"M0 {half}L{-half * .85} 0A{half * .5} {half * .5} 0 0 1 0 {-half * .5}"
                f"A{half * .5} {half * .5} 0 0 1 {half * .85} 0z",
            )
        return drawing.tag(
            "path",
            fill=ink,
            d=f"M0 {-half}C{half} {half * .2} {half * .7} {half} 0 {half}"
            f"C{-half * .7} {half} {-half} {half * .2} 0 {-half}z",
        )

    return draw, kind == "envelope"


def code(rng, size, boxed):
    """A square code: three corner marks and modules at random, on a light box of its own or bare."""
    modules = 21
    cell = size / (modules + 4)
    corners = ((0, 0), (14, 0), (0, 14))

    def in_corner(x, y):
        return any(cx - 1 <= x <= cx + 7 and cy - 1 <= y <= cy + 7 for cx, cy in corners)

    dark = [
        (x, y) for x in range(modules) for y in range(modules) if not in_corner(x, y) and rng.random() < 0.5
    ]
    path = "".join(
        f"M{(x - 10.5) * cell:.4f} {(y - 10.5) * cell:.4f}h{cell:.4f}v{cell:.4f}h{-cell:.4f}z"
        for x, y in dark
    )
    for x, y in corners:
        for inset, side in ((0, 7), (1, 5), (2, 3)):
            at = (x + inset - 10.5) * cell, (y + inset - 10.5) * cell
            path += f"M{at[0]:.4f} {at[1]:.4f}h{side * cell:.4f}v{side * cell:.4f}h{-side * cell:.4f}z"

    def draw(ink, second):
        box = drawing.tag("rect", x=-size / 2, y=-size / 2, width=size, height=size, fill=second)
        modules = drawing.tag("path", d=path, fill=ink, fill_rule="evenodd")
        return box + modules if boxed else modules

    return draw, True


def boxed_code(rng, size):
    return code(rng, size, True)


def bare_code(rng, size):
    return code(rng, size, False)


def badge(rng, size):
    """A filled disc or tilted box with a mark knocked out of it."""
    round_one, tilt = rng.random() < 0.6, rng.uniform(8, 30)

    def draw(ink, second):
        mark = drawing.polygon(star(5, size * 0.25, size * 0.11), fill=second)
        if round_one:
            return drawing.tag("circle", cx=0, cy=0, r=size / 2, fill=ink) + mark
        half = size * 0.36
        return (
            drawing.turned(
                drawing.tag("rect", x=-half, y=-half, width=2 * half, height=2 * half, fill=ink), tilt
            )
            + mark
        )

    return draw, False
