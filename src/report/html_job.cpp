#include "report/html_job.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "frisket/check.hpp"
#include "report/html_text.hpp"

namespace frisket {
namespace {

std::string size_text(const Size& size, Unit unit) {
  return to_exact_text(size.width, unit) + " × " + to_exact_text(size.height, unit);
}

std::string edges_text(const Edges& edges, Unit unit) {
  if (edges == Edges::all(edges.top)) return to_exact_text(edges.top, unit);
  std::string text;
  for (const Edge edge : all_edges)
    text +=
        (text.empty() ? "" : ", ") + std::string(edge_name(edge)) + " " + to_exact_text(edges.at(edge), unit);
  return text;
}

std::string limit_text(const Limit& limit, Unit unit) {
  if (const auto* length = std::get_if<Length>(&limit.value)) return to_exact_text(*length, unit);
  if (const auto* edges = std::get_if<Edges>(&limit.value)) return edges_text(*edges, unit);
  return std::to_string(std::lround(std::get<double>(limit.value))) + " ppi";
}

std::string source_text(LimitSource source) {
  switch (source) {
    case LimitSource::standard:
      return "default; ask the printer";
    case LimitSource::printer:
      return "the printer's file";
    case LimitSource::ticket:
      return "the job ticket";
    case LimitSource::flag:
      return "the command line";
  }
  return "";
}

/// "safe" as a person says it.
std::string limit_title(std::string_view key) {
  if (key == "safe") return "Safe zone";
  if (key == "fold_safe") return "Clear of folds";
  if (key == "resolution.wanted") return "Resolution wanted";
  if (key == "resolution.least") return "Resolution, at least";
  if (key == "resolution.line_art") return "Line art wanted";
  std::string title(key);
  std::ranges::replace(title, '_', ' ');
  title.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(title.front())));
  return title;
}

std::string fact(std::string_view name, std::string_view value) {
  return "<div>" + html_element("dt", name) + html_element("dd", value) + "</div>\n";
}

std::string folds_text(const SideLayout& layout, Unit unit) {
  std::string text;
  const auto list = [&](const std::vector<Length>& folds, const std::string& from) {
    if (folds.empty()) return;
    if (!text.empty()) text += "; ";
    for (std::size_t i = 0; i < folds.size(); ++i)
      text += (i == 0 ? "" : i + 1 == folds.size() ? " and " : ", ") + to_exact_text(folds[i], unit);
    text += from;
  };
  list(layout.folds, " from the left");
  list(layout.folds_y, " from the top");
  return text;
}

std::string limits_table(const Job& job) {
  const std::vector<LimitSpec> specs = all_limits();
  std::string rows;
  for (const auto& [key, limit] : job.limits.all()) {
    const auto spec = std::ranges::find(specs, key, &LimitSpec::key);
    const std::string help = spec == specs.end() ? "" : std::string(spec->help);
    rows += "<tr>" + html_element("th", limit_title(key), "scope=\"row\"") +
            html_element("td", limit_text(limit, job.unit)) + html_element("td", source_text(limit.from)) +
            html_element("td", help) + "</tr>\n";
  }
  return "<table>\n<caption>What the pages were held against</caption>\n<thead><tr><th "
         "scope=\"col\">Limit</th>"
         "<th scope=\"col\">Value</th><th scope=\"col\">Said by</th><th "
         "scope=\"col\">Meaning</th></tr></thead>\n"
         "<tbody>\n" +
         rows + "</tbody></table>\n";
}

}  // namespace

std::string html_job(const Job& job) {
  std::string html = "<section class=\"job\">\n<h2>The job</h2>\n<dl class=\"block\">\n";
  if (!job.name.empty()) html += fact("Job", job.name);
  html += fact("Flat, trimmed", size_text(job.trim, job.unit));
  if (job.finished != job.trim) html += fact("Finished", size_text(job.finished, job.unit));
  html += fact("Bleed", edges_text(job.bleed, job.unit)) + fact("Safe zone", edges_text(job.safe, job.unit));
  if (job.spine) html += fact("Spine", to_exact_text(*job.spine, job.unit));
  if (job.folded) {
    html += fact("Folds, outside", folds_text(job.outside, job.unit));
    html += fact("Folds, inside", folds_text(job.inside, job.unit));
  }
  return html + "</dl>\n<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"Limits\">" +
         limits_table(job) + "</div>\n</section>\n";
}

}  // namespace frisket
