#include "cli/result_names.hpp"

namespace frisket {
namespace {

/// Findings are there before their overlay, so that an overlay without any is not ours.
bool is_overlay(const std::filesystem::path& file, const std::string& name) {
  const std::string ending = overlay_name("");
  if (!name.ends_with(ending)) return false;
  const std::string page = name.substr(0, name.size() - ending.size());
  return std::filesystem::exists(file.parent_path() / findings_name(page));
}

}  // namespace

std::string findings_name(const std::string& name) { return name + ".findings.json"; }
std::string overlay_name(const std::string& name) { return name + ".overlay.png"; }
std::string report_name(const std::string& name) { return name + ".report.html"; }

bool is_result(const std::filesystem::path& file) {
  const std::string name = file.filename().string();
  const bool of_run =
      name == summary_name || name == csv_name || name == run_report_name || name == job_report_name;
  const bool of_part = (name.starts_with("summary-") && name.ends_with(".json")) ||
                       (name.starts_with("findings-") && name.ends_with(".csv"));
  return name.starts_with(".frisket") || name.ends_with(findings_name("")) ||
         name.ends_with(report_name("")) || of_run || of_part || is_overlay(file, name);
}

}  // namespace frisket
