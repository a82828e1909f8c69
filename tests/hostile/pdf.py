"""PDF files by hand (ISO 32000-1), without a table of positions where a reader can do without."""
import page

POINTS = 72 / page.DPI
BOX_OPERATORS = b"0 g %g %g %g %g re f" % (
    page.BOX[0] * POINTS, (page.HEIGHT - page.BOX[1] - page.BOX[3]) * POINTS, page.BOX[2] * POINTS,
    page.BOX[3] * POINTS)
MEDIA = b"[0 0 %g %g]" % (page.WIDTH * POINTS, page.HEIGHT * POINTS)


def stream(content, more=b""):
    return b"<<" + more + b"/Length %d>>stream\n" % len(content) + content + b"\nendstream"


def document(objects, trailer=b"<</Root 1 0 R/Size %d>>", end=b"%%EOF\n"):
    """`objects` from number 1 on, with a true table of positions."""
    body, at = b"%PDF-1.7\n", []
    for number, content in enumerate(objects, 1):
        at.append(len(body))
        body += b"%d 0 obj" % number + content + b"endobj\n"
    table = b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    table += b"".join(b"%010d 00000 n \n" % position for position in at)
    if b"%d" in trailer:
        trailer %= len(objects) + 1
    return body + table + b"trailer" + trailer + b"\nstartxref\n%d\n" % len(body) + end


def pdf(content=BOX_OPERATORS, media=MEDIA, page_more=b"", more=(), pages=b"<</Type/Pages/Kids[3 0 R]/Count 1>>"):
    return document([b"<</Type/Catalog/Pages 2 0 R>>", pages,
                     b"<</Type/Page/Parent 2 0 R/MediaBox" + media + b"/Contents 4 0 R" + page_more + b">>",
                     stream(content), *more])
