#include "page/pictures.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include "page/step_profile.hpp"
#include "page/tints.hpp"

namespace frisket {
namespace {

constexpr double least_side_mm = 8.0;  // smaller pictures are logos and icons, and too small to measure
constexpr int least_blocks = 8;        // textured blocks that make a picture, of about 25 in one of 8 mm
constexpr double least_texture = 0.1;  // share of a picture that is textured: the rest may be sky
constexpr double least_step = 3.0;     // grey levels, mean along an edge: above grain
constexpr double line_ratio = 1.8;     // a picture's edge against the busiest column beside it
constexpr double calm_ratio = 3.0;     // the same where what lies outside is calm
constexpr double split_ratio = 2.2;    // the line between two pictures that touch

/// Blocks of a picture: the texture without specks and single-file lines of blocks (edges of drawn shapes).
cv::Mat1b cores(const cv::Mat1b& textured) {
  const cv::Mat square = cv::Mat::ones(3, 3, CV_8U);
  cv::Mat1b core;
  cv::morphologyEx(textured, core, cv::MORPH_OPEN, square, cv::Point(-1, -1), 1, cv::BORDER_CONSTANT, 0);
  cv::dilate(core, core, square);
  cv::bitwise_and(core, textured, core);
  return core;
}

std::vector<cv::Rect> core_boxes(const TextureMap& texture) {
  cv::Mat labels, statistics, centres;
  const int count =
      cv::connectedComponentsWithStats(cores(texture.textured), labels, statistics, centres, 8, CV_32S);
  std::vector<cv::Rect> boxes;
  for (int i = 1; i < count; ++i) {
    const int* row = statistics.ptr<int>(i);
    if (row[cv::CC_STAT_AREA] >= least_blocks)
      boxes.emplace_back(row[cv::CC_STAT_LEFT], row[cv::CC_STAT_TOP], row[cv::CC_STAT_WIDTH],
                         row[cv::CC_STAT_HEIGHT]);
  }
  return boxes;
}

/// The greatest of the steps 4 to `reach` columns beyond `at`: an edge between pixels takes up to 3 columns.
double busiest(const std::vector<double>& profile, int at, int reach, int direction) {
  double most = 0.0;
  for (int k = 4; k <= reach; ++k) {
    const int x = at + k * direction;
    if (x < 1 || x >= static_cast<int>(profile.size())) break;
    most = std::max(most, profile[static_cast<std::size_t>(x)]);
  }
  return most;
}

bool is_peak(const std::vector<double>& profile, int at) {
  const int end = static_cast<int>(profile.size());
  for (int x = std::max(1, at - 3); x < std::min(end, at + 4); ++x)
    if (profile[static_cast<std::size_t>(x)] > profile[static_cast<std::size_t>(at)]) return false;
  return profile[static_cast<std::size_t>(at)] >= least_step;
}

/// True where the boundary is a straight line: its step is well above all others nearby, but for the few of a
/// gutter's other edge.
bool is_line(const std::vector<double>& profile, int at, int reach, double ratio) {
  if (!is_peak(profile, at)) return false;
  std::vector<double> others;
  for (int x = std::max(1, at - 2 * reach);
       x <= std::min(static_cast<int>(profile.size()) - 1, at + 2 * reach); ++x)
    if (std::abs(x - at) > 3) others.push_back(profile[static_cast<std::size_t>(x)]);
  constexpr std::ptrdiff_t gutter = 3;
  if (std::ssize(others) <= gutter) return false;
  std::ranges::nth_element(others, others.begin() + gutter, std::greater{});
  return profile[static_cast<std::size_t>(at)] > ratio * others[gutter];
}

/// True where a picture may end, going in `direction`: at a line, or where its texture stops and calm begins.
bool is_end(const std::vector<double>& profile, int at, int reach, int direction) {
  if (!is_peak(profile, at)) return false;
  const double step = profile[static_cast<std::size_t>(at)];
  const double inside = busiest(profile, at, reach, -direction);
  const double outside = busiest(profile, at, reach, direction);
  return step > line_ratio * std::max(inside, outside) ||
         (step > calm_ratio * outside && step > 0.8 * inside);
}

int strongest(const std::vector<double>& profile, int near, int reach) {
  const int end = static_cast<int>(profile.size());
  int best = std::clamp(near, 1, end - 1);
  for (int x = std::max(1, near - reach); x < std::min(end, near + reach + 1); ++x)
    if (profile[static_cast<std::size_t>(x)] > profile[static_cast<std::size_t>(best)]) best = x;
  return best;
}

/// One picture being outlined. The vertical sides are looked for in `grey`, the horizontal ones in its
/// transpose.
class Outline {
 public:
  Outline(const GreyView& grey, const GreyView& turned, const cv::Mat1b& filled,
          const cv::Mat1b& filled_turned, int block)
      : grey_(grey), turned_(turned), filled_(filled), filled_turned_(filled_turned), block_(block) {}

