#!/usr/bin/python3
"""The speed benchmark itself: its pages are what they are said to be, its figures add up, its bounds can fail.

usage: instrument_test.py FRISKET PAGE_MAKER
"""
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

SPEED = pathlib.Path(__file__).resolve().parents[2] / "tools" / "speed"
sys.path.insert(0, str(SPEED))

import bounds
import measuring
import sheets

FRISKET, PAGE_MAKER = sys.argv.pop(1), sys.argv.pop(1)


class WholeRun(unittest.TestCase):
    """One run of the small pages."""

    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory(prefix="frisket-speed-")
        cls.out = pathlib.Path(cls.scratch.name)
        subprocess.run([SPEED / "run", "--small", "--runs", "1", "--script-runs", "1", "--out", cls.out,
                        "--frisket", FRISKET, "--page-maker", PAGE_MAKER], check=True, capture_output=True)

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def findings(self, whose, name):
        return json.loads((self.out / f"results/{whose}/{name}.findings.json").read_text())["findings"]

    def test_every_page_is_measured_three_ways(self):
        pages = json.loads((self.out / "speed.json").read_text())["pages"]
        self.assertEqual(set(pages), {"--version", *(page.name for page in sheets.SMALL)})
        for page in sheets.SMALL:
            self.assertEqual(set(pages[page.name]), {"decode", "frisket", "script"})
            for taken in pages[page.name].values():
                self.assertGreater(taken["median_s"], 0.001)
                self.assertGreater(taken["peak_mb"], 5)

    def test_frisket_finds_what_was_planted_on_the_leaflet(self):
        found = {(f["check"], f["kind"], f["edge"], f["fold"]) for f in self.findings("frisket", "small")}
        self.assertLessEqual({("safe-zone", "text-in-band", "top", None), ("bleed", "short-bleed", "bottom", None),
                              ("bleed", "sliver", "bottom", None)}, found)

    def test_the_script_finds_it_as_well(self):
        found = [(f["check"], f.get("edge")) for f in self.findings("script", "small")]
        self.assertIn(("safe-zone", "top"), found)
        self.assertGreaterEqual(found.count(("bleed", "bottom")), 2)
        self.assertIn(("folds", None), found)


class Measuring(unittest.TestCase):
    def test_time_and_memory_are_those_of_the_program(self):
        hungry = "import time; held = bytearray(300_000_000); time.sleep(0.3)"
        seconds, megabytes = measuring.run(["/usr/bin/python3", "-c", hungry])
        self.assertGreater(seconds, 0.3)
        self.assertLess(abs(megabytes - 300), 40)

    def test_an_unexpected_exit_status_is_an_error(self):
        with self.assertRaises(RuntimeError):
            measuring.run(["false"])

    def test_runs_are_interleaved(self):
        with tempfile.TemporaryDirectory() as folder:
            log = pathlib.Path(folder, "log")
            commands = {name: (["sh", "-c", f"echo {name} >> {log}"], (0,)) for name in "ab"}
            taken = measuring.interleaved(commands, {"a": 3, "b": 2})
            self.assertEqual(log.read_text().split(), list("ababa"))
            self.assertEqual(len(taken["a"].seconds), 3)


def measured(pages, decode=1.0, frisket=1.5, script=20.0, megabytes_a_pixel=5):
    """As if every page took that many seconds for 10 megapixels."""
    result = {"--version": {"frisket": measuring.Runs([0.02], [30])}}
    for page in pages:
        size = page.megapixels / 10
        peak = 50 + megabytes_a_pixel * page.megapixels
        result[page.name] = {"decode": measuring.Runs([decode * size], [40]), "frisket": measuring.Runs([frisket * size], [peak]),
                             "script": measuring.Runs([script * size], [900])}
    return result


class Bounds(unittest.TestCase):
    def missed(self, figures):
        return {bound.what for bound in bounds.of(sheets.FULL, figures) if not bound.met}

    def test_all_are_met_where_all_is_well(self):
        self.assertEqual(self.missed(measured(sheets.FULL)), set())
        self.assertGreater(len(list(bounds.of(sheets.FULL, measured(sheets.FULL)))), 12)

    def test_each_can_be_missed(self):
        faults = {
            "mean of the normal pages": measured(sheets.FULL, frisket=1.9),
            "memory from": measured(sheets.FULL, megabytes_a_pixel=8),
            "peak memory": measured(sheets.FULL, megabytes_a_pixel=6.5),
            "the script over frisket, least": measured(sheets.FULL, script=11),
        }
        for name, what, least in (("noise.png", "noise.png over letter.png", 5), ("a0-300.png", "a megapixel", 30),
                                  ("a0-300-lzw.tif", "over decoding, a0-300-lzw.tif", 30), ("scan.png", "worst where", 4),
                                  ("card.png", "100 x 100", 0.2)):
            faults[what] = measured(sheets.FULL)
            faults[what][name]["frisket"].seconds[:] = [least]
        faults["--version"] = measured(sheets.FULL)
        faults["--version"]["--version"]["frisket"].seconds[:] = [0.07]
        for what, figures in faults.items():
            with self.subTest(what):
                self.assertTrue(any(what in missed for missed in self.missed(figures)), self.missed(figures))


class Sheets(unittest.TestCase):
    def test_sizes_are_those_asked_for(self):
        pixels = {page.name: page.sheet.pixels(page.dpi) for page in sheets.FULL}
        self.assertEqual(pixels["letter.png"], (3375, 2625))  # 11.25 x 8.75 in
        self.assertEqual(pixels["a0-300.png"], (14043, 9933))  # 1189 x 841 mm, ISO 216
        self.assertEqual(pixels["card.png"], (100, 100))


if __name__ == "__main__":
    unittest.main()
