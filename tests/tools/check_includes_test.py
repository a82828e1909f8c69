"""tools/check_includes on a small tree in order, and on the same tree with one fault planted at a time."""
import pathlib
import subprocess
import sys
import tempfile
import unittest

SCRIPT = pathlib.Path(__file__).resolve().parents[2] / "tools" / "check_includes"

IN_ORDER = {
    "CMakeLists.txt": "", "README.md": "", "DEVELOPERS.md": "", "LICENSE": "", ".gitignore": "",
    "fixtures/one.json": "{}", "tools/test": "",
    "include/frisket/units.hpp": "#pragma once\n#include <string>\n",
    "include/frisket/job.hpp": '#include "frisket/units.hpp"\n',
    "include/frisket/raster.hpp": '#include "frisket/error.hpp"\n',
    "include/frisket/page.hpp": '#include "frisket/raster.hpp"\n',
    "src/opencv.hpp": "#include <opencv2/core.hpp>\n",
    "src/job/ticket.cpp": "#include <nlohmann/json.hpp>\n",
    "src/raster/open_page.cpp": "#include <vips/vips8>\n",
    "src/page/analyse.cpp": '#include "opencv.hpp"\n#include "page/maps.hpp"\n',
    "src/checks/bleed.cpp": '#include "checks/checks.hpp"\nconst Check bleed_check{"bleed", {}, run};\n',
    "src/checks/safe_zone.cpp": '#include "page/maps.hpp"\nconst Check safe_zone_check{"safe-zone", {}, run};\n',
    "src/report/overlay_png.cpp": '#include <vips/vips8>\n#include "opencv.hpp"\n',
    "src/cli/main.cpp": '#include <CLI/CLI.hpp>\n#include "frisket/report.hpp"\n',
    "tests/checks/bleed_test.cpp": "",
    "tests/checks/planted_test.cpp": 'found("safe-zone")',
}

# What is put where, and what the one line of complaint has to say.
PLANTED = {
    "looking up": ("src/job/folds.cpp", '#include "page/maps.hpp"\n', "job may not look up to page"),
    "looking up by a public header": ("src/page/zones/zones.cpp", '#include "frisket/report.hpp"\n', "page may not look up"),
    "looking up from geometry": ("src/geometry.cpp", '#include "frisket/job.hpp"\n', "geometry may not look up"),
    "job looking at raster": ("src/job/dpi.cpp", '#include "frisket/raster.hpp"\n', "job may not look up to raster"),
    "a writer in a check": ("src/checks/wording.cpp", '#include "report/svg.hpp"\n', "checks may not look up"),
    "a loader in a check": ("src/checks/wording.cpp", '#include "raster/kind.hpp"\n', "the loaders is not for this"),
    "a check in a check": ("src/checks/bleed.cpp", IN_ORDER["src/checks/bleed.cpp"] +
                           '#include "checks/safe_zone.hpp"\n', "what two checks need lies in page/"),
    "a stage looking up": ("src/page/zones/zones.cpp", '#include "page/text/glyphs.hpp"\n', "zones may not look up to text"),
    "a stage looking beside it": ("src/page/text/glyphs.cpp", '#include "page/pictures/pictures.hpp"\n',
                                  "text may not look up to pictures"),
    "a stage looking at the whole page": ("src/page/grounds/bands.cpp", '#include "page/maps.hpp"\n',
                                          "grounds may not look up to the whole page"),
    "a stage that nobody named": ("src/page/stuff/stuff.cpp", "", "its stage is not known"),
    "libvips in a page": ("src/page/zones/zones.cpp", "#include <vips/vips8>\n", "libvips is not for this"),
    "libvips in a JSON writer": ("src/report/report_json.cpp", "#include <vips/vips.h>\n", "libvips is not for this"),
    "JSON in a page": ("src/page/zones/zones.cpp", "#  include <nlohmann/json.hpp>\n", "nlohmann/json is not for this"),
    "CLI11 in a report": ("src/report/plan.cpp", "#include <CLI/CLI.hpp>\n", "CLI11 is not for this"),
    "OpenCV not through its header": ("src/page/zones/zones.cpp", "#include <opencv2/core.hpp>\n", "OpenCV is not for this"),
    "OpenCV in the pipeline": ("src/inspect.cpp", '#include "opencv.hpp"\n', "src/opencv.hpp is not for this"),
    "OpenCV in a public header": ("include/frisket/page.hpp", "#include <opencv2/core.hpp>\n", "OpenCV is not for"),
    "a private header in a public one": ("include/frisket/page.hpp", '#include "page/maps.hpp"\n', "which is private"),
    "a public header of no layer": ("include/frisket/stuff.hpp", "", "its layer is not known"),
    "a folder of no layer": ("src/stuff/stuff.cpp", "", "its layer is not known"),
    "a file too many": ("notes.txt", "", "notes.txt: is not to lie at the top level"),
    "a folder too many": ("docs/notes.md", "", "docs: is not to lie at the top level"),
    "a check without a test": ("src/checks/folds.cpp", 'const Check folds_check{"folds", {}, run};\n', "no test"),
    "a long file": ("src/page/zones/zones.cpp", "\n" * 451, "451 lines"),
}


class CheckIncludes(unittest.TestCase):
    def complaints(self, planted=None, without=None):
        """The lines of complaint about the small tree with the files of `planted` in it and `without` gone."""
        with tempfile.TemporaryDirectory() as folder:
            for name, text in (IN_ORDER | (planted or {})).items():
                if name != without:
                    file = pathlib.Path(folder, name)
                    file.parent.mkdir(parents=True, exist_ok=True)
                    file.write_text(text, encoding="utf-8")
            for command in (["init", "-q"], ["add", "-A"]):
                subprocess.run(["git", "-C", folder, *command], check=True)
            run = subprocess.run([sys.executable, SCRIPT, folder], capture_output=True, text=True)
            lines = run.stdout.splitlines()
            self.assertEqual(run.returncode, 1 if lines else 0, run.stderr)
            return lines

    def test_a_tree_in_order_passes(self):
        self.assertEqual(self.complaints(), [])

    def test_each_planted_fault_is_told_once(self):
        for fault, (name, text, complaint) in PLANTED.items():
            with self.subTest(fault):
                lines = self.complaints({name: text})
                self.assertEqual(len(lines), 1, lines)
                self.assertIn(complaint, lines[0])
                self.assertIn(name.split("/")[0], lines[0])

    def test_what_is_missing_is_told(self):
        self.assertEqual(self.complaints(without="LICENSE"), ["LICENSE: is missing at the top level"])

    def test_an_empty_tree_does_not_pass(self):
        with tempfile.TemporaryDirectory() as folder:
            subprocess.run(["git", "-C", folder, "init", "-q"], check=True)
            run = subprocess.run([sys.executable, SCRIPT, folder], capture_output=True, text=True)
            self.assertEqual(run.returncode, 1)
            self.assertIn("no sources found", run.stdout)


if __name__ == "__main__":
    unittest.main()
