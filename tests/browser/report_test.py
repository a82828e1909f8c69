#!/usr/bin/python3
"""The HTML report in a real browser: Debian's chromium, driven by playwright-core, judged by axe-core.

Usage: report_test.py BUILD. Makes three runs with the built frisket (a folded job with faults, hostile names, 200
pages), then runs report.test.mjs over their reports. What npm brings is pinned in package-lock.json and kept in
BUILD/browser.
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
HOSTILE = "\"'><img src=x onerror=alert(1)><!--/page-->&amp;.png"
NEEDED = {"chromium": "chromium", "node": "nodejs", "npm": "npm"}

LEAFLET = """<svg xmlns="http://www.w3.org/2000/svg" width="{0}" height="{1}" viewBox="0 0 216 111">
<rect width="216" height="111" fill="#fff"/><rect x="4" y="40" width="60" height="30" fill="#184"/>
<rect x="30" y="100" width="50" height="9.5" fill="#a33"/>
<g font-family="DejaVu Sans" fill="#222"><text x="20" y="9" font-size="5">Heron Yard opens at ten</text>
<text x="95" y="60" font-size="5">Across the fold it goes</text><text x="150" y="{2}" font-size="4">Ferry at nine</text>
<text x="180" y="30" font-size="4">Bring a lamp, ropes</text></g></svg>"""
CARD = """<svg xmlns="http://www.w3.org/2000/svg" width="{0}" height="{1}" viewBox="0 0 91 61">
<rect width="91" height="61" fill="#fff"/><text x="15" y="{2}" font-family="DejaVu Sans" font-size="5">Card</text></svg>"""


def drawn(svg, width_mm, height_mm, dpi, y, file):
    """The drawing as a PNG, by librsvg."""
    pixels = [round(side / 25.4 * dpi) for side in (width_mm, height_mm)]
    drawing = svg.format(*pixels, y).encode()
    subprocess.run(["rsvg-convert", "-o", file], input=drawing, check=True)


def inspect(frisket, folder, ticket, *pages):
    (folder / "ticket.json").write_text(json.dumps({"frisket_ticket": 1} | ticket))
    run = subprocess.run([frisket, "inspect", *pages, "--ticket", folder / "ticket.json", "-o", folder, "--report"],
                         capture_output=True, text=True, check=False)
    assert run.returncode in (0, 1), run.stderr


def folded_run(frisket, folder):
    """Both sides of a leaflet of two panels with something wrong at edges, bleed and fold."""
    for side, y in (("outside", 108), ("inside", 90)):
        drawn(LEAFLET, 216, 111, 150, y, folder / f"{side}.png")
    inspect(frisket, folder, {"name": "Heron Yard", "trim": [210, 105], "bleed": 3, "safe": 5, "folds": "half", "dpi": 150,
                              "pages": [{"file": f"{side}.png", "side": side} for side in ("outside", "inside")]})


def hostile_run(frisket, folder):
    for name in (HOSTILE, "plain.png"):
        # A file name cannot hold a slash; the comment that closes a page in the report is written without.
        drawn(CARD, 91, 61, 150, 30, folder / name.replace("/", "\N{DIVISION SLASH}"))
    pages = [folder / name.replace("/", "\N{DIVISION SLASH}") for name in (HOSTILE, "plain.png")]
    inspect(frisket, folder, {"name": "</title><img src=x onerror=alert(1)>", "trim": [85, 55], "dpi": 150}, *pages)
    return str(pages[0])


def many_run(frisket, folder):
    """200 pages, one in five with type too near the trim."""
    pages = folder / "pages"
    pages.mkdir()
    for number, y in ((1, 30), (5, 58)):
        drawn(CARD, 91, 61, 72, y, pages / f"page-{number:03}.png")
    for number in range(1, 201):
        source = pages / ("page-005.png" if number % 5 == 0 else "page-001.png")
        if not (pages / f"page-{number:03}.png").exists():
            shutil.copy(source, pages / f"page-{number:03}.png")
    inspect(frisket, folder, {"name": "Cards", "trim": [85, 55], "dpi": 72}, pages)


def fetch_packages(folder):
    """node_modules beside a copy of the test, from npm's cache where it can be."""
    folder.mkdir(exist_ok=True)
    lock = (HERE / "package-lock.json").read_text()
    for name in ("package.json", "report.test.mjs"):
        shutil.copy(HERE / name, folder)
    if (folder / "fetched.json").exists() and (folder / "fetched.json").read_text() == lock:
        return
    shutil.copy(HERE / "package-lock.json", folder)
    run = subprocess.run(["npm", "ci", "--prefer-offline", "--no-audit", "--no-fund", "--ignore-scripts"], cwd=folder,
                         capture_output=True, text=True, check=False)
    if run.returncode != 0:
        sys.exit(f"report_test: npm cannot fetch playwright-core and axe-core (is there a network?):\n{run.stderr}")
    (folder / "fetched.json").write_text(lock)


def main():
    build = pathlib.Path(sys.argv[1]).resolve()
    for program, package in NEEDED.items():
        if shutil.which(program) is None:
            sys.exit(f"report_test: {program} is not there; tools/setup installs Debian's {package}")
    fetch_packages(build / "browser")
    with tempfile.TemporaryDirectory() as scratch:
        folders = {name: pathlib.Path(scratch) / name for name in ("run", "hostile", "many")}
        for folder in folders.values():
            folder.mkdir()
        folded_run(build / "frisket", folders["run"])
        hostile = hostile_run(build / "frisket", folders["hostile"])
        many_run(build / "frisket", folders["many"])
        environment = os.environ | {"REPORTS": scratch, "HOSTILE": hostile}
        return subprocess.run(["node", "--test", "report.test.mjs"], cwd=build / "browser", env=environment,
                              check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
