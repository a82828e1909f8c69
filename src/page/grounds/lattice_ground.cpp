#include "page/grounds/lattice_ground.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "page/grounds/lattice.hpp"
#include "page/zones/on_all_cores.hpp"

namespace frisket {
namespace {

constexpr int band_rows = 2048;
constexpr int farthest = 2;              // periods
constexpr int least_alike = 2;           // places that far round a pixel
constexpr double least_recurring = 0.9;  // of what is of the two colours: else it is no lattice
constexpr double most_gradual = 0.05;    // of the same: planks of wood take turns too, but without borders
constexpr int quarter = Lattice::whole / 4;

/// Between the two colours, and not at a border.
cv::Mat1b gradual(const cv::Mat1b& shares, const cv::Mat1b& least, const cv::Mat1b& most) {
  cv::Mat1b mixed, span;
  cv::inRange(shares, quarter, Lattice::whole - quarter, mixed);
  cv::subtract(most, least, span);
  cv::inRange(span, 0, Lattice::whole / 2, span);
  mixed &= span;
  return mixed;
}

bool is_white(const cv::Vec3f& colour) { return std::ranges::min(colour.val) >= paper_white; }

class LatticeGround {
 public:
  LatticeGround(const cv::Mat& rgb, const Lattice& lattice, const Scale& scale, SurfaceMap& map)
      : rgb_(rgb), lattice_(lattice), scale_(scale), map_(map) {
    for (const cv::Vec2d& period : lattice.periods)
      reach_ = std::max(reach_, static_cast<int>(std::ceil(cv::norm(period, cv::NORM_INF))));
    const float contrast = colour_step(lattice.one, lattice.other);
    slack_ = std::clamp(static_cast<int>(Lattice::whole * (scale.lossy ? 16.0F : 4.0F) / contrast), 10, 70);
  }

  /// False where it turns out to be no lattice.
  bool run() {
    std::vector<cv::Mat1b> bands;
    for (int top = 0; top < rgb_.rows; top += band_rows)
      bands.push_back(recurring(top, std::min(rgb_.rows, top + band_rows)));
    if (static_cast<double>(recurring_) < least_recurring * static_cast<double>(of_both_) ||
        static_cast<double>(gradual_) > most_gradual * static_cast<double>(of_both_))
      return false;
    give(bands);
    return true;
  }

 private:
  /// What of these rows is as most of what lies up to two periods away.
  cv::Mat1b recurring(int top, int end) {
    const int margin = 2 * farthest * reach_ + 1;
    const int first = std::max(0, top - margin), last = std::min(rgb_.rows, end + margin);
    const cv::Range rows(top - first, end - first);
    const cv::Mat1b shares = lattice_.shares(rgb_.rowRange(first, last), scale_);
    const cv::Mat1b of_both = turning(shares);
    cv::Mat1b least, most = shares.clone();
    most.setTo(0, ~of_both);
    const cv::Mat beside = cv::getStructuringElement(cv::MORPH_RECT, {3, 3});
    cv::erode(shares, least, beside);
    cv::dilate(most, most, beside);
    gradual_ += cv::countNonZero(gradual(shares, least, most).rowRange(rows) & of_both.rowRange(rows));
    cv::subtract(least, slack_, least);
    cv::add(most, slack_, most);
    cv::Mat1b found(end - top, rgb_.cols);
    on_all_cores(found.rows,
                 [&](int y) { look_round(rows.start + y, shares, of_both, least, most, found[y]); });
    cv::Mat1b closed;
    cv::morphologyEx(found, closed, cv::MORPH_CLOSE, beside);
    cv::bitwise_or(found, closed & of_both.rowRange(rows), found);
    of_both_ += cv::countNonZero(of_both.rowRange(rows)), recurring_ += cv::countNonZero(found);
    return found;
  }

  /// Where there is one of the colours and both lie within a period: a panel of one of them is no pattern.
  cv::Mat1b turning(const cv::Mat1b& shares) const {
    cv::Mat1b turning;
    cv::inRange(shares, 0, Lattice::whole, turning);
    for (const int least : {0, Lattice::whole - quarter}) {
      cv::Mat1b colour;
      cv::inRange(shares, least, least + quarter, colour);
      cv::boxFilter(colour, colour, -1, {2 * reach_ + 1, 2 * reach_ + 1}, {-1, -1}, true, cv::BORDER_REFLECT);
      cv::compare(colour, 0, colour, cv::CMP_GT);
      turning &= colour;
    }
    return turning;
  }

