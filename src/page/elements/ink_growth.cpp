#include "page/elements/ink_growth.hpp"

#include <array>
#include <cstdint>
#include <utility>

#include "page/zones/label_window.hpp"
#include "page/zones/zones.hpp"

namespace frisket {
namespace {

constexpr int passes = 4;                 // one pixel each
constexpr float half_covered = 0.5F;      // by ink that it lies beside
constexpr float stroke_cover = 0.35F;     // by a stroke that goes on from the ink
constexpr float least_contrast = 24.0F;   // levels, of ink and ground, to tell how much a pixel is covered
constexpr float beside_the_line = 0.25F;  // of the way from ground to ink

/// One pass over a mask of ink.
class Growth {
 public:
  Growth(const cv::Mat& rgb, const LabelMap& ink, const std::vector<cv::Vec3f>& colours)
      : rgb_(rgb), ink_(ink), colours_(colours), window_(ink) {}

  LabelMap run() {
    LabelMap grown(ink_.size(), 0);
    std::vector<Run> row;
    for (int y = 0; y < rgb_.rows; ++y) {
      window_.move_to(y);
      row.assign(ink_.row(y).begin(), ink_.row(y).end());
      const std::size_t before = row.size();
      if (mark_near(y))
        for (int x = 0; x < rgb_.cols; ++x)
          if (near_[static_cast<std::size_t>(x)] != 0 && window_(y, x) == 0)
            if (const int ink = ink_over({x, y}); ink != 0) row.push_back({x, x + 1, ink});
      if (row.size() > before) std::ranges::sort(row, {}, &Run::begin);
      grown.add_row(row);
    }
    return grown;
  }

 private:
  /// Marks the pixels that touch ink, corners too; false where there are none.
  bool mark_near(int y) {
    near_.assign(static_cast<std::size_t>(rgb_.cols), 0);
    bool any = false;
    for (int above = std::max(0, y - 1); above <= std::min(rgb_.rows - 1, y + 1); ++above)
      for (const Run& run : ink_.row(above)) {
        std::fill(near_.begin() + std::max(0, run.begin - 1),
                  near_.begin() + std::min(rgb_.cols, run.end + 1), std::uint8_t{1});
        any = true;
      }
    return any;
  }

  /// The ink beside a pixel that covers it, 0 where none does.
  int ink_over(cv::Point at) {
    for (int dy = -1; dy <= 1; ++dy)
      for (int dx = -1; dx <= 1; ++dx)
        if (const int ink = ink_at({at.x + dx, at.y + dy});
            ink != 0 && (covers(ink, at, {1, 0}) || covers(ink, at, {0, 1})))
          return ink;
    return 0;
  }

  /// Does ink cover a pixel, judged along one axis? On each side lies more ink or ground that shows how much.
  bool covers(int ink, cv::Point at, cv::Point axis) {
    const cv::Vec3f colour = colours_[static_cast<std::size_t>(ink - 1)];
    const bool before = ink_at(at - axis) == ink, after = ink_at(at + axis) == ink;
    if (before && after) return cover(colour, at, {axis.y, axis.x}) >= half_covered;
    if (before) return cover(colour, at, axis) >= half_covered;
    if (after) return cover(colour, at, -axis) >= half_covered;
    return cover(colour, at, axis) >= stroke_cover && cover(colour, at, -axis) >= stroke_cover;
  }

  int ink_at(cv::Point at) {
    return at.y < 0 || at.y >= rgb_.rows || at.x < 0 || at.x >= rgb_.cols ? 0 : window_(at.y, at.x);
  }

  /// How much of a pixel ink of a colour covers, as the ground in that direction shows; 0 where it does not.
  float cover(const cv::Vec3f& ink, cv::Point at, cv::Point way) const {
    const cv::Vec3f ground = ground_beyond(ink, at, way), whole = ink - ground;
    if (colour_step(ink, ground) < least_contrast) return 0.0F;
    const cv::Vec3f part = cv::Vec3f(rgb_.at<cv::Vec3b>(at)) - ground;
    const float share = part.dot(whole) / whole.dot(whole);
    const cv::Vec3f aside = part - share * whole;
    return aside.dot(aside) <= beside_the_line * beside_the_line * whole.dot(whole) ? share : 0.0F;
  }

  /// The pixel two or three on that is least like the ink; the ink itself where the picture ends.
  cv::Vec3f ground_beyond(const cv::Vec3f& ink, cv::Point at, cv::Point way) const {
    const cv::Rect area({}, rgb_.size());
    cv::Vec3f ground = ink;
    for (int step = 2; step <= 3; ++step)
      if (const cv::Point beyond = at + step * way; area.contains(beyond))
        if (const cv::Vec3f here = rgb_.at<cv::Vec3b>(beyond);
            colour_step(here, ink) > colour_step(ground, ink))
          ground = here;
    return ground;
  }

  const cv::Mat& rgb_;
  const LabelMap& ink_;
  const std::vector<cv::Vec3f>& colours_;
  LabelWindow window_;
  std::vector<std::uint8_t> near_;
};

}  // namespace

LabelMap grow_ink(const cv::Mat& rgb, LabelMap ink, const std::vector<cv::Vec3f>& colours) {
  for (int pass = 0; pass < passes; ++pass) {
    LabelMap grown = Growth(rgb, ink, colours).run();
    ink = std::move(grown);
  }
  return ink;
}

}  // namespace frisket
