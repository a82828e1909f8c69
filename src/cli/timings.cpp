#include "cli/timings.hpp"

#include <algorithm>
#include <cstdio>

#include "report/printable.hpp"
#include "report/text_table.hpp"

namespace frisket {
namespace {

std::string shown(double seconds) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3f s", seconds);
  return text;
}

}  // namespace

StageSink Timings::sink() {
  return [this](std::string_view name, double seconds) { add(name, seconds); };
}

void Timings::add(std::string_view name, double seconds) {
  const auto known = std::ranges::find(stages_, name, &Stage::name);
  Stage& stage = known != stages_.end() ? *known : stages_.emplace_back(Stage{std::string(name), 0});
  stage.seconds += seconds;
}

std::string Timings::text(std::string_view page) const {
  double total = 0;
  std::vector<TableRow> rows;
  for (const Stage& stage : stages_) {
    rows.push_back({stage.name, shown(stage.seconds)});
    total += stage.seconds;
  }
  rows.push_back({"all", shown(total)});
  return printable(page) + "\n" + text_table(rows);
}

}  // namespace frisket