  /// Writes 255 for the pixels of row `y` that are as most of those of both colours round them.
  void look_round(int y, const cv::Mat1b& shares, const cv::Mat1b& of_both, const cv::Mat1b& least,
                  const cv::Mat1b& most, std::uint8_t* found) const {
    const auto width = static_cast<std::size_t>(shares.cols);
    std::vector<std::uint8_t> alike(width), asked(width);
    const std::uint8_t* here = shares[y];
    for (int i = -farthest; i <= farthest; ++i)
      for (int j = -farthest; j <= farthest; ++j) {
        const cv::Vec2d away = double(i) * lattice_.periods[0] + double(j) * lattice_.periods[1];
        const int dx = cvRound(away[0]), there = y + cvRound(away[1]);
        if ((i == 0 && j == 0) || there < 0 || there >= shares.rows) continue;
        const std::uint8_t *both = of_both[there] + dx, *l = least[there] + dx, *m = most[there] + dx;
        for (int x = std::max(0, -dx), end = std::min(shares.cols, shares.cols - dx); x < end; ++x) {
          const int is_asked = both[x] & 1;
          asked[static_cast<std::size_t>(x)] += static_cast<std::uint8_t>(is_asked);
          alike[static_cast<std::size_t>(x)] +=
              static_cast<std::uint8_t>(is_asked & (here[x] >= l[x]) & (here[x] <= m[x]));
        }
      }
    for (std::size_t x = 0; x < width; ++x)
      found[x] = of_both(y, static_cast<int>(x)) != 0 && alike[x] >= least_alike && 2 * alike[x] > asked[x]
                     ? 255
                     : 0;
  }

  void give(std::vector<cv::Mat1b>& bands) {
    const std::vector<std::int64_t> met = met_surfaces(bands);
    const int ground = ground_among(met);
    map_.surfaces[static_cast<std::size_t>(ground - 1)].bleeds = true;
    join_surfaces(met, ground);
    for (std::size_t i = 0; i < bands.size(); ++i) {
      const int top = static_cast<int>(i) * band_rows;
      leave_surfaces(top, bands[i]);
      take(top, bands[i], map_.surfaces[static_cast<std::size_t>(ground - 1)]);
      map_.label.paint({0, top, rgb_.cols, bands[i].rows}, bands[i], ground);
    }
  }

  /// How many recurring pixels lie on each surface.
  std::vector<std::int64_t> met_surfaces(const std::vector<cv::Mat1b>& bands) const {
    std::vector<std::int64_t> met(map_.surfaces.size() + 1);
    for (std::size_t i = 0; i < bands.size(); ++i)
      for (int y = 0; y < bands[i].rows; ++y)
        for (const Run& run : map_.label.row(static_cast<int>(i) * band_rows + y))
          met[static_cast<std::size_t>(run.label)] +=
              cv::countNonZero(bands[i].row(y).colRange(run.begin, run.end));
    return met;
  }

  /// The surface most met; of those that bleed, if any does; a new one where none is met.
  int ground_among(const std::vector<std::int64_t>& met) {
    int best = 0;
    std::pair<bool, std::int64_t> most{false, 0};
    for (std::size_t i = 1; i < met.size(); ++i)
      if (const std::pair now{map_.surfaces[i - 1].bleeds, met[i]}; met[i] > 0 && now > most)
        most = now, best = static_cast<int>(i);
    if (best != 0) return best;
    map_.surfaces.push_back({});
    map_.surfaces.back().colour = lattice_.one;
    return static_cast<int>(map_.surfaces.size());
  }

  /// Makes one with the ground what recurs for the most part: its tiles and stripes.
  void join_surfaces(const std::vector<std::int64_t>& met, int ground) {
    std::vector<int> number(map_.surfaces.size() + 1);
    for (std::size_t i = 1; i < number.size(); ++i) {
      number[i] = static_cast<int>(i);
      Surface& surface = map_.surfaces[i - 1];
      if (number[i] == ground || i >= met.size() || 2 * met[i] <= surface.area) continue;
      take_in(map_.surfaces[static_cast<std::size_t>(ground - 1)], surface);
      number[i] = ground;
    }
    map_.label.renumber(number, 0);
  }

  /// Surfaces are taken whole or not at all: a panel of the figures' colour has no figures cut out.
  void leave_surfaces(int top, cv::Mat1b& band) const {
    for (int y = 0; y < band.rows; ++y)
      for (const Run& run : map_.label.row(top + y))
        std::fill(band[y] + run.begin, band[y] + run.end, std::uint8_t{0});
  }

  static void take(int top, const cv::Mat1b& band, Surface& surface) {
    const cv::Rect box = cv::boundingRect(band);
    if (box.empty()) return;
    surface.area += cv::countNonZero(band);
    surface.box |= box + cv::Point(0, top);
  }

  cv::Mat rgb_;
  const Lattice& lattice_;
  const Scale& scale_;
  SurfaceMap& map_;
  int reach_ = 0, slack_ = 0;
  std::int64_t of_both_ = 0, recurring_ = 0, gradual_ = 0;  ///< pixels
};

}  // namespace

bool give_lattice_to_ground(const cv::Mat& rgb, const std::optional<Lattice>& lattice, const Scale& scale,
                            SurfaceMap& map) {
  if (lattice && lattice->stripes && (is_white(lattice->one) || is_white(lattice->other))) return false;
  return lattice && LatticeGround(rgb, *lattice, scale, map).run();
}

}  // namespace frisket
