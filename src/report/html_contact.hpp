#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace frisket {

/// A page on the contact sheet of a run.
struct ContactCard {
  std::string html;
  std::string verdict;  ///< as data-verdict says it: of the report, or "failed"
};

/// Of a page that could not be inspected.
ContactCard failed_card(const std::string& shown, const std::string& error);

/// All pages, the gravest verdict first, with what each check came to above them. `many_jobs`: the cards say
/// which job a page is of.
std::string html_contact_sheet(std::vector<ContactCard> cards, bool many_jobs);

/// What a page's card says of its checks, for the sheet to add up: "safe-zone:3 bleed:0 folds:?", findings of
/// each check that were not accepted, "?" where it could not be made.
struct CheckCount {
  std::size_t findings = 0, pages = 0, not_assessed = 0;
};
/// Counts by check, from the data-counts of the cards.
std::map<std::string, CheckCount> counts_by_check(const std::vector<ContactCard>& cards);

}  // namespace frisket
