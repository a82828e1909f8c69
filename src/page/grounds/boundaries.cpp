#include "page/grounds/boundaries.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace frisket {
namespace {

constexpr double largest_bend_px = 1.5;     // between neighbouring t
constexpr double straight_within_px = 1.5;  // root mean square, from the line fitted
constexpr double steepest = 0.15;           // a taper leans so far at most; what leans more is a shape
constexpr double interruption_mm = 1.0;
constexpr double widest_line_mm = 0.8;  // a stroke between two surfaces is part of their boundary
constexpr int least_contrast = 4;       // levels; fainter boundaries are not seen in print
constexpr int different_fields = 24;    // levels between two fields that end side by side
constexpr int white_of_jpeg =
    242;                         // levels; with what compression takes off, on tuning pages of q 80 and more
constexpr int jpeg_block = 8;    // px
constexpr int slanted_seam = 2;  // px that are mixed at most

struct Transition {
  double position;
  int outer, inner;
};

/// Depth at which the inner colour begins, from the coverage of the pixels between `last_outer` and the first
/// pixel that is surely inside.
std::optional<double> exact_position(const cv::Mat& rgb, const Strip& strip, int t, int last_outer,
                                     int first_inner) {
  const int from = std::max(1, last_outer - 1), to = std::min(strip.depth - 1, first_inner + 2);
  const cv::Vec3b ground = rgb.at<cv::Vec3b>(strip.at(t, from - 1));
  const cv::Vec3b ink = rgb.at<cv::Vec3b>(strip.at(t, to));
  int channel = 0;
  for (int i = 1; i < 3; ++i)
    if (std::abs(ink[i] - ground[i]) > std::abs(ink[channel] - ground[channel])) channel = i;
  const double contrast = ink[channel] - ground[channel];
  if (std::abs(contrast) < least_contrast) return std::nullopt;
  double covered = 0;
  for (int depth = from; depth < to; ++depth)
    covered +=
        std::clamp((rgb.at<cv::Vec3b>(strip.at(t, depth))[channel] - ground[channel]) / contrast, 0.0, 1.0);
  return to - covered;
}

/// The surfaces under a strip, one label a pixel.
class StripLabels {
 public:
  StripLabels(const LabelMap& map, const Strip& strip) {
    if (strip.length <= 0 || strip.depth <= 0) return;
    const cv::Point last = strip.at(strip.length - 1, strip.depth - 1), first = strip.origin;
    origin_ = {std::min(first.x, last.x), std::min(first.y, last.y)};
    labels_ = map.dense({origin_, cv::Point(std::max(first.x, last.x) + 1, std::max(first.y, last.y) + 1)});
  }
  int operator()(cv::Point at) const { return labels_(at - origin_); }

 private:
  cv::Point origin_;
  cv::Mat1i labels_;
};

bool is_white(const cv::Vec3b& colour, int white) { return std::ranges::min(colour.val) >= white; }

/// Where the bare paper ends that lies at the canvas edge, and what is behind it. Paper is told from the
/// pixels themselves: a strip that is too narrow for a surface, or that compression joined to what is beside
/// it, is seen in print all the same. Ringing may darken it as far as a block reaches (ITU-T T.81).
std::optional<Transition> paper_end_at(const cv::Mat& rgb, const SurfaceMap& map, const StripLabels& labels,
                                       const Strip& strip, int t, bool lossy) {
  const int white = lossy ? white_of_jpeg : paper_white, reach = lossy ? jpeg_block : slanted_seam;
  const int outermost = labels(strip.at(t, 0));
  if (outermost != 0 && map.of(outermost).repeats) return std::nullopt;
  int end = 0;
  for (int depth = 0; depth < std::min(strip.depth, end + reach); ++depth)
    if (is_white(rgb.at<cv::Vec3b>(strip.at(t, depth)), white)) end = depth + 1;
  if (end == 0) return std::nullopt;
  for (int depth = end; depth < std::min(strip.depth, end + 1 + reach); ++depth) {
    const int inner = labels(strip.at(t, depth));
    if (inner == 0 || is_paper(map.of(inner))) continue;
    if (const auto position = exact_position(rgb, strip, t, end - 1, depth))
      return Transition{*position, BoundaryRun::bare_paper, inner};
  }
  return std::nullopt;
}

std::optional<Transition> transition_at(const cv::Mat& rgb, const SurfaceMap& map, const StripLabels& labels,
                                        const Strip& strip, int t, std::optional<double> target,
                                        int widest_line) {
  std::optional<Transition> best;
  int outer = 0, last_outer = 0;
  for (int depth = 0; depth < strip.depth; ++depth) {
    const int here = labels(strip.at(t, depth));
    if (here == 0) continue;
    const bool pattern = map.of(here).repeats || (outer != 0 && map.of(outer).repeats);
    if (outer != 0 && here != outer && !pattern && depth - last_outer <= widest_line + 1) {
      if (const auto position = exact_position(rgb, strip, t, last_outer, depth)) {
        const Transition found{*position, outer, here};
        if (!target)
          return Transition{*position, is_paper(map.of(outer)) ? BoundaryRun::bare_paper : outer, here};
        if (!best || std::abs(found.position - *target) < std::abs(best->position - *target)) best = found;
      }
    }
    outer = here, last_outer = depth;
  }
  return best;
}

double percentile(std::vector<double>& sorted, double share) {
  return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1) + 0.5)];
}

