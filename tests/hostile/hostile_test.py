#!/usr/bin/python3
"""Files from strangers, each with its outcome stated before it is made: see containers.py, pixels.py, bombs.py, costly.py
and surroundings.py. Runs the built program on every one, under limits of the system, and holds it to the outcome, to one
line of error, to whole files or none, to 10 s of processor time and to 512 MB (60 s and 7 bytes a pixel above 25 megapixels;
the clock alone would tell how busy the machine is).

usage: hostile_test.py FRISKET [--seed N] [--large] [--only GROUP[/NAME]] [--table FILE]
--large takes those of more than 25 megapixels and the slow ones as well; --table writes the table with what came of each file.
"""
import argparse
import concurrent.futures
import json
import os
import pathlib
import resource
import subprocess
import sys
import tempfile
import time

import bombs
import containers
import costly
import page
import pixels
import surroundings

SMALL = {"seconds": 10, "bytes": 512_000_000}
LARGE = {"seconds": 60, "bytes": 7 * bombs.A0_AT_600[0] * bombs.A0_AT_600[1]}
ADDRESS_SPACE = 4 << 30  # what any of these may ask for; large files have no such bound
HANGS_AFTER = 300  # seconds by the clock
SANITIZED = "ASAN_OPTIONS" in os.environ  # then neither time nor memory are those of the program


def all_cases(seed):
    for part in (containers, pixels, bombs, costly, surroundings):
        yield from (case for case in part.cases(seed) if not (SANITIZED and is_of_time(part, case)))


def is_of_time(part, case):
    return part is costly or "took more than" in case.outcome.words


def prepare(case, folder):
    """Makes what has to be there; gives the pages to name."""
    argument = case.name if case.argument is None else case.argument
    named = argument if isinstance(argument, list) else [argument]
    if callable(case.make):
        case.make(folder)
    else:
        (pathlib.Path(os.fsdecode(os.path.join(os.fsencode(folder), os.fsencode(named[-1]))))).write_bytes(case.make)
    return [os.fsencode(name) for name in named]


def bounded(case):
    def apply():
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        if not case.outcome.large and not SANITIZED:
            resource.setrlimit(resource.RLIMIT_AS, (ADDRESS_SPACE, ADDRESS_SPACE))
    return apply


def command_of(case, frisket, named):
    job = [] if "--ticket" in case.flags else case.job or page.JOB
    out = [] if "-o" in case.flags or "-o disk" in case.wrapped else ["-o", "out"]
    command = [frisket, "inspect", *job, *out, *case.flags, *named]
    return ["/bin/sh", "-c", case.wrapped, "sh", *command] if case.wrapped else command


class Ran:
    def __init__(self, case, frisket, folder):
        self.folder = folder
        command = command_of(case, frisket, prepare(case, folder))
        before = {path.name for path in folder.rglob("*")}
        with open(folder / ".out", "wb") as out, open(folder / ".err", "wb") as err:
            process = subprocess.Popen(command, cwd=folder, stdout=out, stderr=err, stdin=subprocess.DEVNULL,
                                       preexec_fn=bounded(case))
            if case.meanwhile:
                time.sleep(0.1)
                case.meanwhile(folder)
            self.hung = not self.ends(process)
            _, status, usage = os.wait4(process.pid, 0)
            process.returncode = 0
        self.seconds = usage.ru_utime + usage.ru_stime
        self.bytes = usage.ru_maxrss * 1024
        self.status = os.waitstatus_to_exitcode(status)
        self.err = (folder / ".err").read_text("utf-8", "replace")
        self.left = sorted(path for path in folder.rglob("*")
                           if path.name not in before and not path.is_dir() and path.name not in (".out", ".err", "status"))

    @staticmethod
    def ends(process):
        limit = time.monotonic() + HANGS_AFTER
        while time.monotonic() < limit:
            if os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOHANG | os.WNOWAIT):
                return True
            time.sleep(0.005)
        process.kill()
        return False

    def findings(self):
        for path in self.left:
            if path.name.endswith(".findings.json") and "first" not in path.name:
                return json.loads(path.read_text("utf-8"))
        return None


