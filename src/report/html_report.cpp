// A page's report is a whole document; the report of a run is these joined.
#include <algorithm>
#include <map>
#include <vector>

#include "frisket/report.hpp"
#include "report/html_contact.hpp"
#include "report/html_document.hpp"
#include "report/html_job.hpp"
#include "report/html_page.hpp"
#include "report/html_panels.hpp"
#include "report/html_pieces.hpp"
#include "report/whole_file.hpp"

namespace frisket {
namespace {

/// What a run's report has to know of a page before it is written; the page itself is read again then.
struct Known {
  std::filesystem::path file;
  std::string anchor, own_anchor;  ///< as it came, and as it is here: pages of two runs may be called alike
  ContactCard card;
  std::string job, side;
  bool failed = false;
};

Known known_of(const ReportPart& part) {
  if (!part.error.empty()) return {part.file, "", "", failed_card(part.shown, part.error), "", "", true};
  const std::string document = read_report_file(part.file);
  try {
    const std::string card = piece_of(document, "card");
    const std::string anchor = attribute_of(card, "data-page");
    return {part.file,
            anchor,
            anchor,
            {card, attribute_of(card, "data-verdict")},
            piece_of(document, "job"),
            attribute_of(piece_of(document, "page"), "data-side")};
  } catch (const Error& error) {
    throw Error(part.file.string() + " " + error.what());
  }
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  if (from == to) return text;
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

/// An id stands only once in a document.
void make_anchors_unique(std::vector<Known>& pages) {
  std::map<std::string, int> seen;
  for (Known& page : pages) {
    if (page.failed || ++seen[page.anchor] == 1) continue;
    page.own_anchor += "r" + std::to_string(seen[page.anchor]);
    page.card.html = replaced(page.card.html, page.anchor, page.own_anchor);
  }
}

/// The page as it stands in this report.
std::string article_of(const Known& page) {
  return replaced(piece_of(read_report_file(page.file), "page"), page.anchor, page.own_anchor);
}

using Group = std::vector<const Known*>;

/// Pages of one job that stand one after the other.
std::vector<Group> groups_of(const std::vector<Known>& pages) {
  std::vector<Group> groups;
  for (const Known& page : pages) {
    if (page.failed) continue;
    if (groups.empty() || groups.back().front()->job != page.job) groups.emplace_back();
    groups.back().push_back(&page);
  }
  return groups;
}

/// The one page of a side; none where there are more: then nobody knows which belong to one piece.
const Known* only_page(const Group& group, std::string_view side) {
  if (std::ranges::count(group, side, &Known::side) != 1) return nullptr;
  return *std::ranges::find(group, side, &Known::side);
}

/// Both sides of a folded piece, read as one. Empty where they are not both there.
std::string folded_piece(const Group& group) {
  const Known* outside = only_page(group, "outside");
  const Known* inside = only_page(group, "inside");
  if (!outside || !inside) return "";
  return html_folded_piece(article_of(*outside), article_of(*inside));
}

void write_group(WholeFile& out, const Group& group) {
  const std::string folded = folded_piece(group);
  out.write("<section class=\"group\" aria-label=\"Pages of a job\">\n" + group.front()->job);
  for (const Known* page : group) {
    const std::string article = article_of(*page);
    out.write(folded.empty() ? article : without_pieces(article, "panels"));
  }
  out.write(folded + "</section>\n");
}

}  // namespace

std::string report_html(const Raster& raster, const Report& report,
                        const std::vector<std::string>& file_notes) {
  const HtmlPage page = html_page(raster, report, file_notes);
  HtmlCounts counts;
  counts.add(verdict_name(report.verdict));
  // The card is for the contact sheet of a run: here it would only repeat the page.
  return html_opening(report.job.name, counts) + "<template>\n" + html_piece("card", page.card) +
         "</template>\n" + html_piece("job", html_job(report.job)) + html_piece("page", page.article) +
         html_closing();
}

void write_run_report(const std::filesystem::path& file, const std::string& title,
                      std::span<const ReportPart> parts) {
  std::vector<Known> pages;
  for (const ReportPart& part : parts) pages.push_back(known_of(part));
  make_anchors_unique(pages);
  std::vector<ContactCard> cards;
  HtmlCounts counts;
  for (const Known& page : pages) {
    cards.push_back(page.card);
    counts.add(page.card.verdict);
  }
  const std::vector<Group> groups = groups_of(pages);
  WholeFile out(file);
  out.write(html_opening(title, counts));
  if (parts.size() > 1 || groups.empty()) out.write(html_contact_sheet(std::move(cards), groups.size() > 1));
  for (const Group& group : groups) write_group(out, group);
  out.write(html_closing());
  out.finish();
}

}  // namespace frisket
