#!/usr/bin/python3
"""The demo job end to end: the clean leaflet is clear, of the faulty one exactly the planted faults are told.

Usage: demo_test.py BUILD. Draws the demo by tools/demo, which runs frisket on both versions, into a temporary
folder; the truth is fixtures/demo/faults.json. Every report is held against its schema by python3-jsonschema.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
SIDES = ("outside", "inside")
TOLERANCE = {"measured_mm": 0.1, "measured_ppi": 10}


def reports(folder):
    return {side: json.loads((folder / f"{side}.findings.json").read_text()) for side in SIDES}


def loud(report):
    return [finding for finding in report["findings"] if finding["severity"] != "note"]


def fits(finding, expected):
    for key, wanted in expected.items():
        found = finding.get(key)
        if key in TOLERANCE:
            if found is None or abs(found - wanted) > TOLERANCE[key]:
                return False
        elif found != wanted:
            return False
    return True


def check_clean(folder):
    for side, report in reports(folder).items():
        assert report["verdict"] in ("clear", "note"), (side, report["verdict"])
        assert not loud(report), (side, loud(report))
        assert all(check["outcome"] != "not-assessed" for check in report["checks"]), (side, report["checks"])


def check_faulty(folder):
    faults = json.loads((ROOT / "fixtures/demo/faults.json").read_text())
    for side, report in reports(folder).items():
        left = loud(report)
        for fault in faults:
            if fault["page"] != side or fault["expect"] is None:
                continue
            matching = [finding for finding in left if fits(finding, fault["expect"])]
            assert len(matching) == 1, (side, fault["what"], [f["message"] for f in left])
            left.remove(matching[0])
        assert not left, (side, "not planted", [f["message"] for f in left])


def check_same_bytes_again(build, out):
    again = out / "again"
    status = subprocess.run([build / "frisket", "inspect", "--ticket", out / "faulty/ticket.json", "-o", again],
                            capture_output=True, check=False).returncode
    assert status == 1, status
    for name in [f"{side}.{kind}" for side in SIDES for kind in ("findings.json", "overlay.png")]:
        assert (again / name).read_bytes() == (out / "faulty" / name).read_bytes(), name


def main():
    build = pathlib.Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory(prefix="frisket-demo-") as folder:
        out = pathlib.Path(folder)
        subprocess.run([ROOT / "tools/demo", out, "--build", build], check=True)
        check_clean(out / "clean")
        check_faulty(out / "faulty")
        check_same_bytes_again(build, out)
        found = [out / version / f"{side}.findings.json" for version in ("clean", "faulty") for side in SIDES]
        subprocess.run([ROOT / "tools/validate_json", ROOT / "src/schemas/report.schema.json", *found], check=True)
    print("the demo tells what was planted and nothing else")


if __name__ == "__main__":
    main()
