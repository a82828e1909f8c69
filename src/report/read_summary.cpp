#include <algorithm>
#include <set>

#include "frisket/report.hpp"
#include "report/read_json.hpp"

namespace frisket {
namespace {

constexpr std::array all_sides{Side::inside, Side::outside};
constexpr std::array all_verdicts{Verdict::fix, Verdict::review, Verdict::not_assessed, Verdict::note,
                                  Verdict::clear};

PageOutcome outcome_of(const Json& json) {
  PageOutcome outcome;
  outcome.job = text_or_empty(json.at("job"));
  if (!json.at("side").is_null()) outcome.side = named(json.at("side"), all_sides, side_name);
  outcome.verdict = named(json.at("verdict"), all_verdicts, verdict_name);
  outcome.fix = json.at("fix");
  outcome.review = json.at("review");
  outcome.note = json.at("note");
  outcome.accepted = json.at("accepted");
  outcome.not_assessed = json.at("not_assessed");
  return outcome;
}

SummaryEntry entry_of(const Json& json) {
  SummaryEntry entry;
  entry.file = json.at("file");
  entry.number = json.at("number");
  entry.ticket = text_or_empty(json.at("ticket"));
  entry.error = text_or_empty(json.at("error"));
  if (!json.at("verdict").is_null()) entry.outcome = outcome_of(json);
  entry.findings_file = text_or_empty(json.at("findings_file"));
  entry.overlay_file = text_or_empty(json.at("overlay_file"));
  entry.position = json.value("position", std::size_t{0});
  return entry;
}

std::string name_of(const Shard& shard) {
  return "part " + std::to_string(shard.part) + " of " + std::to_string(shard.of);
}

[[noreturn]] void throw_missing(int part, int of) {
  throw Error(name_of({part, of}) + " is missing; run it with --shard " + std::to_string(part) + "/" +
              std::to_string(of));
}

/// Sorts the parts and makes sure that each is there once.
void require_all_parts(std::vector<Summary>& parts) {
  for (const Summary& part : parts)
    if (!part.shard) throw Error("the summary of a whole run cannot be joined with parts of another");
  std::ranges::sort(parts, {}, [](const Summary& part) { return part.shard->part; });
  const Shard first = *parts.front().shard;
  int next = 1;
  for (const Summary& part : parts) {
    if (part.shard->of != first.of || part.shard->files != first.files)
      throw Error(name_of(*part.shard) + " and " + name_of(first) +
                  " are of different runs; remove the older one, or run it again");
    if (part.shard->part < next) throw Error(name_of(*part.shard) + " is given twice");
    if (part.shard->part > next) throw_missing(next, first.of);
    ++next;
  }
  if (next <= first.of) throw_missing(next, first.of);
}

/// Every file must be there, and no two pages may have the same results.
void require_whole(const std::vector<SummaryEntry>& pages, std::size_t files) {
  std::set<std::size_t> positions;
  std::set<std::string> results;
  for (const SummaryEntry& page : pages) {
    positions.insert(page.position);
    if (!page.findings_file.empty() && !results.insert(page.findings_file).second)
      throw Error("two pages were both written to " + page.findings_file + "; rename one");
  }
  if (positions.size() != files || (files > 0 && *positions.rbegin() != files - 1))
    throw Error("the parts do not add up to one run: the folder changed between them; run them again");
}

}  // namespace

Summary read_summary(const std::string& text) {
  const Json json = read_document(text, "frisket_summary");
  return reading("summary", [&] {
    Summary summary;
    summary.complete = json.at("complete");
    const Json& left_alone = json.at("left_alone");
    summary.hidden = left_alone.at("hidden");
    summary.unknown = left_alone.at("unknown");
    summary.not_asked = left_alone.at("not_asked");
    if (json.contains("shard"))
      summary.shard =
          Shard{json.at("shard").at("part"), json.at("shard").at("of"), json.at("shard").at("files")};
    for (const Json& page : json.at("pages")) summary.pages.push_back(entry_of(page));
    return summary;
  });
}

Summary in_a_row(std::vector<Summary> runs) {
  Summary all;
  for (Summary& run : runs) {
    all.complete = all.complete && run.complete;
    all.hidden += run.hidden;
    all.unknown += run.unknown;
    all.not_asked += run.not_asked;
    std::ranges::move(run.pages, std::back_inserter(all.pages));
  }
  return all;
}

Summary joined(std::vector<Summary> parts) {
  require_all_parts(parts);
  const std::size_t files = parts.front().shard->files;
  Summary whole = in_a_row(std::move(parts));
  std::ranges::sort(whole.pages, {},
                    [](const SummaryEntry& page) { return std::pair(page.position, page.number); });
  require_whole(whole.pages, files);
  return whole;
}

}  // namespace frisket
