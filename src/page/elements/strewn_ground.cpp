#include "page/elements/strewn_ground.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>

namespace frisket {
namespace {

constexpr int least_cut = 6;    // things past the trim; a slip moves one or two
constexpr int least_short = 2;  // of them that end before the canvas does: of a pattern, the canvas cuts all
constexpr int least_at_edge = 2;        // of them at an edge, for it to count
constexpr int least_edges = 2;          // one edge alone may be a row of icons set too far out
constexpr double largest_share = 0.4;   // side of a small thing, of the trim's shorter side
constexpr double slenderest = 10.0;     // length to width: crop marks and guides are no chips
constexpr double size_slack = 2.0;      // of the largest that is cut: a piece is gone, or two others meet
constexpr float like_colour = 24.0F;    // levels
constexpr std::size_t motley = 4;       // colours: then a chip may have any
constexpr std::size_t long_line = 16;   // letters: at any angle
constexpr double same_foot = 0.15;      // of a letter's height
constexpr double widest_gap = 0.6;      // between letters, of their height: chips lie wider apart
constexpr std::size_t surely_text = 4;  // letters of a line, all of one colour

double longer_side(const PixelRect& box) { return std::max(box.width, box.height); }
double shorter_side(const PixelRect& box) { return std::min(box.width, box.height); }

template <class T>
T median(std::vector<T> values) {
  const auto middle = values.begin() + std::ssize(values) / 2;
  std::ranges::nth_element(values, middle);
  return *middle;
}

class Strewing {
 public:
  Strewing(std::vector<Element>& elements, const std::vector<cv::Vec3f>& colours,
           const std::vector<Surface>& grounds, const PixelRect& trim)
      : elements_(elements), colours_(colours), grounds_(grounds), trim_(trim), text_(elements.size()) {}

  /// Chips come in all colours, a line of type in one; but of small letters the colour wavers.
  void spare(const TextLine& line) {
    const cv::Vec3f usual = median_colour(line.letters);
    const auto alike = static_cast<std::size_t>(std::ranges::count_if(
        line.letters, [&](int i) { return colour_step(colour(i), usual) <= like_colour; }));
    if (alike < surely_text || 2 * alike < line.letters.size()) return;
    if (alike < long_line && !is_set(line)) return;
    for (const int letter : line.letters) text_[static_cast<std::size_t>(letter)] = true;
  }

  std::vector<int> mark() {
    std::vector<int> members;
    if (!find_cut()) return members;
    for (std::size_t i = 0; i < elements_.size(); ++i) {
      if (!is_small(i) || longer_side(elements_[i].box_px) > size_slack * largest_) continue;
      if (cut_colours_.size() < motley && !is_cut_colour(colours_[i], like_colour)) continue;
      elements_[i].repeats = true;
      members.push_back(static_cast<int>(i));
    }
    return members;
  }

 private:
  const cv::Vec3f& colour(int element) const { return colours_[static_cast<std::size_t>(element)]; }

  /// Do most stand on one line and close together, as letters do?
  bool is_set(const TextLine& line) const {
    std::vector<double> feet, heights, gaps;
    double end = 0;
    for (const int i : line.letters) {
      const PixelRect& box = elements_[static_cast<std::size_t>(i)].box_px;
      const PixelRect b = line.vertical ? PixelRect{box.y, box.x, box.height, box.width} : box;
      feet.push_back(line.vertical ? b.y : b.bottom()), heights.push_back(b.height);
      if (i != line.letters.front()) gaps.push_back(std::max(b.x - end, 0.0));
      end = b.right();
    }
    const double foot = median(feet), height = median(std::move(heights));
    const auto on_it =
        std::ranges::count_if(feet, [&](double f) { return std::abs(f - foot) <= same_foot * height; });
    return 5 * on_it >= 3 * std::ssize(feet) && median(std::move(gaps)) <= widest_gap * height;
  }

  cv::Vec3f median_colour(const std::vector<int>& members) const {
    cv::Vec3f usual;
    for (int channel = 0; channel < 3; ++channel) {
      std::vector<float> levels;
      for (const int i : members) levels.push_back(colour(i)[channel]);
      usual[channel] = median(std::move(levels));
    }
    return usual;
  }

  bool is_cut_colour(const cv::Vec3f& colour, float slack) const {
    return std::ranges::any_of(cut_colours_,
                               [&](const cv::Vec3f& c) { return colour_step(c, colour) <= slack; });
  }

  bool is_chip_sized(const PixelRect& box) const {
    return longer_side(box) <= largest_share * shorter_side(trim_);
  }

  bool is_small(std::size_t i) const {
    const Element& e = elements_[i];
    return e.parent < 0 && e.matter != Matter::picture && !e.on_guide && !e.repeats && !text_[i] &&
           is_chip_sized(e.box_px);
  }

  /// Is enough cut by the trim? Notes its colours and largest size.
  bool find_cut() {
    for (std::size_t i = 0; i < elements_.size(); ++i)
      if (is_small(i) && count_cut(elements_[i].box_px, colours_[i]) && !elements_[i].touches_canvas)
        ++ends_short_;
    for (const Surface& surface : grounds_) {
      const PixelRect box{double(surface.box.x), double(surface.box.y), double(surface.box.width),
                          double(surface.box.height)};
      if (surface.bleeds && surface.kind == Surface::Kind::field && is_chip_sized(box))
        count_cut(box, surface.colour);
    }
    return cut_ >= least_cut && ends_short_ >= least_short &&
           std::ranges::count_if(at_edge_, [](int n) { return n >= least_at_edge; }) >= least_edges;
  }

  /// False for what lies within the trim.
  bool count_cut(const PixelRect& b, const cv::Vec3f& colour) {
    if (longer_side(b) > slenderest * shorter_side(b)) return false;
    const std::array past{b.y<trim_.y, b.right()> trim_.right(), b.bottom() > trim_.bottom(), b.x < trim_.x};
    if (std::ranges::none_of(past, std::identity())) return false;
    for (std::size_t edge = 0; edge < past.size(); ++edge) at_edge_[edge] += past[edge];
    ++cut_;
    largest_ = std::max(largest_, longer_side(b));
    if (cut_colours_.size() < motley && !is_cut_colour(colour, like_colour / 2))
      cut_colours_.push_back(colour);
    return true;
  }

  std::vector<Element>& elements_;
  const std::vector<cv::Vec3f>& colours_;
  const std::vector<Surface>& grounds_;
  const PixelRect trim_;
  std::vector<bool> text_;
  std::vector<cv::Vec3f> cut_colours_;  ///< up to `motley`
  double largest_ = 0;                  ///< px
  std::array<int, 4> at_edge_{};
  int cut_ = 0, ends_short_ = 0;
};

}  // namespace

std::vector<int> mark_strewn(std::vector<Element>& elements, const std::vector<cv::Vec3f>& colours,
                             const std::vector<TextLine>& lines, const std::vector<Surface>& grounds,
                             const PixelRect& trim) {
  Strewing strewing(elements, colours, grounds, trim);
  for (const TextLine& line : lines) strewing.spare(line);
  return strewing.mark();
}

}  // namespace frisket