/// Collects transitions into runs.
class RunBuilder {
 public:
  RunBuilder(const SurfaceMap& map, int least_length, const Scale& scale)
      : map_(map), least_length_(least_length), patience_(scale.whole_px(interruption_mm)) {}

  void add(int t, const Transition& found) {
    const double drift = largest_bend_px * std::sqrt(static_cast<double>(std::max(1, t - last_)));
    const bool goes_on = !positions_.empty() && t - last_ <= patience_ &&
                         std::abs(found.position - position_) <= drift && found.outer == run_.outer &&
                         !is_another_field(found.inner);
    if (!goes_on) {
      finish();
      run_ = {t, t + 1, 0, 0, 0, found.outer, found.inner};
    }
    if (map_.of(found.inner).kind == Surface::Kind::picture) run_.inner = found.inner;
    positions_.push_back(found.position);
    position_ = found.position;
    last_ = t;
    run_.last = t + 1;
  }

  std::vector<BoundaryRun> take() {
    finish();
    return std::move(runs_);
  }

 private:
  /// A picture has many surfaces (sky, shadow) and is one thing, and so have stripes; two flat fields of
  /// different colour are two.
  bool is_another_field(int inner) const {
    if (inner == run_.inner) return false;
    const Surface &a = map_.of(inner), &b = map_.of(run_.inner);
    if (a.repeats && b.repeats) return false;
    return a.kind == Surface::Kind::field && b.kind == Surface::Kind::field &&
           colour_step(a.colour, b.colour) >= different_fields;
  }

  /// Does the boundary follow a line? What curves is a shape, not a side.
  bool is_straight() const {
    const double n = static_cast<double>(positions_.size());
    double sum = 0, slope_sum = 0, weight = 0, squares = 0;
    for (const double p : positions_) sum += p;
    for (std::size_t i = 0; i < positions_.size(); ++i) {
      const double t = static_cast<double>(i) - (n - 1) / 2;
      slope_sum += t * positions_[i], weight += t * t;
    }
    const double slope = weight > 0 ? slope_sum / weight : 0.0;
    for (std::size_t i = 0; i < positions_.size(); ++i) {
      const double t = static_cast<double>(i) - (n - 1) / 2;
      squares += std::pow(positions_[i] - sum / n - slope * t, 2);
    }
    return std::sqrt(squares / n) <= straight_within_px;
  }

  void finish() {
    if (!positions_.empty() && run_.length() >= least_length_ &&
        2 * static_cast<int>(positions_.size()) >= run_.length() && is_straight()) {
      std::ranges::sort(positions_);
      run_.position = percentile(positions_, 0.5);
      run_.least = percentile(positions_, 0.05);
      run_.most = percentile(positions_, 0.95);
      if (run_.most - run_.least <= steepest * run_.length() + largest_bend_px) runs_.push_back(run_);
    }
    positions_.clear();
  }

  const SurfaceMap& map_;
  int least_length_, patience_, last_ = 0;
  double position_ = 0;
  BoundaryRun run_;
  std::vector<double> positions_;
  std::vector<BoundaryRun> runs_;
};

}  // namespace

Strip strip_along(Edge edge, const cv::Size& canvas, int depth) {
  switch (edge) {
    case Edge::top:
      return {{0, 0}, {1, 0}, {0, 1}, canvas.width, std::min(depth, canvas.height)};
    case Edge::bottom:
      return {{0, canvas.height - 1}, {1, 0}, {0, -1}, canvas.width, std::min(depth, canvas.height)};
    case Edge::left:
      return {{0, 0}, {0, 1}, {1, 0}, canvas.height, std::min(depth, canvas.width)};
    case Edge::right:
      return {{canvas.width - 1, 0}, {0, 1}, {-1, 0}, canvas.height, std::min(depth, canvas.width)};
  }
  return {};
}

Strip strip_round(double position, bool vertical, const cv::Size& canvas, int reach) {
  const int across = vertical ? canvas.width : canvas.height;
  const int from = std::clamp(static_cast<int>(std::floor(position)) - reach, 0, across);
  const int to = std::clamp(static_cast<int>(std::ceil(position)) + reach, 0, across);
  if (vertical) return {{from, 0}, {0, 1}, {1, 0}, canvas.height, to - from};
  return {{0, from}, {1, 0}, {0, 1}, canvas.width, to - from};
}

std::vector<BoundaryRun> follow_boundaries(const cv::Mat& rgb, const SurfaceMap& map, const Strip& strip,
                                           std::optional<double> target, int least_length,
                                           const Scale& scale) {
  RunBuilder runs(map, least_length, scale);
  const int widest_line = scale.whole_px(widest_line_mm);
  const StripLabels labels(map.label, strip);
  for (int t = 0; t < strip.length; ++t) {
    std::optional<Transition> found;
    if (!target) found = paper_end_at(rgb, map, labels, strip, t, scale.lossy);
    if (!found) found = transition_at(rgb, map, labels, strip, t, target, widest_line);
    if (found) runs.add(t, *found);
  }
  return runs.take();
}

std::vector<BoundaryRun> surfaces_at_canvas_edge(const SurfaceMap& map, const Strip& strip, int least_length,
                                                 const Scale& scale) {
  RunBuilder runs(map, least_length, scale);
  for (int t = 0; t < strip.length; ++t)
    if (const int here = map.label(strip.at(t, 0)); here != 0 && !is_paper(map.of(here)))
      runs.add(t, {0.0, here, here});
  return runs.take();
}

}  // namespace frisket
