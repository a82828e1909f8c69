"""Names, links, devices, files that change or vanish, folders that cannot be written to, streams that are closed."""
import os
import socket

import bombs
import png
from outcome import Case, Outcome, inspected, misused, refused

GOOD = png.png()
TICKET = b'{"frisket_ticket": 1, "trim": "30x20mm", "bleed": "3mm", "safe": "3mm", %s}'


def names():
    good = {"blank": "a b.png", "quote": "it's \"a\".png", "options": "page[page=2,n=-1].png", "percent": "%s%n%d.png",
            "dollar": "$(touch ran).png", "newline": "a\nb.png", "tab": "a\tb.png", "escape": "\x1b[31mred.png",
            "right-to-left": "a\u202egnp.png", "letters": "Düne-港-😀.png", "markup": "<b onclick=alert(1)>.png",
            "formula": "=1+1.png", "dots": "..png", "latin-1": b"D\xfcne.png", "not-utf-8": b"\xff\xfe\xc0\x80.png",
            "delete": "a\x7f.png", "240-bytes": "n" * 236 + ".png"}
    for label, name in good.items():
        yield Case("names", label, GOOD, inspected(), argument=name)
    yield Case("names", "255-bytes", GOOD, refused("the name is too long"), argument="n" * 251 + ".png")
    yield Case("names", "leading-dash", GOOD, inspected(), argument="./-o.png")
    yield Case("names", "leading-dash-after-dashes", GOOD, inspected(), argument=["--", "-o.png"])
    yield Case("names", "unknown-flag", GOOD, misused("--help"), argument="--frobnicate.png")
    yield Case("names", "wrong-kind", GOOD, inspected("the name ends in .tif"), argument="picture.tif")
    yield Case("names", "no-ending", GOOD, inspected(), argument="picture")
    yield Case("names", "only-an-ending", GOOD, inspected(), argument=".png")
    yield Case("names", "path-too-long", lambda folder: None, refused("cannot be opened"), argument="d/" * 3000 + "a.png")


def links_and_devices():
    def link(folder):
        (folder / "real").mkdir()
        (folder / "real/page.png").write_bytes(GOOD)
        (folder / "link.png").symlink_to("real/page.png")

    def dangling(folder):
        (folder / "link.png").symlink_to("nowhere.png")

    def loop(folder):
        (folder / "link.png").symlink_to("other.png")
        (folder / "other.png").symlink_to("link.png")

    def listening(folder):
        with socket.socket(socket.AF_UNIX) as one:
            one.bind(str(folder / "link.png"))

    def to_device(folder):
        (folder / "link.png").symlink_to("/dev/zero")

    def nested(folder):
        (folder / "pages").mkdir()
        (folder / "pages/page.png").write_bytes(GOOD)
        (folder / "pages/again").symlink_to(".")

    yield Case("links", "link", link, inspected(), argument="link.png")
    yield Case("links", "link-to-nothing", dangling, refused("no such file"), argument="link.png")
    yield Case("links", "links-in-a-ring", loop, refused("cannot be opened"), argument="link.png")
    yield Case("links", "folder-in-itself", nested, inspected(), ["--recursive"], argument="pages")
    yield Case("links", "folder-named-png", lambda folder: (folder / "link.png").mkdir(), misused("no pages in this folder"),
               argument="link.png")
    yield Case("links", "fifo", lambda folder: os.mkfifo(folder / "link.png"), refused("a pipe or a device"),
               argument="link.png")
    yield Case("links", "socket", listening, refused("a pipe or a device"), argument="link.png")
    yield Case("links", "link-to-device", to_device, refused("a pipe or a device"), argument="link.png")
    for device in ("/dev/zero", "/dev/null", "/dev/random", "/dev/tty"):
        yield Case("links", device.replace("/", "-"), lambda folder: None, refused("a pipe or a device"), argument=device)
    yield Case("links", "proc-mem", lambda folder: None, refused("the file is empty"), argument="/proc/self/mem")
    yield Case("links", "missing", lambda folder: None, refused("no such file"), argument="nowhere.png")


