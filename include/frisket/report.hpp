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

/// A report out of what report_json() wrote: all that is in it. What is not, is empty (names of panels, the
/// job's unit and the other side), and pixels are worked out anew from millimetres; a canvas of the job's
/// size counts as trim and bleed. Throws Error where the text is no report, or one of another version of
/// frisket.
Report read_report(const std::string& json);

/// The SHA-256 of all of a job and a request that bears on a report, in hexadecimal.
std::string job_sha256(const Job& job, const PageRequest& request);

/// What an inspected page came to, in brief.
struct PageOutcome {
  std::string job;  ///< its name; empty where it has none
  std::optional<Side> side;
  Verdict verdict = Verdict::clear;
  int fix = 0, review = 0, note = 0;      ///< findings of each severity that were not accepted
  int accepted = 0;                       ///< findings that the ticket lets pass
  std::vector<std::string> not_assessed;  ///< names of the checks that could not be made
};
PageOutcome outcome_of(const Report& report);

/// One page of a run.
struct SummaryEntry {
  std::string file;
  int number = 1;
  std::string error;                     ///< why the page could not be inspected; empty where it was
  std::optional<PageOutcome> outcome{};  ///< empty where `error` is set
  std::string findings_file{};           ///< relative to the summary's folder; empty where none was written
  std::string overlay_file{};            ///< likewise
  std::size_t position = 0;              ///< of its file among those of the whole run, from 0
  /// Its ticket, as `file` is named: relative to the folder given. Empty where there is none.
  std::string ticket{};
};

/// One share of a run that was divided: `part` (from 1) of `of`.
struct Shard {
  int part = 1, of = 1;
  std::size_t files = 0;  ///< of the whole run
};

/// What a run came to.
struct Summary {
  std::vector<SummaryEntry> pages;                     ///< in the order of the run
  bool complete = true;                                ///< false where it was interrupted
  std::size_t hidden = 0, unknown = 0, not_asked = 0;  ///< files that were left alone in the folders
  std::optional<Shard> shard{};                        ///< empty for a whole run
};
std::string summary_json(const Summary& summary);
/// The inverse. Throws Error where the text is no summary, or one of another version of frisket.
Summary read_summary(const std::string& json);
/// The summary of a divided run out of those of all of its parts, in any order: what one run would have
/// written. Throws Error where a part is missing or given twice, or the parts are of different runs.
Summary joined(std::vector<Summary> parts);
/// Whole runs, or parts, one after the other.
Summary in_a_row(std::vector<Summary> runs);

/// One page as one line of JSON, ending with a newline: its entry in the summary and its findings.
/// `findings` is the content of its findings file; empty where it was not inspected.
std::string json_line(const SummaryEntry& entry, const std::string& findings);

/// Findings as a table, comma-separated (RFC 4180): a heading, then a row a finding, and one for each page
/// that could not be inspected. Texts that a spreadsheet would take for a formula begin with an apostrophe.
std::string csv_heading();
std::string csv_rows(const SummaryEntry& entry, const std::string& findings);

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

/// The report of one page as one HTML document that needs nothing beside it: the job, the page with its marks
/// in layers, a close-up of each finding, the panels. Below 1 MB. `file_notes` are the raster's. Throws Error
/// where a picture cannot be made.
std::string report_html(const Raster& raster, const Report& report,
                        const std::vector<std::string>& file_notes = {});

/// One page of a run, for the report of the run.
struct ReportPart {
  std::filesystem::path file;  ///< what report_html() made of it; not read where `error` is set
  std::string shown;           ///< the page as people know it
  std::string error;           ///< why the page could not be inspected; empty where it was
};
/// Joins the reports of pages into one document with a contact sheet; holds one of them in memory at a time.
/// Throws Error where one cannot be read or the result cannot be written.
void write_run_report(const std::filesystem::path& file, const std::string& title,
                      std::span<const ReportPart> parts);

/// Writes a file whole or not at all: to a temporary name beside it, then renamed. Throws Error.
void write_file(const std::filesystem::path& file, std::span<const std::uint8_t> bytes);
void write_file(const std::filesystem::path& file, const std::string& text);

}  // namespace frisket
