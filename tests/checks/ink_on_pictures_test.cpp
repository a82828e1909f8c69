// safe-zone on photographs: type and drawings that are found there only by what a renderer's ink is like.
#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

constexpr Canvas card{-3.175, -3.175, 86.35, 66.35};

/// A card of 80 x 60 mm with the bleed and the safe zone of the letter page.
Job card_job() {
  Job job = letter_fold_job();
  job.trim = job.finished = {Length::from_mm(80), Length::from_mm(60)};
  job.folded = false;
  return job;
}

std::string photograph(unsigned seed) {
  return image(card.x, card.y, card.width, card.height, photograph_png(1020, 784, seed));
}

/// The one finding of the card that is more than a note; a failed test where there is another number of them.
Finding only_fault(const Report& report) {
  EXPECT_EQ(fault_count(report), 1U) << told(report);
  const auto found = faults(report, "safe-zone");
  return found.size() == 1 ? found[0] : Finding{};
}

Finding only_fault_of(const std::string& drawing) {
  return only_fault(inspect_page(render(drawing, 300, card), card_job(), std::nullopt));
}

void expect_whole(const Finding& finding, const Rect& ink) {
  EXPECT_NEAR(finding.whole.left().mm(), ink.left().mm(), mm_per_px);
  EXPECT_NEAR(finding.whole.top().mm(), ink.top().mm(), mm_per_px);
  EXPECT_NEAR(finding.whole.right().mm(), ink.right().mm(), mm_per_px);
  EXPECT_NEAR(finding.whole.bottom().mm(), ink.bottom().mm(), mm_per_px);
}

TEST(InkOnPictures, SmallTypeIsFoundBesideLargeInkOfManyColours) {
  std::string drawing = photograph(7);
  const std::vector<std::string> inks{"#ffffff", "#000000", "#f7d038", "#7a1020", "#00a0c0", "#3d1f6e"};
  for (std::size_t i = 0; i < inks.size(); ++i)
    drawing += text(8.0 + 11.0 * static_cast<double>(i), 45, 20, "M", "fill='" + inks[i] + "'");
  const auto line = [](const std::string& fill) {
    return text_with_top(30, 3.0, 6, "from nine until noon", "fill='" + fill + "'");
  };
  const Finding finding = only_fault_of(drawing + line("#ffe9d0"));
  EXPECT_EQ(finding.kind, "text-in-band");
  expect_whole(finding, ink_of(line("black"), card));
}

TEST(InkOnPictures, ALightDiscKeepsItselfWhenItsGlowIsTakenOff) {
  const std::string glow =
      "<defs><filter id='f' filterUnits='userSpaceOnUse' x='20' y='-3' width='40' height='40'>"
      "<feGaussianBlur stdDeviation='0.9'/></filter></defs>"
      "<circle cx='40' cy='14' r='11' fill='black' filter='url(#f)' opacity='0.5'/>";
  const std::string disc = "<circle cx='40' cy='14' r='11' fill='white'/>";
  const std::string star = "<path d='M40 7l2 5h5l-4 3.5 1.5 5-4.5-3-4.5 3 1.5-5-4-3.5h5z' fill='#3a2515'/>";
  const Finding finding = only_fault_of(photograph(5) + glow + disc + star);
  expect_whole(finding, Rect::from_sides(Length::from_mm(29), Length::from_mm(3), Length::from_mm(51),
                                         Length::from_mm(25)));
}

Report of_jpeg(const std::string& drawing) {
  return inspect_page(as_jpeg(render(drawing, 300, card), 85), card_job(), std::nullopt);
}

TEST(InkOnPictures, AHeadlineIsFoundOnAJpegBesideInkOfNearlyItsColour) {
  const std::string beside = text(12, 50, 36, "MEADOW", "fill='#ffe9d0'");
  const auto line = [](const std::string& fill) {
    return text_with_top(30, 3.0, 14, "Lantern", "fill='" + fill + "'");
  };
  const Finding finding = only_fault(of_jpeg(photograph(7) + beside + line("#ffffff")));
  EXPECT_EQ(finding.kind, "text-in-band");
  const Rect ink = ink_of(line("black"), card);
  EXPECT_NEAR(finding.whole.top().mm(), ink.top().mm(), 2 * mm_per_px);
  EXPECT_NEAR(finding.whole.left().mm(), ink.left().mm(), 2 * mm_per_px);
  EXPECT_NEAR(finding.whole.right().mm(), ink.right().mm(), 2 * mm_per_px);
}

TEST(InkOnPictures, ADiscThatBleedsHasNoRimOnAJpeg) {
  const std::string disc = "<circle cx='2' cy='2' r='19' fill='#0f4f3c' shape-rendering='crispEdges'/>";
  for (const std::string& ground : {photograph(7), std::string()}) {
    const Report report = of_jpeg(ground + disc);
    EXPECT_EQ(fault_count(report), 0U) << told(report);
  }
}

}  // namespace
}  // namespace frisket
