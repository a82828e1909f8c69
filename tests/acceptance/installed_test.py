"""An installed frisket: the program and its version, the schemas, and a program of somebody else's that
finds the library, and nothing but the library, by find_package.

usage: installed_test.py BUILD VERSION
"""
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

import jsonschema

CMAKE_LISTS = """
cmake_minimum_required(VERSION 3.25)
project(stranger LANGUAGES CXX)
set(CMAKE_CXX_STANDARD 20)
find_package(frisket {version} EXACT REQUIRED)
add_executable(stranger stranger.cpp)
target_link_libraries(stranger PRIVATE frisket::report)
"""

# Every public header; then a page of 60 x 40 mm in one colour, at 100 dpi and without bleed.
STRANGER = """
{includes}
#include <iostream>
int main(int, char** argv) {{
  using namespace frisket;
  const ImagingLibrary imaging(argv[0]);
  const std::vector<JobFlag> flags{{{{"trim", "60x40mm"}}, {{"bleed", "3mm"}}, {{"safe", "4mm"}}}};
  Raster page;
  page.width = 236, page.height = 157, page.file_dpi = 100;
  page.rgb.assign(236 * 157 * 3, 90);
  std::cout << report_json(inspect(page, job_from_flags(flags, all_limits()), {{"page", 1, {{}}, {{}}}}));
}}
"""


def output_of(*command):
    return subprocess.run([str(word) for word in command], check=True, capture_output=True, text=True).stdout


class Installed(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.folder.cleanup)
        cls.prefix = pathlib.Path(cls.folder.name, "prefix")
        output_of("cmake", "--install", BUILD, "--prefix", cls.prefix)

    def test_the_program_says_the_version_of_the_package(self):
        self.assertEqual(output_of(self.prefix / "bin" / "frisket", "--version").strip(), f"frisket {VERSION}")

    def test_the_schemas_are_schemas(self):
        schemas = sorted((self.prefix / "share/frisket/schemas").glob("*.json"))
        self.assertTrue({"report.schema.json", "ticket.schema.json"} <= {schema.name for schema in schemas})
        for schema in schemas:
            jsonschema.Draft202012Validator.check_schema(json.loads(schema.read_text("utf-8")))

    def test_another_program_inspects_a_page(self):
        headers = sorted((self.prefix / "include/frisket").glob("*.hpp"))
        source = pathlib.Path(self.folder.name, "stranger")
        source.mkdir()
        (source / "CMakeLists.txt").write_text(CMAKE_LISTS.format(version=VERSION))
        includes = "\n".join(f"#include <frisket/{header.name}>" for header in headers)
        (source / "stranger.cpp").write_text(STRANGER.format(includes=includes))
        output_of("cmake", "-S", source, "-B", source / "build", f"-DCMAKE_PREFIX_PATH={self.prefix}")
        output_of("cmake", "--build", source / "build")
        report = json.loads(output_of(source / "build" / "stranger"))
        schema = json.loads((self.prefix / "share/frisket/schemas/report.schema.json").read_text("utf-8"))
        jsonschema.Draft202012Validator(schema).validate(report)
        self.assertEqual(report["tool"]["version"], VERSION)
        self.assertEqual(report["verdict"], "fix")
        self.assertIn("no-bleed", {finding["kind"] for finding in report["findings"]})


if __name__ == "__main__":
    BUILD, VERSION = sys.argv[1:3]
    unittest.main(argv=sys.argv[:1])
