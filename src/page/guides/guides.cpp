#include "page/guides/guides.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace frisket {
namespace {

constexpr double widest_mm = 0.71;  // 2 pt
constexpr double section_mm = 10.0;
constexpr double sections_share = 0.9;
constexpr double least_ink_share = 0.12;  // of a section: a dotted line has gaps
constexpr int least_contrast = 20;        // levels
constexpr int of_border = 3;      // as a part of the step between unlike sides; ringing is less than a fifth
constexpr double reach_mm = 0.5;  // of a guide from its place
constexpr int one_colour = 32;    // levels that the pixels of a line differ from its colour
constexpr int part_purest = 4;    // of them have it: a quarter
constexpr double row_mm = 12.0;   // each side, where other lines like it would lie
constexpr int row_of_lines = 2;
constexpr double row_of_figures_mm = 16.0;  // room for two besides one in the place of the safe zone
constexpr int wider_px = 3;                 // than the line: gaps between figures are not all alike
constexpr double sections_of_others = 0.6;  // in which the others of a row show: type covers the rest
constexpr double ink_of_others = 0.5;       // of the line's own, for the same reason

/// What stands out of a column (or row) of the page from what lies beside it.
struct Ink {
  int amount = 0;  // px, along it
  cv::Vec3b colour;
};

struct Line {
  double position;  // px, its centre
  double width;     // px
  Ink ink;
};

/// Lines of one row, and figures of one pattern, are of one colour.
bool is_of_one_colour(const Ink& a, const Ink& b) { return colour_step(a.colour, b.colour) <= one_colour; }

/// Does the pixel stand out from both sides, and by more than what blur and ringing make of the border
/// between two unlike ones?
bool stands_out(const cv::Vec3b& before, const cv::Vec3b& here, const cv::Vec3b& after) {
  const int least = std::max(least_contrast, colour_step(before, after) / of_border);
  for (int i = 0; i < 3; ++i) {
    const int left = here[i] - before[i], right = here[i] - after[i];
    const int less = std::min(std::abs(left), std::abs(right)),
              more = std::max(std::abs(left), std::abs(right));
    if (less >= least && 2 * less >= more && (left > 0) == (right > 0)) return true;
  }
  return false;
}

/// Columns (or rows) of the page looked at for lines between two positions along them.
class LineFinder {
 public:
  LineFinder(const cv::Mat& rgb, bool vertical, double from, double to, const Scale& scale)
      : rgb_(rgb),
        vertical_(vertical),
        side_(scale.whole_px(widest_mm) + 1),
        section_(scale.whole_px(section_mm)),
        across_(vertical ? rgb.cols : rgb.rows) {
    const int along = vertical ? rgb.rows : rgb.cols;
    start_ = std::clamp(static_cast<int>(from), 0, along);
    sections_ = (std::clamp(static_cast<int>(to), 0, along) - start_) / section_;
  }

  /// The line within `reach` px of `position`, the most inked one.
  std::optional<Line> find(double position, double reach) const {
    const int first = std::max(side_, static_cast<int>(std::floor(position - reach)));
    const int last = std::min(across_ - 1 - side_, static_cast<int>(std::ceil(position + reach)));
    if (first > last || sections_ < 1) return std::nullopt;
    std::vector<Ink> ink;
    for (int x = first; x <= last; ++x) ink.push_back(ink_of_line(x, side_, sections_share));
    const auto best = std::ranges::max_element(ink, {}, &Ink::amount);
    if (best->amount == 0) return std::nullopt;
    const int peak = static_cast<int>(best - ink.begin());
    int low = peak, high = peak;
    while (low > 0 && 2 * ink[low - 1].amount >= best->amount) --low;
    while (high + 1 < static_cast<int>(ink.size()) && 2 * ink[high + 1].amount >= best->amount) ++high;
    if (high - low + 1 > side_) return std::nullopt;
    return Line{first + (low + high + 1) / 2.0, static_cast<double>(high - low + 1), *best};
  }

  /// Is the line one of a row at equal distances, however broad they are? Type covers some of the others, and
  /// gaps between figures are a pixel wider here than there.
  template <class IsOther>
  bool is_in_a_row(const Line& line, int nearest, int farthest, const IsOther& is_other) const {
    const int at = static_cast<int>(line.position);
    std::vector<bool> like(static_cast<std::size_t>(2 * farthest + 1));
    for (int away = -farthest; away <= farthest; ++away)
      like[static_cast<std::size_t>(away + farthest)] =
          is_other(at + away) &&
          (is_like(line, at + away, side_) || is_like(line, at + away, side_ + wider_px));
    const auto near = [&](int away) -> int {
      for (int x = std::max(-farthest, away - 1); x <= std::min(farthest, away + 1); ++x)
        if (like[static_cast<std::size_t>(x + farthest)]) return 1;
      return 0;
    };
    for (int step = nearest; 2 * step <= farthest; ++step) {
      int others = 0;
      for (int away = step; away <= farthest; away += step) others += near(away) + near(-away);
      if (others >= row_of_lines) return true;
    }
    return false;
  }

 private:
  cv::Vec3b pixel(int x, int t) const {
    return vertical_ ? rgb_.at<cv::Vec3b>(t, x) : rgb_.at<cv::Vec3b>(x, t);
  }

