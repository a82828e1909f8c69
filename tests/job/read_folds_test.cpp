// "folds" as a ticket says it, down to the panels that come of it.
#include "job/read_folds.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::ThrowsMessage;

/// Panels along x, in inches, of a sheet of 17 x 11 in.
std::vector<double> panels(const char* folds) {
  const Layer layer{"ticket.json", LimitSource::ticket, Unit::inch, {{"folds", json::parse(folds)}}};
  const Field field = find_field(layer, "folds").value();
  const Size sheet{Length::from_inches(17), Length::from_inches(11)};
  const BothSides sides = fold_sheet(field, read_folds(field), sheet, Turn::head_to_head, Unit::inch);
  std::vector<double> widths;
  for (const Panel& panel : sides.inside.panels) {
    const bool stacked = sides.inside.folds.empty();
    widths.push_back((stacked ? panel.area.height : panel.area.width).inches());
  }
  return widths;
}

testing::Matcher<std::vector<double>> are(const std::vector<double>& widths) {
  return testing::Pointwise(testing::DoubleNear(1e-9), widths);
}

TEST(ReadFolds, TakesAKindByNameAlone) {
  EXPECT_THAT(panels(R"("letter")"), are({5.6875, 5.6875, 5.625}));
  EXPECT_THAT(panels(R"("tri-fold")"), are({5.6875, 5.6875, 5.625}));
  EXPECT_THAT(panels(R"("none")"), are({11}));
}

TEST(ReadFolds, HasThreePanelsInAZFoldAndFourInARollUnlessSaid) {
  EXPECT_THAT(panels(R"({"kind": "z"})"), are({17 / 3.0, 17 / 3.0, 17 / 3.0}));
  EXPECT_THAT(panels(R"({"kind": "z", "count": 4})"), are({4.25, 4.25, 4.25, 4.25}));
  EXPECT_THAT(panels(R"({"kind": "roll"})"), are({4.3125, 4.3125, 4.21875, 4.15625}));
  EXPECT_THAT(panels(R"({"kind": "roll", "count": 3})"), are({5.6875, 5.6875, 5.625}));
  EXPECT_THAT(panels(R"({"kind": "roll", "panels": [3.5, 3.5, 3.4, 3.35, 3.25]})"),
              are({3.5, 3.5, 3.4, 3.35, 3.25}));
}

TEST(ReadFolds, TucksTheEndThatIsNamed) {
  EXPECT_THAT(panels(R"({"kind": "letter", "tucked": "left"})"), are({5.625, 5.6875, 5.6875}));
  EXPECT_THAT(panels(R"({"kind": "letter", "tucked": "right"})"), are({5.6875, 5.6875, 5.625}));
  EXPECT_THAT(panels(R"({"kind": "letter", "along": "y", "tucked": "top"})"), are({3.625, 3.6875, 3.6875}));
  EXPECT_THAT(panels(R"({"kind": "letter", "along": "y"})"), are({3.6875, 3.6875, 3.625}));
}

// Cover stock from 0.008 in, between the book papers (up to 0.0063 in) and covers (from 0.010 in) of the US
// Joint Committee on Printing's paper standards, 1999.
TEST(ReadFolds, TellsCoverStockByNameOrCaliper) {
  const std::vector text{4.21875, 8.5625, 4.21875}, cover{4.1875, 8.625, 4.1875};
  EXPECT_THAT(panels(R"({"kind": "gate"})"), are(text));
  EXPECT_THAT(panels(R"({"kind": "gate", "stock": "text"})"), are(text));
  EXPECT_THAT(panels(R"({"kind": "gate", "caliper": 0.0063})"), are(text));
  EXPECT_THAT(panels(R"({"kind": "gate", "stock": "cover"})"), are(cover));
  EXPECT_THAT(panels(R"({"kind": "gate", "caliper": "0.010in"})"), are(cover));
}

TEST(ReadFolds, LetsTheAllowanceBeSaid) {
  EXPECT_THAT(panels(R"({"kind": "double-gate", "shorter": 0.25})"), are({4.125, 4.375, 4.375, 4.125}));
  EXPECT_THAT(panels(R"({"kind": "letter", "shorter": "0.25in"})"), are({5.75, 5.75, 5.5}));
}

TEST(ReadFolds, RefusesWhatDoesNotGoTogether) {
  const auto refuses = [](const char* folds, const char* words) {
    EXPECT_THAT([&] { panels(folds); }, ThrowsMessage<Error>(HasSubstr(words))) << folds;
  };
  refuses(R"({"kind": "gate", "stock": "text", "caliper": 0.01})",
          "has both \"stock\" and \"caliper\"; keep one");
  refuses(R"({"kind": "half", "tucked": "left"})",
          "\"folds.tucked\" does not go with a fold of kind \"half\"");
  refuses(R"({"kind": "cross", "along": "y"})", "\"folds.along\" does not go with a fold of kind \"cross\"");
  refuses(R"({"kind": "z", "shorter": 0.1})", "\"folds.shorter\" does not go with");
  refuses(R"({"kind": "none", "panels": [17]})", "\"folds.panels\" does not go with a fold of kind \"none\"");
  refuses(R"({"panels": [8.5, 8.5], "count": 2})", "does not go with a plain list of panels");
  refuses(R"({"kind": "z", "count": 4, "panels": [6, 6, 5]})", "3 panels are given; a z fold has 4");
  refuses(R"({"kind": "letter", "panels_y": [4, 4, 3]})", "list them as \"panels\"");
  refuses("[5, 6, 6]", "\"folds\" is [5,6,6]; expected a kind of fold");
}

}  // namespace
}  // namespace frisket
