#!/usr/bin/python3
"""The line that says how far a run is: all of it on a terminal, nothing of it in a pipe.

Usage: progress_test.py FRISKET. The terminal is a pseudo-terminal (pty), so that the program sees one.
"""
import os
import pathlib
import pty
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tools/runs"))
import pages as made  # noqa: E402

PAGES = 12
LINE = re.compile(r"(\d+) of (\d+) pages, (\d+) findings?"
                  r"(?:, (\d+(?:\.\d)?) pages/s, (?:\d+ h )?(?:\d+ min)?(?: ?\d+ s)? left)?")


def all_of(descriptor):
    """What is written to a terminal until its other end is closed."""
    text = b""
    while True:
        try:
            piece = os.read(descriptor, 65536)
        except OSError:  # Linux says EIO once nobody writes any more
            piece = b""
        if not piece:
            return text.decode()
        text += piece


def on_a_terminal(command):
    ours, theirs = pty.openpty()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=theirs) as run:
        os.close(theirs)
        text = all_of(ours)
        assert run.wait() == 1, run.returncode
    return text


def main():
    frisket = pathlib.Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory(prefix="frisket-progress-") as folder:
        work = pathlib.Path(folder)
        made.fill(work / "job", PAGES, 0)
        command = [frisket, "inspect", work / "job", "--recursive", "--jobs", "1", "-o", work / "out"]
        text = on_a_terminal(command)
        shown = [line for line in re.split(r"\r\x1b\[K|\r\n", text) if line]
        told = [LINE.fullmatch(line) for line in shown]
        assert len(told) >= 3 and all(told), shown
        done = [int(line[1]) for line in told]
        assert done == sorted(done) and done[0] < PAGES, done
        assert {line[2] for line in told} == {str(PAGES)}, shown
        findings = [int(line[3]) for line in told]
        assert findings == sorted(findings) and findings[-1] > 0, findings
        assert any(line[4] and float(line[4]) > 0 for line in told), shown
        assert text.endswith("\r\x1b[K"), "the line is gone at its end"
        piped = subprocess.run([*command, "--again"], capture_output=True, text=True, check=False)
        assert piped.stderr == "" and "\r" not in piped.stdout and "pages/s" not in piped.stdout, piped.stderr
        print(f"{len(told)} lines, the last: {shown[-1]}")


if __name__ == "__main__":
    main()
