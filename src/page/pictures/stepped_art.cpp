#include "page/pictures/stepped_art.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <tuple>

#include "page/pictures/pixel_grid.hpp"
#include "page/zones/groups.hpp"

namespace frisket {
namespace {

constexpr int least_side = 16;      // page pixels: smaller things have too few boundaries
constexpr int least_contrast = 48;  // grey levels: fainter stairs are not seen in print
constexpr int least_step = 24;      // grey levels, of a boundary
constexpr double least_excluded =
    24.0;  // bits, of both axes together: no chance, on pages of thousands of things
constexpr double most_ratio = 1.55;  // of the axes, as for pictures
constexpr double same_grid = 0.03;   // relative
constexpr double apart_mm = 3.0;     // parts of one drawing, lines of one paragraph

/// Columns that some row steps by much before; none where two follow each other, as no grid has them.
std::vector<int> boundaries(const cv::Mat1b& grey) {
  std::vector<int> at;
  for (int x = 1; x < grey.cols; ++x) {
    int y = 0;
    while (y < grey.rows && std::abs(grey(y, x) - grey(y, x - 1)) < least_step) ++y;
    if (y == grey.rows) continue;
    if (!at.empty() && at.back() == x - 1) return {};
    at.push_back(x);
  }
  return at;
}

/// One value for each pixel of the original, read in the middle of what it was repeated to.
cv::Mat1b original(const cv::Mat1b& grey, const PixelGrid& x, const PixelGrid& y) {
  const std::vector<int> columns = x.middles(grey.cols), rows = y.middles(grey.rows);
  cv::Mat1b small(static_cast<int>(rows.size()), static_cast<int>(columns.size()));
  for (int i = 0; i < small.rows; ++i)
    for (int j = 0; j < small.cols; ++j)
      small(i, j) = grey(rows[static_cast<std::size_t>(i)], columns[static_cast<std::size_t>(j)]);
  return small;
}

/// The corners of an outline that runs between pixels.
class Corners {
 public:
  explicit Corners(const cv::Mat1b& ink) : turn_(ink.size() + cv::Size(1, 1), 0), way_(turn_.size()) {
    for (int y = 1; y < ink.rows; ++y)
      for (int x = 1; x < ink.cols; ++x) look_at(ink, y, x);
  }

  /// True where most corners lie between two that turn the other way: slants and curves are such stairs,
  /// while of the corners of a code of modules a quarter do, by chance.
  bool are_stairs() const {
    constexpr int least_stairs = 12;
    int all = 0, stairs = 0;
    for (int y = 0; y < turn_.rows; ++y)
      for (int x = 0; x < turn_.cols; ++x) {
        const int turn = turn_(y, x);
        all += turn != 0;
        if (std::abs(turn) != 1) continue;
        const cv::Vec2i way = way_(y, x);
        stairs += next(y, x, 0, way[0]) == -turn && next(y, x, way[1], 0) == -turn;
      }
    return stairs >= least_stairs && 2 * stairs >= all;
  }

 private:
  void look_at(const cv::Mat1b& ink, int y, int x) {
    const std::array<bool, 4> set{ink(y - 1, x - 1) > 0, ink(y - 1, x) > 0, ink(y, x - 1) > 0, ink(y, x) > 0};
    const auto count = std::ranges::count(set, true);
    if (count == 2 && set[0] == set[3]) turn_(y, x) = 2;
    if (count != 1 && count != 3) return;
    turn_(y, x) = count == 1 ? 1 : -1;
    const auto odd =
        std::ranges::find(set, count == 1) - set.begin();  // the outline runs on along its two sides
    way_(y, x) = cv::Vec2i(odd % 2 ? 1 : -1, odd / 2 ? 1 : -1);
  }

  int next(int y, int x, int dy, int dx) const {
    const cv::Rect all(cv::Point(), turn_.size());
    do y += dy, x += dx;
    while (all.contains({x, y}) && turn_(y, x) == 0);
    return all.contains({x, y}) ? turn_(y, x) : 0;
  }

