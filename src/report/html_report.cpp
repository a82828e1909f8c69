// A page's report is a whole document; the report of a run is these joined. Each piece stands between
// comments, which no text from outside can contain: it is escaped.
#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <vector>

#include "frisket/report.hpp"
#include "report/html_document.hpp"
#include "report/html_job.hpp"
#include "report/html_page.hpp"
#include "report/html_text.hpp"
#include "report/whole_file.hpp"

namespace frisket {
namespace {

std::string piece(std::string_view name, const std::string& html) {
  return "<!--" + std::string(name) + "-->\n" + html + "<!--/" + std::string(name) + "-->\n";
}

std::string between(const std::string& text, std::string_view from, std::string_view to) {
  const std::size_t start = text.find(from);
  const std::size_t end = start == std::string::npos ? start : text.find(to, start + from.size());
  if (end == std::string::npos) throw Error("is not a report of a page");
  return text.substr(start + from.size(), end - start - from.size());
}

std::string piece_of(const std::string& document, std::string_view name) {
  return between(document, "<!--" + std::string(name) + "-->\n", "<!--/" + std::string(name) + "-->\n");
}

std::string read(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw Error("cannot read " + file.string() + "; inspect the page again");
  return {std::istreambuf_iterator<char>(stream), {}};
}

std::string pieces_of(const std::filesystem::path& file, std::string_view name) {
  try {
    return piece_of(read(file), name);
  } catch (const Error& error) {
    throw Error(file.string() + " " + error.what());
  }
}

/// A card of the contact sheet, and how it is sorted.
struct Card {
  std::string html, verdict;
  std::size_t rank;
};

std::size_t rank_of(std::string_view verdict) {
  constexpr std::array<std::string_view, 6> order{"failed", "fix", "review", "not-assessed", "note", "clear"};
  return static_cast<std::size_t>(std::ranges::find(order, verdict) - order.begin());
}

Card card_of(const ReportPart& part) {
  Card card;
  if (part.error.empty()) {
    card.html = pieces_of(part.file, "card");
    card.verdict = between(card.html, "data-verdict=\"", "\"");
  } else {
    card.verdict = "failed";
    card.html = "<li class=\"card\" data-verdict=\"failed\" data-checks=\"\"" +
                html_attribute("data-name", part.shown) + "><div><span class=\"name\">" +
                html_escaped(part.shown) +
                "</span><span class=\"words\">Could not be inspected: " + html_escaped(part.error) +
                "</span></div></li>\n";
  }
  card.rank = rank_of(card.verdict);
  return card;
}

std::string contact_sheet(std::vector<Card> cards) {
  std::ranges::stable_sort(cards, {}, &Card::rank);
  std::string html =
      "<section class=\"contact\" aria-label=\"All pages\">\n<h2>All pages</h2>\n"
      "<div class=\"filter\" hidden></div>\n<p class=\"shown\" role=\"status\"></p>\n<ol class=\"cards\">\n";
  for (const Card& card : cards) html += card.html;
  return html + "</ol>\n</section>\n";
}

/// The jobs of all pages; one line where they are the same.
std::vector<std::string> jobs_of(std::span<const ReportPart> parts) {
  std::vector<std::string> jobs;
  for (const ReportPart& part : parts) {
    if (!part.error.empty()) continue;
    std::string job = pieces_of(part.file, "job");
    if (std::ranges::find(jobs, job) == jobs.end()) jobs.push_back(std::move(job));
  }
  return jobs;
}

}  // namespace

std::string report_html(const Raster& raster, const Report& report,
                        const std::vector<std::string>& file_notes) {
  const HtmlPage page = html_page(raster, report, file_notes);
  HtmlCounts counts;
  counts.add(verdict_name(report.verdict));
  // The card is for the contact sheet of a run: here it would only repeat the page.
  return html_opening(report.job.name, counts) + "<template>\n" + piece("card", page.card) + "</template>\n" +
         piece("job", html_job(report.job)) + piece("page", page.article) + html_closing();
}

void write_run_report(const std::filesystem::path& file, const std::string& title,
                      std::span<const ReportPart> parts) {
  std::vector<Card> cards;
  HtmlCounts counts;
  for (const ReportPart& part : parts) {
    cards.push_back(card_of(part));
    counts.add(cards.back().verdict);
  }
  const std::vector<std::string> jobs = jobs_of(parts);
  WholeFile out(file);
  out.write(html_opening(title, counts));
  if (parts.size() > 1) out.write(contact_sheet(std::move(cards)));
  if (jobs.size() == 1) out.write(jobs.front());
  for (const ReportPart& part : parts) {
    if (!part.error.empty()) continue;
    if (jobs.size() > 1) out.write(pieces_of(part.file, "job"));
    out.write(pieces_of(part.file, "page"));
  }
  out.write(html_closing());
  out.finish();
}

}  // namespace frisket