def tickets():
    """Tickets lie beside the pages of strangers, too."""
    def with_ticket(text):
        def make(folder):
            (folder / "page.png").write_bytes(GOOD)
            (folder / "ticket.json").write_bytes(text)
        return make

    def fifo_for_printer(folder):
        os.mkfifo(folder / "press.json")
        with_ticket(TICKET % b'"printer": "press.json"')(folder)

    def fifo(folder):
        (folder / "page.png").write_bytes(GOOD)
        os.mkfifo(folder / "ticket.json")

    ask = ["--ticket", "ticket.json"]
    rows = {"deep.json": (b"[" * 200_000, "nested deeper"), "large.json": (b" " * 2_000_000, "larger than 1 MB"),
            "not-utf-8.json": (b'{"frisket_ticket": "\xff\xfe"}', "no valid JSON"), "empty.json": (b"", "is empty"),
            "twice.json": (b'{"trim": "A4", "trim": "A5"}', "given twice"), "nul.json": (b"\0" * 99, "no valid JSON"),
            "huge-number.json": (b'{"frisket_ticket": 1, "trim": [1e400, 1]}', "no valid JSON"),
            "printer-device.json": (TICKET % b'"printer": "/dev/zero"', "a pipe or a device"),
            "no-json.json": (GOOD, "no valid JSON")}
    for name, (text, words) in rows.items():
        yield Case("tickets", name, with_ticket(text), misused(words), ask, argument="page.png")
    yield Case("tickets", "fifo", fifo, misused("a pipe or a device"), ask, argument="page.png")
    yield Case("tickets", "fifo-for-printer", fifo_for_printer, misused("a pipe or a device"), ask, argument="page.png")
    yield Case("tickets", "page-elsewhere", with_ticket(TICKET % b'"pages": [{"file": "/etc/passwd"}]'),
               refused("looks like text"), ask, argument=[])


def changing():
    """A large page is inspected first; meanwhile the second one goes."""
    def two(folder):
        (folder / "first.png").write_bytes(bombs.grey_png(2500, 2500))
        (folder / "page.png").write_bytes(GOOD)

    def vanish(folder):
        (folder / "page.png").unlink()

    def shrink(folder):
        os.truncate(folder / "page.png", 200)

    def fifo(folder):
        vanish(folder)
        os.mkfifo(folder / "page.png")

    for name, change, words in (("vanishes", vanish, "no such file"), ("shrinks", shrink, "the PNG ends early"),
                                ("becomes-a-fifo", fifo, "a pipe or a device")):
        yield Case("changing", name, two, refused(words), ["--jobs", "1"], argument=["first.png", "page.png"],
                   meanwhile=change)


def streams():
    good = {"argument": "page.png"}
    yield Case("streams", "closed-input", GOOD, inspected(), wrapped='"$@" <&-', **good)
    yield Case("streams", "closed-output", GOOD, Outcome(3, "standard output"), wrapped='"$@" >&-', **good)
    yield Case("streams", "closed-errors", GOOD, inspected(), wrapped='"$@" 2>&-', **good)
    yield Case("streams", "all-closed", GOOD, Outcome(3), wrapped='"$@" <&- >&- 2>&-', **good)
    yield Case("streams", "full-output", GOOD, Outcome(3, "standard output"), wrapped='"$@" > /dev/full', **good)
    yield Case("streams", "reader-left", GOOD, Outcome(3, "standard output"),
               wrapped='{ sleep 0.2; "$@"; echo $? > status; } | true; exit $(cat status)', **good)


def folders():
    good = {"argument": "page.png"}

    def with_file(folder):
        (folder / "page.png").write_bytes(GOOD)
        (folder / "out").write_bytes(b"")

    def with_link(folder):
        (folder / "page.png").write_bytes(GOOD)
        (folder / "elsewhere").mkdir()
        (folder / "out").symlink_to("elsewhere")

    def with_loop(folder):
        (folder / "page.png").write_bytes(GOOD)
        (folder / "out").symlink_to("out")

    def findings_in_the_way(folder):
        (folder / "page.png").write_bytes(GOOD)
        (folder / "out/page.findings.json").mkdir(parents=True)

    cannot = "cannot write into this folder"
    yield Case("folders", "is-a-file", with_file, misused(cannot), **good)
    yield Case("folders", "is-a-link", with_link, inspected(), **good)
    yield Case("folders", "is-a-ring", with_loop, misused(cannot), **good)
    yield Case("folders", "read-only", GOOD, misused(cannot), ["-o", "/proc/frisket"], **good)
    yield Case("folders", "a-folder-in-the-way", findings_in_the_way, refused("a folder of that name is in the way"), **good)
    for blocks in (1, 2, 8):
        yield Case("folders", f"full-at-{blocks}-blocks", GOOD, refused("larger than the system allows"),
                   wrapped=f'ulimit -f {blocks}; "$@"', **good)
    disk = 'mkdir -p disk && mount -t tmpfs -o size=%s tmpfs disk && shift 0 && "$@" -o disk'
    for size in ("4k", "8k", "16k"):
        yield Case("folders", f"disk-of-{size}", GOOD, refused("the disk is full"),
                   wrapped=f"unshare -m sh -c '{disk % size}' sh \"$@\"", **good)
    yield Case("folders", "read-only-disk", GOOD, misused(cannot),
               wrapped="unshare -m sh -c 'mkdir -p disk && mount -t tmpfs -o ro tmpfs disk && \"$@\" -o disk' sh \"$@\"", **good)


def cases(_seed):
    yield from names()
    yield from links_and_devices()
    yield from tickets()
    yield from changing()
    yield from streams()
    yield from folders()
