#include "page/text/glyphs.hpp"
#include "page/zones/on_all_cores.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace frisket {
namespace {

constexpr float like_inks = 56.0F;  // levels: gradients, translucent ink, thin type not full to its middle
constexpr std::size_t ink_samples = 4096;  // of an element, at most
constexpr double ink_share = 0.15;         // of its pixels: those that differ most from the ground
constexpr float least_contrast = 8.0F;     // levels
// How far in from the ends of its rows an element is looked at, of its smaller side: large letters are known
// with the ground that they enclose, which may be the pattern, or the colour, beside that which is round
// them.
constexpr double rim_share = 0.08;
constexpr int least_rim_px = 4;

float distance(const cv::Vec3f& a, const cv::Vec3f& b) { return colour_step(a, b); }

/// The ground in each quarter of a box: a letter may stand over the border of two.
class Surround {
 public:
  void add(const cv::Vec3b& colour, bool left, bool top) {
    Quarter& quarter = quarters_[2 * left + top];
    quarter.sum += colour, ++quarter.pixels;
  }
  std::vector<cv::Vec3f> colours() const {
    std::vector<cv::Vec3f> found;
    for (const Quarter& quarter : quarters_)
      if (quarter.pixels > 0) found.push_back(quarter.sum / quarter.pixels);
    return found;
  }

 private:
  struct Quarter {
    cv::Vec3d sum;
    int pixels = 0;
  };
  std::array<Quarter, 4> quarters_;
};

cv::Vec3f mean_of(const std::vector<cv::Vec3f>& colours) {
  cv::Vec3d sum;
  for (const cv::Vec3f& colour : colours) sum += colour;
  return sum / static_cast<double>(std::max<std::size_t>(1, colours.size()));
}

/// One value for each pixel of the strokes' middle lines: half the width there.
std::vector<float> half_widths(const cv::Mat1b& mask) {
  cv::Mat1f depth;
  cv::distanceTransform(mask, depth, cv::DIST_L2, 5);
  cv::Mat1f highest;
  cv::dilate(depth, highest, cv::Mat());
  std::vector<float> ridge;
  for (int y = 0; y < depth.rows; ++y)
    for (int x = 0; x < depth.cols; ++x)
      if (depth(y, x) > 0.0F && depth(y, x) >= highest(y, x)) ridge.push_back(depth(y, x));
  return ridge;
}

}  // namespace

bool inks_alike(const Ink& a, const Ink& b) {
  return !a.known || !b.known || distance(a.colour, b.colour) <= like_inks;
}

Ink Glyphs::ink(int element) {
  if (rgb_.empty()) return {};
  std::optional<Ink>& known = inks_[static_cast<std::size_t>(element)];
  if (!known) known = measured_ink(element);
  return *known;
}

void Glyphs::measure_inks(const std::vector<int>& elements) {
  on_all_cores(elements.size(), [&](std::size_t i) { ink(elements[i]); });
}

cv::Rect Glyphs::whole_box(int element) const {
  const PixelRect& box = elements_[static_cast<std::size_t>(element)].box_px;
  const int left = static_cast<int>(std::floor(box.x)) - 1, top = static_cast<int>(std::floor(box.y)) - 1;
  const int right = static_cast<int>(std::ceil(box.right())) + 1,
            bottom = static_cast<int>(std::ceil(box.bottom())) + 1;
  return cv::Rect(left, top, right - left, bottom - top) & cv::Rect({}, map_->size());
}

