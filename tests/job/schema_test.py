"""Ticket and printer files against their JSON Schemas, by a validator that is not ours (python3-jsonschema).

Every good ticket in fixtures validates; every bad one does not, but for faults that a schema cannot see.
Tickets may hold // comments, which JSON itself does not know: they are taken out first.
"""
import json
import pathlib
import re
import sys

from jsonschema import Draft202012Validator

ROOT = pathlib.Path(__file__).resolve().parents[2]
TICKETS = ROOT / "fixtures" / "tickets"

# Arithmetic, other files, JSON itself, and texts whose meaning only the reader knows.
ONLY_THE_READER_SEES = {
    "panels-do-not-add-up", "equal-letter-panels", "outside-not-mirrored", "safe-over-half", "trim-of-nothing",
    "trim-huge", "trim-unknown-name", "trim-unknown-unit", "panel-of-nothing", "least-above-wanted",
    "missing-printer", "printer-with-trim", "key-twice", "number-too-large", "flap-too-wide", "hinge-wider-than-page",
    "spine-of-nothing"}
NO_JSON = {"nan", "infinity", "cut-short", "empty"}

STRING_OR_COMMENT = re.compile(r'"(?:\\.|[^"\\])*"|//[^\n]*|/\*.*?\*/', re.S)


def refuse_constant(word):
    raise ValueError(f"{word} is not JSON")


def read(path):
    text = STRING_OR_COMMENT.sub(lambda m: m[0] if m[0].startswith('"') else " ", path.read_text("utf-8"))
    return json.loads(text, parse_constant=refuse_constant)


def validator(name):
    schema = json.loads((ROOT / "src" / "schemas" / name).read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def main():
    ticket, printer = validator("ticket.schema.json"), validator("printer.schema.json")
    faults = []
    good = [p for p in sorted(ROOT.glob("fixtures/**/*.json")) if "bad" not in p.parts]
    good = [(path, value) for path in good if isinstance(value := read(path), dict)]
    for path, value in good:
        if "frisket_ticket" in value or "frisket_printer" in value:
            schema = ticket if "frisket_ticket" in value else printer
            faults += [f"{path}: should validate: {e.json_path}: {e.message}" for e in schema.iter_errors(value)]
    bad = sorted((TICKETS / "bad").glob("*.json"))
    for path in bad:
        try:
            valid = ticket.is_valid(read(path))
        except ValueError:
            if path.stem not in NO_JSON:
                faults.append(f"{path}: is not JSON, though its fault is another")
            continue
        if valid != (path.stem in ONLY_THE_READER_SEES):
            faults.append(f"{path}: {'validates, though it is bad' if valid else 'should be told by the reader only'}")
    if len(good) < 15 or len(bad) < 40:
        faults.append("too few tickets were found")
    print(*faults, f"{len(good)} good and {len(bad)} bad tickets", sep="\n")
    return 1 if faults else 0


sys.exit(main())
