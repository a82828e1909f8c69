#include "page/elements/strewn_ground.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>

namespace frisket {
namespace {

constexpr int least_cut = 6;    // things past the trim; common practice, no source
constexpr int least_short = 2;  // of them that end before the canvas does: of a pattern, the canvas cuts all
constexpr int least_at_edge = 2;        // of them at an edge, for it to count
constexpr int least_edges = 2;          // one edge alone may be a row of icons set too far out
constexpr double largest_share = 0.4;   // side of a small thing, of the trim's shorter side
constexpr double slenderest = 10.0;     // length to width: crop marks and guides are no chips
constexpr double size_slack = 2.0;      // of the largest that is cut: a piece is gone, or two others meet
constexpr float like_colour = 24.0F;    // levels
constexpr std::size_t motley = 4;       // colours: then a chip may have any
constexpr std::size_t long_line = 8;    // letters: at any angle
constexpr double same_side = 0.15;      // of a letter's height
constexpr std::size_t surely_text = 4;  // letters of a line, all of one colour

double longer_side(const Element& e) { return std::max(e.box_px.width, e.box_px.height); }
double shorter_side(const Element& e) { return std::min(e.box_px.width, e.box_px.height); }

template <class T>
T median(std::vector<T> values) {
  const auto middle = values.begin() + std::ssize(values) / 2;
  std::ranges::nth_element(values, middle);
  return *middle;
}

class Strewing {
 public:
  Strewing(std::vector<Element>& elements, const std::vector<cv::Vec3f>& colours, const PixelRect& trim)
      : elements_(elements), colours_(colours), trim_(trim), text_(elements.size()) {}

  /// Chips come in all colours, a line of type in one; but of small letters the colour wavers.
  void spare(const TextLine& line) {
    const cv::Vec3f usual = median_colour(line.letters);
    const auto alike = static_cast<std::size_t>(std::ranges::count_if(
        line.letters, [&](int i) { return colour_step(colour(i), usual) <= like_colour; }));
    if (alike < surely_text || 2 * alike < line.letters.size()) return;
    if (alike < long_line && !share_a_side(line)) return;
    for (const int letter : line.letters) text_[static_cast<std::size_t>(letter)] = true;
  }

  std::vector<int> mark() {
    std::vector<int> members;
    if (!find_cut()) return members;
    for (std::size_t i = 0; i < elements_.size(); ++i) {
      if (!is_small(i) || longer_side(elements_[i]) > size_slack * largest_) continue;
      if (cut_colours_.size() < motley && !is_cut_colour(i, like_colour)) continue;
      elements_[i].repeats = true;
      members.push_back(static_cast<int>(i));
    }
    return members;
  }

 private:
  const cv::Vec3f& colour(int element) const { return colours_[static_cast<std::size_t>(element)]; }

  /// Do most stand on one line, as letters do?
  bool share_a_side(const TextLine& line) const {
    std::vector<double> sides, heights;
    for (const int i : line.letters) {
      const PixelRect& b = elements_[static_cast<std::size_t>(i)].box_px;
      sides.push_back(line.vertical ? b.x : b.bottom());
      heights.push_back(line.vertical ? b.width : b.height);
    }
    const double usual = median(sides), slack = same_side * median(heights);
    const auto on_it = std::ranges::count_if(sides, [&](double s) { return std::abs(s - usual) <= slack; });
    return 5 * on_it >= 3 * std::ssize(line.letters);
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

  bool is_cut_colour(std::size_t i, float slack) const {
    return std::ranges::any_of(cut_colours_,
                               [&](const cv::Vec3f& c) { return colour_step(c, colours_[i]) <= slack; });
  }

  bool is_small(std::size_t i) const {
    const Element& e = elements_[i];
    return e.parent < 0 && e.matter != Matter::picture && !e.on_guide && !e.repeats && !text_[i] &&
           longer_side(e) <= largest_share * std::min(trim_.width, trim_.height);
  }

  /// Is enough cut by the trim? Notes its colours and largest size.
  bool find_cut() {
    std::array<int, 4> at_edge{};
    int cut = 0, ends_short = 0;
    for (std::size_t i = 0; i < elements_.size(); ++i) {
      const Element& e = elements_[i];
      if (!is_small(i) || longer_side(e) > slenderest * shorter_side(e)) continue;
      const PixelRect& b = e.box_px;
      const std::array past{b.y<trim_.y, b.right()> trim_.right(), b.bottom() > trim_.bottom(),
                            b.x < trim_.x};
      if (std::ranges::none_of(past, std::identity())) continue;
      for (std::size_t edge = 0; edge < past.size(); ++edge) at_edge[edge] += past[edge];
      ++cut, ends_short += !e.touches_canvas;
      largest_ = std::max(largest_, longer_side(e));
      if (cut_colours_.size() < motley && !is_cut_colour(i, like_colour / 2))
        cut_colours_.push_back(colours_[i]);
    }
    return cut >= least_cut && ends_short >= least_short &&
           std::ranges::count_if(at_edge, [](int n) { return n >= least_at_edge; }) >= least_edges;
  }

  std::vector<Element>& elements_;
  const std::vector<cv::Vec3f>& colours_;
  const PixelRect trim_;
  std::vector<bool> text_;
  std::vector<cv::Vec3f> cut_colours_;  ///< up to `motley`
  double largest_ = 0;
};

}  // namespace

std::vector<int> mark_strewn(std::vector<Element>& elements, const std::vector<cv::Vec3f>& colours,
                             const std::vector<TextLine>& lines, const PixelRect& trim) {
  Strewing strewing(elements, colours, trim);
  for (const TextLine& line : lines) strewing.spare(line);
  return strewing.mark();
}

}  // namespace frisket
