#include "page/grounds/grain.hpp"
#include "page/zones/on_all_cores.hpp"

#include <algorithm>
#include <cstring>

namespace frisket {
namespace {

constexpr double second_difference_mm = 0.34;  // reach of the second difference: 4 px at 300 dpi

// Share of grainy second differences below which a zone was drawn. Measured on rendered pages at 300 dpi:
// fields and gradients below 0.0002, photographs 0.15 to 0.9.
constexpr double drawn_share = 0.03;
constexpr double drawn_share_lossy = 0.07;
// JPEG makes little of the grain in a picture out of focus large, but leaves what was drawn nearly without.
// Share of second differences that are none at all, and of small ones, together: of fields and gradients of q
// 80 to 95 at 150 to 600 dpi 1.17 to 2, of photographs that pass for smooth 0.4 to 1.08.
constexpr double even_and_calm_lossy = 1.13;
constexpr double ringing_share = 0.1;  // of a stripe 2 mm wide that letters cross; measured: up to 0.098
// Share of second differences that are none at all, along one axis. A stripe that lies along the pixels
// leaves no other frequencies in the blocks of a JPEG (ITU-T T.81): it rings across, and along it nothing
// changes, where a photograph has grain both ways.
constexpr double even_share_lossy = 0.9;
constexpr int calm_levels = 2;
constexpr double flat_share = 0.6;  // of a gradient in steps; skies and shadows that clip have less

/// Looks at every fourth pixel of every zone. Most stretches of most pages are of one colour: those are
/// counted at once.
class GrainCount {
 public:
  GrainCount(const cv::Mat& rgb, const ZoneMap& zones, const Scale& scale)
      : rgb_(rgb),
        zones_(zones.label),
        reach_(scale.whole_px(second_difference_mm)),
        limit_(scale.lossy ? 8 : 2),
        grains_(zones.zones.size()) {
    for (std::vector<int>* row : {&labels_, &above_, &below_})
      row->resize(static_cast<std::size_t>(rgb.cols));
  }

  /// In the rows from `first`, which is even, up to `last`.
  std::vector<Grain> run(int first, int last) {
    for (int y = first; y < last; y += 2) {
      if (zones_.row(y).empty()) continue;
      const bool has_rows = y >= reach_ && y < rgb_.rows - reach_;
      zones_.write(y, 0, rgb_.cols, labels_.data());
      if (has_rows) zones_.write(y - reach_, 0, rgb_.cols, above_.data());
      if (has_rows) zones_.write(y + reach_, 0, rgb_.cols, below_.data());
      for (const Run& run : zones_.row(y)) look_along(y, run, has_rows);
    }
    return std::move(grains_);
  }

 private:
  void look_along(int y, const Run& run, bool has_rows) {
    for (int x = run.begin + (run.begin & 1); x < run.end; x += block) {
      const int end = std::min(run.end, x + block);
      across(y, run, x, end);
      if (has_rows) down(y, run, x, end);
    }
  }

  /// Every other pixel from `begin` up to `end`.
  void across(int y, const Run& run, int begin, int end) {
    const cv::Vec3b* row = rgb_.ptr<cv::Vec3b>(y);
    Grain& found = grains_[static_cast<std::size_t>(run.label)];
    if (begin - reach_ >= run.begin && end + reach_ <= run.end &&
        are_alike(row + begin - reach_, row + begin - reach_ + 1, end - begin + 2 * reach_ - 1)) {
      add_flat((end - begin + 1) / 2, found, found.across, found.even_across);
      return;
    }
    const int* labels = labels_.data();
    for (int x = std::max(begin, reach_ + (reach_ & 1)); x < std::min(end, rgb_.cols - reach_); x += 2)
      if (labels[x - reach_] == run.label && labels[x + reach_] == run.label)
        ++found.across, judge(row[x - reach_], row[x], row[x + reach_], found, found.even_across);
  }

  void down(int y, const Run& run, int begin, int end) {
    const cv::Vec3b *row = rgb_.ptr<cv::Vec3b>(y), *up = rgb_.ptr<cv::Vec3b>(y - reach_),
                    *down = rgb_.ptr<cv::Vec3b>(y + reach_);
    const int *labels = labels_.data(), *above = above_.data(), *below = below_.data();
    Grain& found = grains_[static_cast<std::size_t>(run.label)];
    const int n = end - begin;
    if (are_alike(above + begin, labels + begin, n) && are_alike(below + begin, labels + begin, n) &&
        are_alike(up + begin, row + begin, n) && are_alike(down + begin, row + begin, n)) {
      add_flat((n + 1) / 2, found, found.down, found.even_down);
      return;
    }
    for (int x = begin; x < end; x += 2)
      if (above[x] == run.label && below[x] == run.label)
        ++found.down, judge(up[x], row[x], down[x], found, found.even_down);
  }

  template <class Value>
  static bool are_alike(const Value* a, const Value* b, int n) {
    return std::memcmp(a, b, static_cast<std::size_t>(n) * sizeof(Value)) == 0;
  }

  /// Counts second differences of pixels of one colour.
  static void add_flat(int differences, Grain& found, int& all, int& even) {
    all += differences, even += differences, found.calm += differences, found.flat += differences;
  }

  void judge(const cv::Vec3b& a, const cv::Vec3b& b, const cv::Vec3b& c, Grain& found, int& even) const {
    int most = 0;
    for (int i = 0; i < 3; ++i) most = std::max(most, std::abs(a[i] - 2 * b[i] + c[i]));
    found.grainy += most > limit_;
    even += most == 0;
    found.calm += most <= calm_levels;
    found.flat += most == 0 && a == b;
  }

  static constexpr int block = 64;  // pixels looked at together, an even number

  const cv::Mat& rgb_;
  const LabelMap& zones_;
  int reach_, limit_;
  std::vector<Grain> grains_;
  std::vector<int> labels_, above_, below_;
};

}  // namespace

bool Grain::is_mostly_flat() const { return flat >= flat_share * (across + down); }

bool Grain::is_smooth(const Scale& scale) const {
  return grainy < (scale.lossy ? drawn_share_lossy : drawn_share) * (across + down) ||
         (scale.lossy && (even_across > even_share_lossy * across || even_down > even_share_lossy * down));
}

bool Grain::is_smooth_but_for_ringing() const {
  return is_calm() && grainy < ringing_share * (across + down);
}

bool Grain::is_calm() const { return even() + calm >= even_and_calm_lossy * (across + down); }

std::vector<Grain> grains_of(const cv::Mat& rgb, const ZoneMap& zones, const Scale& scale) {
  constexpr int band = 256;  // rows
  std::vector<std::vector<Grain>> bands(static_cast<std::size_t>((rgb.rows + band - 1) / band));
  on_all_cores(bands.size(), [&](std::size_t i) {
    const int top = static_cast<int>(i) * band;
    bands[i] = GrainCount(rgb, zones, scale).run(top, std::min(rgb.rows, top + band));
  });
  std::vector<Grain> grains(zones.zones.size());
  for (const std::vector<Grain>& part : bands)
    for (std::size_t i = 0; i < grains.size(); ++i) grains[i] += part[i];
  return grains;
}

}  // namespace frisket