  cv::Mat1i turn_;           ///< 1 round one pixel of ink, -1 round one of paper, 2 where two corners meet
  cv::Mat_<cv::Vec2i> way_;  ///< the way the outline runs on, along x and along y
};

/// True where edges have pixels of mixed colour on them, as an anti-aliased original has.
bool has_rims(const cv::Mat1b& small) {
  constexpr int least_rims = 24;
  int edges = 0, rims = 0;
  const auto look = [&](int before, int at, int after) {
    const int low = std::min(before, after), high = std::max(before, after);
    if (high - low < 2 * least_step) return;
    ++edges;
    rims += at > low + least_step / 2 && at < high - least_step / 2;
  };
  for (int y = 1; y + 1 < small.rows; ++y)
    for (int x = 1; x + 1 < small.cols; ++x) {
      look(small(y, x - 1), small(y, x), small(y, x + 1));
      look(small(y - 1, x), small(y, x), small(y + 1, x));
    }
  return rims >= least_rims && 4 * rims >= edges;
}

bool is_enlarged_drawing(const cv::Mat1b& small) {
  cv::Mat1b ink;
  cv::threshold(small, ink, 0, 255, cv::THRESH_BINARY | cv::THRESH_OTSU);
  return has_rims(small) || Corners(ink).are_stairs();
}

std::optional<SteppedArt> look_at(const cv::Mat1b& grey, const cv::Rect& box) {
  if (std::min(box.width, box.height) < least_side) return std::nullopt;
  const cv::Mat1b part = grey(box);
  const auto x = fit_pixel_grid(boundaries(part));
  if (!x) return std::nullopt;
  const auto y = fit_pixel_grid(boundaries(cv::Mat1b(part.t())));
  if (!y || x->excluded + y->excluded < least_excluded ||
      std::max(x->pitch, y->pitch) > most_ratio * std::min(x->pitch, y->pitch))
    return std::nullopt;
  double least = 0, most = 0;
  cv::minMaxLoc(part, &least, &most);
  if (most - least < least_contrast || !is_enlarged_drawing(original(part, *x, *y))) return std::nullopt;
  return SteppedArt{box, x->pitch, y->pitch};
}

bool same(double a, double b) { return std::abs(a / b - 1.0) < same_grid; }

bool belong_together(const SteppedArt& a, const SteppedArt& b, int apart) {
  const cv::Rect around(a.box.x - apart, a.box.y - apart, a.box.width + 2 * apart, a.box.height + 2 * apart);
  return !(around & b.box).empty() && same(a.factor_x, b.factor_x) && same(a.factor_y, b.factor_y);
}

/// One box for each group; the grid is that of its largest part, which tells it best.
std::vector<SteppedArt> merged(const std::vector<SteppedArt>& found, int apart) {
  Groups groups(found.size());
  for (std::size_t i = 0; i < found.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (belong_together(found[i], found[k], apart)) groups.unite(static_cast<int>(k), static_cast<int>(i));
  std::vector<SteppedArt> all;
  for (const std::vector<int>& group : groups.all()) {
    SteppedArt art = found[static_cast<std::size_t>(group.front())];
    for (const int i : group) art.box |= found[static_cast<std::size_t>(i)].box;
    all.push_back(art);
  }
  std::ranges::sort(all, {}, [](const SteppedArt& art) { return std::tuple(art.box.y, art.box.x); });
  return all;
}

}  // namespace

std::vector<SteppedArt> find_stepped_art(const cv::Mat& rgb, std::vector<cv::Rect> boxes, double dpi) {
  cv::Mat1b grey;
  cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
  std::ranges::stable_sort(boxes, std::greater{}, [](const cv::Rect& box) { return box.area(); });
  std::vector<SteppedArt> found;
  for (const cv::Rect& box : boxes) {
    const bool inside =
        std::ranges::any_of(found, [&](const SteppedArt& art) { return (art.box & box) == box; });
    if (inside) continue;
    if (const auto art = look_at(grey, box & cv::Rect(cv::Point(), grey.size()))) found.push_back(*art);
  }
  return merged(found, static_cast<int>(std::lround(apart_mm / 25.4 * dpi)));
}

}  // namespace frisket
