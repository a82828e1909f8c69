#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "frisket/inspect.hpp"

namespace frisket {

/// The report of one page as JSON (design: the report), UTF-8, two-space indent, ends with a newline. Numbers
/// that cannot be known are null; text that is not UTF-8 has its bad bytes replaced.
std::string report_json(const Report& report);

/// The verdict in one line for people: what it means, a colon, and how many findings of each severity.
std::string verdict_sentence(const Report& report);

/// One page of a run, for the summary.
struct SummaryEntry {
  std::string file;
  int number = 1;
  std::string error;               ///< why the page could not be inspected; empty where it was
  const Report* report = nullptr;  ///< null where `error` is set
  std::string findings_file;       ///< relative to the summary's folder; empty where none was written
  std::string overlay_file;        ///< likewise
};
/// The summary of a run over several pages as JSON.
std::string summary_json(std::span<const SummaryEntry> pages);

/// The arithmetic of a job as JSON: `frisket plan --json`. `dpi` gives the pixel size.
std::string plan_json(const Job& job, double dpi);
/// The same as a table for people, in the job's unit.
std::string plan_text(const Job& job, double dpi);

/// A drawing of one side at full size to lay under the artwork: trim, bleed, safe zone, folds and panel
/// names, a layer each. Its canvas is the trim with the bleed, exactly. As an SVG document in millimetres.
std::string guide_svg(const Job& job, std::optional<Side> side);
/// The same as the bytes of a PDF of one page: its MediaBox and BleedBox are the canvas, its TrimBox the
/// trim, its layers optional content. Pages longer than 14,400 pt have a UserUnit (ISO 32000-1, annex C).
/// Type is in Helvetica, one of the standard fonts that every viewer brings along.
std::string guide_pdf(const Job& job, std::optional<Side> side);

/// The marks of a report as one SVG document: trim, bleed, safe zone, folds and findings, each a group of its
/// own, and a strip with the key and the verdict below the page. `scale` is overlay pixels per canvas pixel.
/// A page narrower than the strip stands in its middle. Nothing of the page itself is in it.
std::string overlay_svg(const Report& report, double scale);

/// The page, dimmed to grey, with `overlay_svg` drawn over it, as PNG bytes. The longer side of the page is
/// at most `longest_px` pixels; a page far smaller than that is enlarged by a whole number to make room for
/// the marks. Throws Error where the marks cannot be drawn.
std::vector<std::uint8_t> overlay_png(const Raster& raster, const Report& report, int longest_px = 1600);

/// Writes a file whole or not at all: to a temporary name beside it, then renamed. Throws Error.
void write_file(const std::filesystem::path& file, std::span<const std::uint8_t> bytes);
void write_file(const std::filesystem::path& file, const std::string& text);

}  // namespace frisket
