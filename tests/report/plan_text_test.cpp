// The plan as a table: numbers to draw by, checked against a printer's sheet.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <sstream>

#include "frisket/check.hpp"
#include "frisket/report.hpp"
#include "report/sample_report.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using testing::Not;

const std::filesystem::path tickets = std::filesystem::path(FRISKET_SOURCE_DIR) / "fixtures/tickets";

Job read(const std::string& name) { return read_job(tickets / name, {}, all_limits()); }

/// Words of the line that starts with `start`, blanks run together.
std::string line_of(const std::string& text, const std::string& start) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string joined;
    for (std::string word; words >> word;) joined += (joined.empty() ? "" : " ") + word;
    if (joined.starts_with(start)) return joined;
  }
  return "";
}

// 3.6875 + 3.6875 + 3.625 in and folds 3.625, 7.3125 outside, 3.6875, 7.375 inside: four folding guides.
TEST(PlanText, OfALetterFoldHasThePublishedNumbers) {
  const std::string text = plan_text(leaflet_job(), 300);
  EXPECT_EQ(line_of(text, "flat"), "flat 11 x 8.5 in");
  EXPECT_EQ(line_of(text, "finished"), "finished 3.6875 x 8.5 in");
  EXPECT_EQ(line_of(text, "page"), "page 11.25 x 8.75 in, 3375 x 2625 pixels at 300 dpi, with the bleed");
  EXPECT_EQ(line_of(text, "tucked panel"), "tucked panel 0 3.625 8.5 3 5/8 x 8 1/2");
  EXPECT_EQ(line_of(text, "front cover"), "front cover 7.3125 3.6875 8.5 3 11/16 x 8 1/2");
  EXPECT_EQ(line_of(text, "2, from the left"), "2, from the left 7.3125 7 5/16 0.125");
  const std::string inside = text.substr(text.find("inside as seen"));
  EXPECT_EQ(line_of(inside, "1, from the left"), "1, from the left 3.6875 3 11/16 0.125");
  const std::string safe = inside.substr(inside.find("safe area"));
  EXPECT_EQ(line_of(safe, "inside centre"), "inside centre 3.8125 0.25 3.4375 8");
}

TEST(PlanText, DoesNotRoundThirtySecondsOfAnInch) {
  const std::string text = plan_text(read("roll-five.json"), 300);
  EXPECT_EQ(line_of(text, "tucked panel 2"), "tucked panel 2 3.1875 3.28125 5.5 3 9/32 x 5 1/2");
}

// 64 pages of 0.0047 in: 15 x 0.0047 = 0.0705 in, 21.2 px at 300 dpi (by geometry).
TEST(PlanText, ListsTheCreepOfEverySheet) {
  const std::string text = plan_text(read("saddle-booklet.json"), 300);
  EXPECT_EQ(line_of(text, "1 1, 2,"), "1 1, 2, 63, 64 0 0.0");
  EXPECT_EQ(line_of(text, "16 31,"), "16 31, 32, 33, 34 0.0705 21.2");
  EXPECT_THAT(plan_text(leaflet_job(), 300), Not(HasSubstr("creep")));
}

TEST(PlanText, OfACaseLeavesTheTurnInsTogether) {
  const std::string text = plan_text(read("case.json"), 300);
  EXPECT_THAT(text, HasSubstr("round it, a turn-in of 20 mm on every edge"));
  EXPECT_EQ(line_of(text, "8, from the top"), "8, from the top 238 1.5");
  EXPECT_EQ(line_of(text, "spine 176"), "spine 176 20 17 218");
}

TEST(PlanText, OfWorkThatIsNotFoldedHasNoSides) {
  const std::string text = plan_text(flat_job({Length::from_mm(210), Length::from_mm(297)}, {}, {}), 300);
  EXPECT_THAT(text, Not(HasSubstr("inside")));
  EXPECT_THAT(text, Not(HasSubstr("fold")));
  EXPECT_THAT(text, Not(HasSubstr("bleed\n")));
}

TEST(PlanText, FitsATerminalOfEightyColumns) {
  int count = 0;
  for (const auto& folder : {tickets, tickets / "plans"}) {
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      const std::string name = std::filesystem::relative(entry.path(), tickets);
      if (!entry.is_regular_file() || name.find("press") != std::string::npos) continue;
      std::istringstream lines(plan_text(read(name), 300));
      for (std::string line; std::getline(lines, line);) {
        EXPECT_LE(line.size(), 80U) << name << ": " << line;
        EXPECT_FALSE(line.ends_with(' ')) << name << ": " << line;
      }
      ++count;
    }
  }
  EXPECT_GT(count, 20);
}

}  // namespace
}  // namespace frisket