  /// The core in blocks, grown into its soft parts up to the picture's edges; canvas pixels.
  cv::Rect grow(const cv::Rect& core) const {
    cv::Rect box(core.x * block_, core.y * block_, core.width * block_, core.height * block_);
    for (int round = 0; round < 2; ++round) {  // the second round sees the whole length of each edge
      box = widened(grey_, filled_, box);
      box = turn(widened(turned_, filled_turned_, turn(box)));
    }
    return box;
  }

 private:
  static cv::Rect turn(const cv::Rect& box) { return {box.y, box.x, box.height, box.width}; }

  /// The farthest block column reached from `column` over blocks that may belong to a picture.
  static int filled_end(const cv::Mat1b& filled, int top, int bottom, int column, int step) {
    const auto half_filled = [&](int x) {
      const cv::Rect part(x, top, 1, bottom - top);
      return 2 * cv::countNonZero(filled(part)) >= part.height;
    };
    while (column + step >= 0 && column + step < filled.cols && half_filled(column + step)) column += step;
    return column;
  }

  int side(const std::vector<double>& profile, int from, int to, int step, int canvas) const {
    for (int x = from; x != to; x += step)
      if (x > 0 && x < canvas && is_end(profile, x, block_, step)) return x;
    const int border = step < 0 ? 0 : canvas;
    if (std::abs(to - border) <= block_) {
      const int near = strongest(profile, to, block_);
      return is_end(profile, near, block_, step) ? near : border;
    }
    const int near = strongest(profile, to, block_ + 2);
    return is_end(profile, near, block_, step) ? near : strongest(profile, from + step * block_, block_ + 2);
  }

  /// The profile where a picture's left and right sides may lie, and as far round as they are compared with.
  std::vector<double> profile_near(const GreyView& grey, int top, int bottom, Columns left,
                                   Columns right) const {
    std::vector<double> profile(static_cast<std::size_t>(grey.cols()), 0.0);
    const int reach = 3 * block_ + 8;
    for (const Columns& side : {left, right})
      add_to_profile(grey, top, bottom,
                     {std::max(0, side.begin - reach), std::min(grey.cols(), side.end + reach)}, profile);
    return profile;
  }

  cv::Rect widened(const GreyView& grey, const cv::Mat1b& filled, const cv::Rect& box) const {
    const int inset = std::min(block_, box.height / 4);  // corners may be rounded, edges off by a block
    const int top = std::min(box.y / block_, filled.rows - 1);
    const int bottom = std::clamp((box.y + box.height) / block_, top + 1, filled.rows);
    const int first = std::min(box.x / block_, filled.cols - 1);
    const int last = std::clamp((box.x + box.width - 1) / block_, first, filled.cols - 1);
    const int left_end = filled_end(filled, top, bottom, first, -1) * block_;
    const int right_end = (filled_end(filled, top, bottom, last, 1) + 1) * block_;
    const int shift = std::min(block_, box.width / 4);
    const std::vector<double> profile =
        profile_near(grey, box.y + inset, box.y + box.height - inset, {left_end - block_, box.x + shift},
                     {box.x + box.width - shift, right_end + block_});
    const int left = side(profile, box.x + shift, std::max(0, left_end - block_), -1, grey.cols());
    const int right =
        side(profile, box.x + box.width - shift, std::min(grey.cols(), right_end + block_), 1, grey.cols());
    return {left, box.y, std::max(1, right - left), box.height};
  }