  bool is_like(const Line& line, int x, int side) const {
    if (x < side || x >= across_ - side) return false;
    const Ink ink = ink_of_line(x, side, sections_of_others);
    return ink.amount >= ink_of_others * line.ink.amount && is_of_one_colour(ink, line.ink);
  }

  /// A pixel of a column that stands out from what lies beside it.
  struct Place {
    int t;
    cv::Vec3b colour;
    int contrast;  ///< levels, to the nearer side
  };

  std::vector<Place> places_in(int x, int side) const {
    std::vector<Place> places;
    for (int t = start_; t < start_ + sections_ * section_; ++t) {
      const cv::Vec3b before = pixel(x - side, t), here = pixel(x, t), after = pixel(x + side, t);
      if (stands_out(before, here, after))
        places.push_back({t, here, std::min(colour_step(before, here), colour_step(here, after))});
    }
    return places;
  }

  /// Pixels of a line's colour in column x, that stand out from what lies `side` px beside them; none where
  /// they are not spread over so large a share of its sections. The line has the colour of what stands out
  /// most, which it covers whole; of the ends of dots and dashes it covers half at least.
  Ink ink_of_line(int x, int side, double spread) const {
    std::vector<Place> places = places_in(x, side);
    if (static_cast<double>(places.size()) < spread * least_ink_share * sections_ * section_) return {};
    const auto purest = std::ssize(places) / part_purest + 1;
    std::ranges::nth_element(places, places.begin() + purest - 1, std::ranges::greater{}, &Place::contrast);
    cv::Vec3d sum;
    for (auto place = places.begin(); place != places.begin() + purest; ++place) sum += place->colour;
    const cv::Vec3b colour = sum / static_cast<double>(purest);
    std::vector<int> hits(static_cast<std::size_t>(sections_));
    int ink = 0;
    for (const Place& place : places)
      if (colour_step(place.colour, colour) <= std::max(one_colour, place.contrast))
        ++hits[static_cast<std::size_t>((place.t - start_) / section_)], ++ink;
    const auto full = std::ranges::count_if(hits, [&](int n) { return n >= least_ink_share * section_; });
    return static_cast<double>(full) >= spread * sections_ ? Ink{ink, colour} : Ink{};
  }

  const cv::Mat& rgb_;
  bool vertical_;
  int side_, section_, across_;
  int start_ = 0, sections_ = 0;
};

/// Looks for lines in the places of the job's lines.
class GuideFinder {
 public:
  GuideFinder(const cv::Mat& rgb, const std::vector<JobLine>& lines, const Scale& scale,
              const std::optional<Lattice>& lattice)
      : rgb_(rgb), lines_(lines), scale_(scale), lattice_(lattice) {}

  /// A line in its place, unless it is one of a row of lines: stripes, grids and rows of figures are no
  /// guides.
  std::optional<Line> find(const JobLine& line) const {
    const LineFinder finder(rgb_, line.vertical, line.from, line.to, scale_);
    const auto found = finder.find(line.at, scale_.px(reach_mm));
    if (!found || is_of_lattice(found->ink.colour)) return std::nullopt;
    int others = 0;
    const double step = scale_.px(2.0 * reach_mm);
    if (finder.is_in_a_row(*found, scale_.whole_px(2.0 * widest_mm), scale_.whole_px(row_of_figures_mm),
                           [&](double at) { return !is_of_job(line.vertical, at, step); }))
      return std::nullopt;
    for (double away = scale_.px(2.0 * widest_mm) + step; away <= scale_.px(row_mm); away += step)
      for (const double side : {-1.0, 1.0}) {
        const double at = line.at + side * away;
        if (is_of_job(line.vertical, at, step)) continue;
        const auto other = finder.find(at, step / 2.0);
        others += other && is_of_one_colour(other->ink, found->ink);
      }
    return others >= row_of_lines ? std::nullopt : found;
  }

 private:
  bool is_of_lattice(const cv::Vec3f& colour) const {
    return lattice_ && std::min(colour_step(colour, lattice_->one), colour_step(colour, lattice_->other)) <=
                           static_cast<float>(one_colour);
  }

  bool is_of_job(bool vertical, double at, double reach) const {
    return std::ranges::any_of(lines_, [&](const JobLine& line) {
      return line.vertical == vertical && std::abs(line.at - at) <= reach;
    });
  }

  const cv::Mat& rgb_;
  const std::vector<JobLine>& lines_;
  const Scale& scale_;
  const std::optional<Lattice>& lattice_;
};

}  // namespace

std::vector<Guide> find_guides(const cv::Mat& rgb, const Placement& placement,
                               const std::vector<JobLine>& lines, const Scale& scale,
                               const std::optional<Lattice>& lattice) {
  const GuideFinder finder(rgb, lines, scale, lattice);
  std::vector<Guide> guides;
  for (const JobLine& line : lines) {
    if (!line.edge && !line.fold) continue;
    if (const auto found = finder.find(line))
      guides.push_back({line.vertical,
                        line.vertical ? placement.x_of(found->position) : placement.y_of(found->position),
                        Length::from_mm(found->width / scale.px_per_mm), line.edge, line.fold});
  }
  return guides;
}

bool lies_on(const Rect& box, const Guide& guide) {
  const Length slack = Length::from_mm(0.25);
  const Length low = guide.vertical ? box.left() : box.top(),
               high = guide.vertical ? box.right() : box.bottom();
  return low >= guide.position - guide.width - slack && high <= guide.position + guide.width + slack;
}

}  // namespace frisket