def faults_of_results(case, ran):
    """Results are whole, and there exactly where the page was inspected."""
    names = [path.name for path in ran.left]
    if any(name.startswith(".frisket") for name in names):
        yield f"left half-written files: {names}"
    results = [name for name in names if name.endswith((".findings.json", ".overlay.png")) and "first" not in name]
    findings = ran.findings()
    if case.outcome.status == 3 and "standard output" not in case.outcome.words and case.name != "all-closed":
        if results:
            yield f"refused, but left {results}"
        return
    if case.outcome.status == 2:
        return
    if findings is None or len(results) != 2:
        yield f"inspected, but left {results}"
        return
    if findings["verdict"] == "clear":
        yield "no page of the table is clear"
    if case.outcome.status == 0 and case.outcome.words not in json.dumps(findings, ensure_ascii=False):
        yield f"'{case.outcome.words}' is not in the findings"
    found = [finding["kind"] for finding in findings["findings"] if finding["check"] == "safe-zone"]
    if case.outcome.finds_box and found != ["drawing-in-band"]:
        yield f"the box was not found: {[finding['kind'] for finding in findings['findings']]}"
    if case.outcome.status == 1 and case.outcome.words not in json.dumps(findings, ensure_ascii=False):
        yield f"'{case.outcome.words}' is not in the findings"


def faults(case, ran):
    if ran.hung:
        yield f"hung for {HANGS_AFTER} s"
    if ran.status != case.outcome.status:
        yield f"exit status {ran.status}"
    if case.outcome.status in (2, 3) and case.outcome.words not in ran.err:
        yield f"'{case.outcome.words}' was not said"
    lines = 0 if case.outcome.status in (0, 1) or "2>&-" in case.wrapped else 1
    if ran.err.count("\n") != lines or (lines and not ran.err.startswith("frisket: ")):
        yield f"{lines} lines of error were to come"
    for line in ran.err.splitlines():
        if any(ord(character) < 32 for character in line):
            yield "control characters in the error"
    limits = LARGE if case.outcome.large else SMALL
    if not SANITIZED and ran.seconds > limits["seconds"]:
        yield f"{ran.seconds:.1f} s"
    if not SANITIZED and ran.bytes > limits["bytes"]:
        yield f"{ran.bytes / 1e6:.0f} MB"
    yield from faults_of_results(case, ran)


def run_case(case, frisket):
    with tempfile.TemporaryDirectory(prefix="frisket-test-") as folder:
        ran = Ran(case, frisket, pathlib.Path(folder))
        return ran, list(faults(case, ran))


def row(case, ran, found):
    stated = {0: "inspected", 1: "inspected", 2: "misused", 3: "refused"}[case.outcome.status]
    return (f"{case.group}/{case.name}\t{stated}\t{case.outcome.status}\t{case.outcome.words}\t{ran.seconds:.2f} s\t"
            f"{ran.bytes / 1e6:.0f} MB\t{'as stated' if not found else '; '.join(found)}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("frisket")
    parser.add_argument("--seed", type=int, default=8)
    parser.add_argument("--large", action="store_true")
    parser.add_argument("--only", default="")
    parser.add_argument("--table")
    parser.add_argument("--jobs", type=int, default=2)
    asked = parser.parse_args()
    frisket = os.path.abspath(asked.frisket)
    cases = [case for case in all_cases(asked.seed)
             if (asked.large or not (case.outcome.large or case.slow)) and f"{case.group}/{case.name}".startswith(asked.only)]
    rows, wrong = [], 0
    with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
        for case, (ran, found) in zip(cases, pool.map(lambda case: run_case(case, frisket), cases)):
            rows.append(row(case, ran, found))
            if found:
                wrong += 1
                print(f"{case.group}/{case.name}: {'; '.join(found)}\n    stated: {case.outcome}\n    said: {ran.err.strip()}")
    if asked.table:
        pathlib.Path(asked.table).write_text("\n".join(rows) + "\n", "utf-8")
    print(f"{len(cases)} files, {wrong} not as stated")
    return 1 if wrong or not cases else 0


if __name__ == "__main__":
    sys.exit(main())