  const GreyView &grey_, &turned_;
  const cv::Mat1b &filled_, &filled_turned_;
  int block_;
};

/// Where one picture ends and the next begins, columns of the canvas; equal where they touch.
struct Seam {
  int left, right;
};

/// True where there is a line within 3 pixels of `at`, the most a step takes.
bool line_near(const std::vector<double>& profile, int at, int block) {
  for (int x = std::max(1, at - 3); x <= std::min(static_cast<int>(profile.size()) - 1, at + 3); ++x)
    if (is_line(profile, x, block, line_ratio)) return true;
  return false;
}

/// The seam in `box`, if it holds two pictures: a line down the whole height, in each eighth of it, and
/// the other edge of the gutter if there is one.
std::optional<Seam> seam(const GreyView& grey, const cv::Rect& box, int block, int least_side) {
  const GreyView part = grey.part(box);
  const std::vector<double> whole = step_profile(part, 0, part.rows());
  const auto strongest_line = [&](int from, int to, int except, double ratio) {
    int best = -1;
    for (int x = from; x < to; ++x)
      if (std::abs(x - except) > 3 && is_line(whole, x, block, ratio) &&
          (best < 0 || whole[static_cast<std::size_t>(x)] > whole[static_cast<std::size_t>(best)]))
        best = x;
    return best;
  };
  const int first = strongest_line(least_side, part.cols() - least_side, -least_side, split_ratio);
  if (first < 0) return std::nullopt;
  constexpr int parts = 8;
  for (int i = 0; i < parts; ++i) {
    const int top = part.rows() * i / parts, bottom = part.rows() * (i + 1) / parts;
    if (!line_near(step_profile(part, top, bottom), first, block)) return std::nullopt;
  }
  int second = strongest_line(std::max(1, first - 2 * block), std::min(part.cols(), first + 2 * block), first,
                              split_ratio);
  if (second < 0) second = first;
  return Seam{box.x + std::min(first, second), box.x + std::max(first, second)};
}

void split(const GreyView& grey, const GreyView& turned, const cv::Rect& box, int block, int least_side,
           std::vector<cv::Rect>& out) {
  const int right = box.x + box.width, bottom = box.y + box.height;
  if (const auto x = seam(grey, box, block, least_side)) {
    split(grey, turned, {box.x, box.y, x->left - box.x, box.height}, block, least_side, out);
    split(grey, turned, {x->right, box.y, right - x->right, box.height}, block, least_side, out);
  } else if (const auto y = seam(turned, {box.y, box.x, box.height, box.width}, block, least_side)) {
    split(grey, turned, {box.x, box.y, box.width, y->left - box.y}, block, least_side, out);
    split(grey, turned, {box.x, y->right, box.width, bottom - y->right}, block, least_side, out);
  } else {
    out.push_back(box);
  }
}

/// True for two boxes one above the other with the same sides, neither of which ends at a line: parts of one
/// picture, with type across it between them. `turned` counts as rows do.
bool are_parts(const GreyView& turned, const cv::Rect& upper, const cv::Rect& lower, int block) {
  constexpr int same_side = 4, most_gap = 10;  // pixels, blocks
  const int gap = lower.y - upper.br().y;
  if (gap < -block || gap > most_gap * block || std::abs(upper.x - lower.x) > same_side ||
      std::abs(upper.br().x - lower.br().x) > same_side)
    return false;
  const std::vector<double> profile = step_profile(turned, upper.x, upper.br().x);
  return !line_near(profile, upper.br().y, block) && !line_near(profile, lower.y, block);
}

cv::Rect turned_box(const cv::Rect& box) { return {box.y, box.x, box.height, box.width}; }

/// Puts the parts of one picture together.
std::vector<cv::Rect> joined(std::vector<cv::Rect> boxes, const GreyView& grey, const GreyView& turned,
                             int block) {
  for (std::size_t i = 0; i < boxes.size(); ++i)
    for (std::size_t k = 0; k < boxes.size(); ++k) {
      if (i == k) continue;
      if (!are_parts(turned, boxes[i], boxes[k], block) &&
          !are_parts(grey, turned_box(boxes[i]), turned_box(boxes[k]), block))
        continue;
      boxes[i] |= boxes[k];
      boxes.erase(boxes.begin() + static_cast<std::ptrdiff_t>(k));
      return joined(std::move(boxes), grey, turned, block);
    }
  return boxes;
}

/// Share of the blocks in `box` that are surely photographic.
double textured_share(const TextureMap& texture, const cv::Rect& box) {
  const int block = texture.block;
  const cv::Rect blocks = cv::Rect(box.x / block, box.y / block, box.width / block, box.height / block) &
                          cv::Rect(0, 0, texture.textured.cols, texture.textured.rows);
  return blocks.empty() ? 0.0
                        : cv::countNonZero(texture.textured(blocks)) / static_cast<double>(blocks.area());
}

/// Cores of one picture grow to the same edges: keep one box for those that cover each other.
std::vector<cv::Rect> without_doubles(std::vector<cv::Rect> boxes) {
  std::ranges::stable_sort(boxes, std::greater{}, [](const cv::Rect& box) { return box.area(); });
  std::vector<cv::Rect> kept;
  for (const cv::Rect& box : boxes) {
    const bool inside = std::ranges::any_of(
        kept, [&](const cv::Rect& other) { return 2 * (other & box).area() > box.area(); });
    if (!inside) kept.push_back(box);
  }
  return kept;
}

}  // namespace

std::vector<PictureRegion> find_pictures(const cv::Mat& rgb, const TextureMap& texture, double dpi) {
  if (texture.textured.empty()) return {};
  cv::Mat1b page;
  cv::cvtColor(rgb, page, cv::COLOR_RGB2GRAY);
  const GreyView grey{page}, turned{page, true};
  cv::Mat1b filled, filled_turned;
  cv::bitwise_or(texture.textured, texture.soft, filled);
  cv::transpose(filled, filled_turned);
  const int least_side = static_cast<int>(std::floor(least_side_mm / 25.4 * dpi));
  const Outline outline(grey, turned, filled, filled_turned, texture.block);

  std::vector<cv::Rect> grown, boxes;
  for (const cv::Rect& core : core_boxes(texture)) {
    const cv::Rect box = outline.grow(core);
    if (textured_share(texture, box) >= least_texture) grown.push_back(box);
  }
  for (const cv::Rect& box : joined(without_doubles(grown), grey, turned, texture.block))
    split(grey, turned, box, texture.block, least_side, boxes);

  std::vector<PictureRegion> pictures;
  for (const cv::Rect& box : boxes)
    if (std::min(box.width, box.height) >= least_side && !is_tint(page(box))) pictures.push_back({box});
  std::ranges::sort(pictures, {}, [](const PictureRegion& picture) {
    return std::tuple(picture.box.y, picture.box.x, picture.box.width, picture.box.height);
  });
  return pictures;
}

std::vector<PictureRegion> find_pictures(const cv::Mat& rgb, double dpi) {
  if (rgb.empty()) return {};
  return find_pictures(rgb, TextureMapper(rgb, dpi).finish(), dpi);
}

}  // namespace frisket
