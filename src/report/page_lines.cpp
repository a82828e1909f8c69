// One page as a line of JSON, and as rows of a table.
#include <array>

#include "frisket/report.hpp"
#include "report/read_json.hpp"
#include "report/summary_entry.hpp"

namespace frisket {
namespace {

/// The columns that a finding has under the same name in its report.
constexpr std::array finding_columns{"id",          "check",       "kind",         "severity",
                                     "edge",        "fold",        "panel",        "panel_name",
                                     "measured_mm", "required_mm", "measured_ppi", "required_ppi"};
constexpr std::array box_columns{"x", "y", "width", "height"};
constexpr std::array accepted_columns{"who", "why"};  ///< empty where nobody lets the finding pass

/// Spreadsheets take a text that begins with one of these for a formula and run it; an apostrophe before it
/// makes it text (OWASP, CSV Injection).
bool looks_like_formula(const std::string& text) {
  return !text.empty() && std::string_view("=+-@\t\r\n|%").find(text.front()) != std::string_view::npos;
}

/// RFC 4180, section 2: quotes round what holds quotes, commas or line ends; quotes within are doubled.
std::string cell(std::string text) {
  if (looks_like_formula(text)) text.insert(0, "'");
  if (text.find_first_of(",\"\r\n;") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + "\"";
}

std::string cell(const Json& value) {
  if (value.is_null()) return "";
  return value.is_string() ? cell(value.get<std::string>()) : value.dump();
}

std::string row(const std::vector<std::string>& cells) {
  std::string line = cells.front();
  for (std::size_t i = 1; i < cells.size(); ++i) line += "," + cells[i];
  return line + "\r\n";
}

std::vector<std::string> page_cells(const SummaryEntry& entry) {
  const bool sided = entry.outcome && entry.outcome->side;
  return {cell(entry.file), std::to_string(entry.number), entry.outcome ? cell(entry.outcome->job) : "",
          sided ? std::string(side_name(*entry.outcome->side)) : ""};
}

std::string finding_row(const SummaryEntry& entry, const Json& finding) {
  std::vector<std::string> cells = page_cells(entry);
  for (const char* column : finding_columns) cells.push_back(cell(finding.value(column, Json(nullptr))));
  const Json& box = finding.at("box_mm");
  for (const char* column : box_columns) cells.push_back(box.is_null() ? "" : cell(box.at(column)));
  cells.push_back(cell(finding.at("message")));
  cells.push_back(cell(finding.at("advice")));
  const Json accepted = finding.value("accepted", Json::object());
  for (const char* column : accepted_columns) cells.push_back(cell(accepted.value(column, Json(nullptr))));
  return row(cells);
}

/// The reason stands where findings have their message.
std::string error_row(const SummaryEntry& entry) {
  std::vector<std::string> cells = page_cells(entry);
  for (const std::string_view column : finding_columns)
    cells.emplace_back(column == "severity" ? "error" : "");
  cells.resize(cells.size() + box_columns.size());
  cells.push_back(cell(entry.error));
  cells.resize(cells.size() + 1 + accepted_columns.size());
  return row(cells);
}

}  // namespace

std::string json_line(const SummaryEntry& entry, const std::string& findings) {
  Json json = entry_json(entry);
  json["findings"] =
      findings.empty() ? Json::array() : read_document(findings, "frisket_report").at("findings");
  // ASCII alone: nothing in a line can steer the terminal it may end up on.
  return json.dump(-1, ' ', true, Json::error_handler_t::replace) + "\n";
}

std::string csv_heading() {
  std::vector<std::string> cells{"file", "number", "job", "side"};
  cells.insert(cells.end(), finding_columns.begin(), finding_columns.end());
  for (const std::string column : box_columns) cells.push_back(column + "_mm");
  cells.insert(cells.end(), {"message", "advice"});
  for (const std::string column : accepted_columns) cells.push_back("accepted_" + column);
  return row(cells);
}

std::string csv_rows(const SummaryEntry& entry, const std::string& findings) {
  if (!entry.error.empty()) return error_row(entry);
  return reading("report", [&] {
    std::string rows;
    const Json json = read_document(findings, "frisket_report");
    for (const Json& finding : json.at("findings")) rows += finding_row(entry, finding);
    return rows;
  });
}

}  // namespace frisket
