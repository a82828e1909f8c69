#!/usr/bin/python3
"""Never a wrong all-clear: a page that is clear is inspected again and again, and each time one allocation, one read
or one write fails, the next one each time, until the run gets through untouched. Where something failed, the program
must not end with 0, call no page clear, and leave no half of a file.

Libraries do without some small allocations (a font that is not found is looked for elsewhere). Then the program may end
with 0, and what it found must be, byte for byte, what it finds without a fault; only the drawing of an overlay may lack
something. There are tens of thousands of these: a sample of them is taken, by a seed.

usage: faults_test.py FRISKET SHIM [--all]      --all: every call (of small allocations 1000); else some of each kind
"""
import argparse
import concurrent.futures
import errno
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "hostile"))
import containers  # noqa: E402
import page  # noqa: E402

FAR = 10 ** 9
ANY_SIZE = "one allocation of any size"
SWEEPS = {  # name: environment, and the most faults of it in the tests
    "one allocation of 64 KB and more": ({"FAULT_KIND": "allocation", "FAULT_LEAST": "65536"}, 24),
    "allocations of 64 KB and more from one on": (
        {"FAULT_KIND": "allocation", "FAULT_LEAST": "65536", "FAULT_ONWARDS": "1"}, 10),
    ANY_SIZE: ({"FAULT_KIND": "allocation", "FAULT_LEAST": "1"}, 16),
    "one read": ({"FAULT_KIND": "read", "FAULT_ERRNO": str(errno.EIO)}, 20),
    "all writes from one on: disk full": ({"FAULT_KIND": "write", "FAULT_ERRNO": str(errno.ENOSPC), "FAULT_ONWARDS": "1"}, 20),
    "one write": ({"FAULT_KIND": "write", "FAULT_ERRNO": str(errno.EIO)}, 20),
}


def clear_page():
    """The table's page with its box in the middle, well inside the safe zone."""
    page.BOX = (180, 140, 60, 30)


class Run:
    def __init__(self, frisket, shim, environment):
        with tempfile.TemporaryDirectory(prefix="frisket-test-") as name:
            folder = pathlib.Path(name)
            for ending, content, _ in containers.wholes():
                if ending in ("png", "jpg", "deflate.tif"):
                    (folder / f"a-{ending.replace('.', '-')}.{ending}").write_bytes(content)
            pages = sorted(path.name for path in folder.iterdir())
            ran = subprocess.run([frisket, "inspect", *pages, "--jobs", "1", "--report", "--csv", "-o", "out", *page.JOB],
                                 cwd=folder, capture_output=True, text=True, timeout=300, check=False,
                                 env={**os.environ, **environment, "LD_PRELOAD": shim, "FAULT_MARK": str(folder / "mark"),
                                      "FAULT_BELOW": name})
            self.hit = (folder / "mark").exists()
            self.status, self.out, self.err = ran.returncode, ran.stdout, ran.stderr
            out = folder / "out"
            self.files = {path.name: path.read_bytes() for path in sorted(out.iterdir())} if out.is_dir() else {}

    def found(self):
        """The files that say what was found; the others show it."""
        return {name: content for name, content in self.files.items() if name.endswith((".json", ".csv"))}

    def drawn(self):
        return [name for name in self.files if name.endswith((".overlay.png", ".html"))]

    def faults(self, quiet, may_do_without):
        """What is wrong, given a run without a fault."""
        whole = quiet.files
        same = self.files.keys() == whole.keys() and self.found() == quiet.found()
        if self.status == 0 and not (may_do_without and same):
            yield "exit status 0"
        for name, content in self.files.items():
            if name.startswith(".frisket-") and name != ".frisket-lock":
                yield f"left {name}"
            elif name in whole and name.startswith("a-") and content != whole[name] and \
                    not (may_do_without and name in self.drawn()):
                yield f"{name} is not what it should be"
        pages = [name.split(".")[0] for name in whole if name.endswith(".findings.json")]
        for one in pages:
            if f"{one}.overlay.png" in self.files and f"{one}.findings.json" not in self.files:
                yield f"{one} has an overlay without findings"
        if "summary.json" in self.files:
            summary = json.loads(self.files["summary.json"])
            if self.status != 0 and self.err == "" and all(entry.get("verdict") == "clear" for entry in summary["pages"]):
                yield "all is clear, and nothing was said"


def calls_to_fail(name, last, most):
    if name == ANY_SIZE:
        return sorted(random.Random(8).sample(range(1, last + 1), min(most, 1000, last)))
    return range(1, last + 1, max(1, -(-last // most)))


def sweep(name, environment, most, frisket, shim, quiet, pool):
    """Lets one call fail after the other; gives how many there are, how many failed, and what went wrong."""
    if not Run(frisket, shim, {**environment, "FAULT_AT": "1"}).hit:
        return 0, 0, []
    last = last_call(environment, frisket, shim)
    calls, count, wrong = calls_to_fail(name, last, most), 0, []
    for at, run in zip(calls, pool.map(lambda at: Run(frisket, shim, {**environment, "FAULT_AT": str(at)}), calls)):
        count += run.hit
        wrong += [f"{name}, number {at}: {fault}\n    {run.err.strip()[:300]}"
                  for fault in run.faults(quiet, name == ANY_SIZE) if run.hit]
    return last, count, wrong


def last_call(environment, frisket, shim):
    """The number of the last call that any process makes, by halving."""
    low, high = 1, 2
    while Run(frisket, shim, {**environment, "FAULT_AT": str(high)}).hit:
        low, high = high, high * 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if Run(frisket, shim, {**environment, "FAULT_AT": str(middle)}).hit else (low, middle)
    return low


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("frisket")
    parser.add_argument("shim")
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--jobs", type=int, default=2)
    asked = parser.parse_args()
    clear_page()
    frisket, shim = os.path.abspath(asked.frisket), os.path.abspath(asked.shim)
    quiet = Run(frisket, shim, {})
    if quiet.status != 0 or len(quiet.files) < 9:
        print(f"without a fault: exit status {quiet.status}, {sorted(quiet.files)}\n{quiet.out}{quiet.err}")
        return 1
    failed = 0
    with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
        for name, (environment, most) in SWEEPS.items():
            last, count, wrong = sweep(name, environment, FAR if asked.all else most, frisket, shim, quiet, pool)
            print(f"{name}: {count} of {last} failed in turn, {len(wrong)} wrong", flush=True)
            print(*wrong, sep="\n", end="\n" if wrong else "")
            failed += len(wrong) + (count == 0)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
