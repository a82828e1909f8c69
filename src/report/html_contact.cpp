#include "report/html_contact.hpp"

#include <algorithm>
#include <array>
#include <sstream>
#include <string_view>

#include "frisket/check.hpp"
#include "report/html_pieces.hpp"
#include "report/html_text.hpp"

namespace frisket {
namespace {

std::size_t rank_of(std::string_view verdict) {
  constexpr std::array<std::string_view, 6> order{"failed", "fix", "review", "not-assessed", "note", "clear"};
  return static_cast<std::size_t>(std::ranges::find(order, verdict) - order.begin());
}

std::string counted(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

/// "3 findings on 2 pages; not assessed on 1 page".
std::string count_text(const CheckCount& count) {
  std::string text;
  if (count.findings > 0) text = counted(count.findings, "finding") + " on " + counted(count.pages, "page");
  if (count.not_assessed > 0)
    text += (text.empty() ? "not assessed on " : "; not assessed on ") + counted(count.not_assessed, "page");
  return text.empty() ? "nothing found" : text;
}

std::string counts_html(const std::vector<ContactCard>& cards) {
  const std::map<std::string, CheckCount> counts = counts_by_check(cards);
  std::string rows;
  for (const Check& check : all_checks())
    if (const auto count = counts.find(std::string(check.name)); count != counts.end())
      rows += "<div>" + html_element("dt", check.name) + html_element("dd", count_text(count->second)) +
              "</div>\n";
  return rows.empty() ? ""
                      : "<dl class=\"block counts\" aria-label=\"Findings by check\">\n" + rows + "</dl>\n";
}

}  // namespace

ContactCard failed_card(const std::string& shown, const std::string& error) {
  return {"<li class=\"card\" data-verdict=\"failed\" data-checks=\"\" data-counts=\"\" data-job=\"\"" +
              html_attribute("data-name", shown) + "><div>" + html_element("span", shown, "class=\"name\"") +
              html_element("span", "Could not be inspected: " + error, "class=\"words\"") + "</div></li>\n",
          "failed"};
}

std::map<std::string, CheckCount> counts_by_check(const std::vector<ContactCard>& cards) {
  std::map<std::string, CheckCount> counts;
  for (const ContactCard& card : cards) {
    std::istringstream words(attribute_of(card.html, "data-counts"));
    for (std::string word; words >> word;) {
      const std::size_t colon = word.find(':');
      CheckCount& count = counts[word.substr(0, colon)];
      const std::string found = word.substr(colon + 1);
      if (found == "?")
        ++count.not_assessed;
      else if (found != "0")
        ++count.pages, count.findings += std::stoul(found);
    }
  }
  return counts;
}

std::string html_contact_sheet(std::vector<ContactCard> cards, bool many_jobs) {
  std::ranges::stable_sort(cards, {}, [](const ContactCard& card) { return rank_of(card.verdict); });
  std::string html = std::string("<section class=\"contact") + (many_jobs ? " many" : "") +
                     "\" aria-label=\"All pages\">\n<h2>All pages</h2>\n" + counts_html(cards) +
                     "<div class=\"filter\" hidden></div>\n<p class=\"shown\" role=\"status\"></p>\n"
                     "<ol class=\"cards\">\n";
  for (const ContactCard& card : cards) html += card.html;
  return html + "</ol>\n</section>\n";
}

}  // namespace frisket