Ink Glyphs::measured_ink(int element) const {
  const cv::Rect box = whole_box(element);
  const int step = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(box.area()) / ink_samples)));
  std::vector<cv::Vec3f> own;
  Surround round;
  std::vector<int> labels(static_cast<std::size_t>(box.width));
  const int rim = std::max(least_rim_px, static_cast<int>(rim_share * std::min(box.width, box.height)));
  for (int y = box.y; y < box.br().y; y += step) {
    map_->write(y, box.x, box.br().x, labels.data());
    const auto first = std::ranges::find(labels, element) - labels.begin();
    const auto end = std::ranges::find(labels.rbegin(), labels.rend(), element).base() - labels.begin();
    for (int x = 0; x < box.width; x += step) {
      const cv::Vec3b& colour = rgb_.at<cv::Vec3b>(y, box.x + x);
      if (labels[static_cast<std::size_t>(x)] != element)
        round.add(colour, 2 * x < box.width, 2 * (y - box.y) < box.height);
      else if (x < first + rim || x >= end - rim)
        own.push_back(colour);
    }
  }
  const std::vector<cv::Vec3f> grounds = round.colours();
  if (own.empty() || grounds.empty()) return {};
  const auto contrast = [&](const cv::Vec3f& colour) {
    float sum = 0;
    for (const cv::Vec3f& ground : grounds) sum += distance(colour, ground);
    return sum / static_cast<float>(grounds.size());
  };
  const std::size_t most =
      std::max<std::size_t>(1, static_cast<std::size_t>(ink_share * static_cast<double>(own.size())));
  std::ranges::nth_element(own, own.begin() + static_cast<std::ptrdiff_t>(most), std::ranges::greater{},
                           contrast);
  own.resize(most);
  const cv::Vec3f colour = mean_of(own);
  return {colour, contrast(colour) >= least_contrast};
}

const std::vector<cv::Point2f>& Glyphs::outline(int element) {
  std::vector<cv::Point2f>& outline = outlines_[static_cast<std::size_t>(element)];
  if (!outline.empty()) return outline;
  std::vector<cv::Point2f> ends = ends_of_rows(element);
  if (ends.empty()) {
    const PixelRect& box = elements_[static_cast<std::size_t>(element)].box_px;
    for (const double x : {box.x, box.right()})
      for (const double y : {box.y, box.bottom()})
        ends.emplace_back(static_cast<float>(x), static_cast<float>(y));
  }
  cv::convexHull(ends, outline);
  return outline;
}

/// Corners of the first and last pixel of each of its rows.
std::vector<cv::Point2f> Glyphs::ends_of_rows(int element) const {
  std::vector<cv::Point2f> ends;
  if (map_ == nullptr) return ends;
  const cv::Rect box = whole_box(element);
  for (int y = box.y; y < box.br().y; ++y) {
    int first = -1, end = -1;
    const std::span<const Run> row = map_->row(y);
    for (auto run = std::ranges::upper_bound(row, box.x, {}, &Run::end);
         run != row.end() && run->begin < box.br().x; ++run)
      if (run->label == element) end = run->end, first = first < 0 ? run->begin : first;
    if (first < 0) continue;
    for (const int x : {first, end})
      for (const int below : {0, 1}) ends.emplace_back(static_cast<float>(x), static_cast<float>(y + below));
  }
  return ends;
}

PixelRect Glyphs::turned_box(int element, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  double left = INFINITY, top = INFINITY, right = -INFINITY, bottom = -INFINITY;
  for (const cv::Point2f& p : outline(element)) {
    const double x = c * p.x + s * p.y, y = c * p.y - s * p.x;
    left = std::min(left, x), right = std::max(right, x);
    top = std::min(top, y), bottom = std::max(bottom, y);
  }
  return {left, top, right - left, bottom - top};
}

Strokes Glyphs::strokes(const std::vector<int>& elements) const {
  Strokes strokes;
  if (map_ == nullptr) return strokes;
  std::vector<float> widths;
  double area = 0;
  for (const int element : elements) {
    const cv::Rect box = whole_box(element);
    cv::Mat1b mask(box.height + 2, box.width + 2, std::uint8_t{0});
    const cv::Mat1i labels = map_->dense(box);
    for (int y = 0; y < box.height; ++y)
      for (int x = 0; x < box.width; ++x)
        if (labels(y, x) == element) mask(y + 1, x + 1) = 255, ++area;
    for (const float half : half_widths(mask)) widths.push_back(2 * half - 1);
  }
  if (widths.empty()) return strokes;
  std::ranges::sort(widths);
  const auto at = [&](double share) {
    return static_cast<double>(
        widths[static_cast<std::size_t>(share * static_cast<double>(widths.size() - 1))]);
  };
  strokes.width = std::max(1.0, at(0.5));
  strokes.spread = (at(0.9) - at(0.1)) / strokes.width;
  strokes.length = area / strokes.width;
  return strokes;
}

}  // namespace frisket
