"""SVG text, in mm with the origin at the top left corner of the trim."""
from xml.sax.saxutils import escape, quoteattr


def number(value):
    return f"{value:.4f}".rstrip("0").rstrip(".") or "0"


def tag(name, content="", **attributes):
    def said(value):
        return quoteattr(number(value) if isinstance(value, float) else str(value))

    words = "".join(
        f" {key.rstrip('_').replace('_', '-')}={said(value)}"
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{words}>{content}</{name}>" if content else f"<{name}{words}/>"


def rect(box, **attributes):
    return tag(
        "rect",
        x=float(box.left),
        y=float(box.top),
        width=float(box.width),
        height=float(box.height),
        **attributes,
    )


def polygon(points, **attributes):
    return tag("polygon", points=" ".join(f"{number(x)},{number(y)}" for x, y in points), **attributes)


def moved(content, dx, dy):
    return tag("g", content, transform=f"translate({number(dx)} {number(dy)})")


def turned(content, degrees):
    return tag("g", content, transform=f"rotate({number(degrees)})") if degrees else content


def text(words, **attributes):
    return tag("text", escape(words), **attributes)


def picture(name, box, **attributes):
    return tag(
        "image",
        href=name,
        x=float(box.left),
        y=float(box.top),
        width=float(box.width),
        height=float(box.height),
        preserveAspectRatio="none",
        **attributes,
    )


def document(content, view, sharp_edges=False):
    """A whole drawing that shows the box `view`, mm. `sharp_edges`: drawn without anti-aliasing."""
    crisp = ' shape-rendering="crispEdges" text-rendering="optimizeSpeed"' if sharp_edges else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{view.width:.8f}mm" height="{view.height:.8f}mm" '
        f'viewBox="{view.left:.8f} {view.top:.8f} {view.width:.8f} {view.height:.8f}"{crisp}>'
        f"{content}</svg>\n"
    )
