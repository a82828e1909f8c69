#include "page/pattern_ground.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "page/pixel_boxes.hpp"
#include "page/seams.hpp"

namespace frisket {
namespace {

constexpr float same_tile_colour = 4.0F;  // levels

// Set while looking at planted dots, crosses and boards, where cut and anti-aliased figures stay within
// these.
constexpr double largest_figure = 1.1;                   // of a figure's box area
constexpr double whole_figure_slack = 0.05;              // of its pixels
constexpr double stripe_slack = 1.3;                     // of a stripe's thickness
constexpr double part_of_box = 0.85, part_of_ink = 0.5;  // less of an element than this is a part of it

/// Calls `use(y)` for all rows, on all cores.
template <class Use>
void each_row(const cv::Mat& page, Use&& use) {
  cv::parallel_for_({0, page.rows}, [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y) use(y);
  });
}

/// Gives one pattern's figures to the ground.
class Absorber {
 public:
  Absorber(const cv::Mat& rgb, const ElementTree& tree, const Pattern& pattern, const Scale& scale,
           SurfaceMap& map)
      : rgb_(rgb(pattern.field)),
        element_(tree.map.dense(pattern.field)),
        tree_(tree),
        pattern_(pattern),
        scale_(scale),
        map_(map),
        label_(map.label.dense(pattern.field)) {}

  /// False where the figures stay what they are.
  bool run() {
    ground_ = ground_of_figures();
    if (ground_ == 0 || (pattern_.thickness > 0 && is_paper(map_.of(ground_)))) return false;
    cv::Mat1b given = figures();
    add_borders(given);
    label_.setTo(ground_, given);
    map_.label.replace(pattern_.field, label_);
    // A ground that is made of tiles goes on to the canvas edge as they do.
    map_.surfaces[static_cast<std::size_t>(ground_ - 1)].bleeds = true;
    return true;
  }

 private:
  /// The surface met most often just outside the figures.
  int ground_of_figures() const {
    constexpr int outside = 3;
    std::map<int, int> met;
    for (const cv::Rect& box : pattern_.figures) {
      const cv::Point middle = (box.tl() + box.br()) / 2;
      for (const cv::Point at :
           {cv::Point(box.x - outside, middle.y), cv::Point(box.br().x + outside, middle.y),
            cv::Point(middle.x, box.y - outside), cv::Point(middle.x, box.br().y + outside)})
        if (at.x >= 0 && at.y >= 0 && at.x < map_.label.cols && at.y < map_.label.rows &&
            is_field(map_.label(at)))
          ++met[map_.label(at)];
    }
    // Tiles lie side by side: all there is between them is their anti-aliased seams.
    if (met.empty())
      for (int y = 0; y < label_.rows; ++y)
        for (int x = 0; x < label_.cols; ++x)
          if (is_field(label_(y, x))) ++met[label_(y, x)];
    const auto most = std::ranges::max_element(met, {}, [](const auto& entry) { return entry.second; });
    return most == met.end() ? 0 : bleeding(most->first);
  }

  /// Where the ground is made of tiles too: one of them that bleeds.
  int bleeding(int ground) const {
    if (map_.of(ground).bleeds) return ground;
    for (std::size_t i = 0; i < map_.surfaces.size(); ++i)
      if (map_.surfaces[i].bleeds && map_.surfaces[i].kind == Surface::Kind::field &&
          colour_step(map_.surfaces[i].colour, map_.of(ground).colour) <= same_tile_colour)
        return static_cast<int>(i) + 1;
    return ground;
  }

  /// Zones of the figures' colour that are no larger than a figure. A lone letter of that colour is no
  /// figure.
  cv::Mat1b figures() const {
    const int tolerance = scale_.lossy ? 20 : 6;
    cv::Mat1b coloured(rgb_.size());
    each_row(rgb_, [&](int y) {
      for (int x = 0; x < rgb_.cols; ++x)
        coloured(y, x) =
            !is_wide(label_(y, x)) && colour_step(cv::Vec3f(rgb_.at<cv::Vec3b>(y, x)), pattern_.colour) <=
                                          static_cast<float>(tolerance)
                ? 255
                : 0;
    });
    cv::Mat labels, stats, centroids;
    const int count = cv::connectedComponentsWithStats(coloured, labels, stats, centroids, 4, CV_32S);
    const double usual = usual_area(stats, count);
    std::vector<bool> figure(static_cast<std::size_t>(count));
    for (int i = 1; i < count; ++i) {
      const cv::Rect box(stats.at<int>(i, cv::CC_STAT_LEFT), stats.at<int>(i, cv::CC_STAT_TOP),
                         stats.at<int>(i, cv::CC_STAT_WIDTH), stats.at<int>(i, cv::CC_STAT_HEIGHT));
      const int area = stats.at<int>(i, cv::CC_STAT_AREA);
      figure[static_cast<std::size_t>(i)] =
          std::abs(area - usual) <= whole_figure_slack * usual || is_figure(labels, i, box, area);
    }
    cv::Mat1b mask(rgb_.size());
    each_row(rgb_, [&](int y) {
      for (int x = 0; x < rgb_.cols; ++x)
        mask(y, x) = figure[static_cast<std::size_t>(labels.at<int>(y, x))] ? 255 : 0;
    });
    return mask;
  }

  /// Pixels of a whole figure; 0 for stripes.
  double usual_area(const cv::Mat& stats, int count) const {
    std::vector<int> areas;
    for (int i = 1; i < count && pattern_.thickness <= 0; ++i) {
      const double box = stats.at<int>(i, cv::CC_STAT_WIDTH) * stats.at<int>(i, cv::CC_STAT_HEIGHT);
      if (box >= 0.8 * pattern_.figure_area && box <= largest_figure * pattern_.figure_area)
        areas.push_back(stats.at<int>(i, cv::CC_STAT_AREA));
    }
    if (areas.empty()) return 0.0;
    std::ranges::nth_element(areas, areas.begin() + std::ssize(areas) / 2);
    return areas[areas.size() / 2];
  }

  bool is_field(int surface) const { return surface != 0 && map_.of(surface).kind == Surface::Kind::field; }

  bool is_wide(int surface) const {
    return surface != 0 && static_cast<double>(map_.of(surface).area) > 2.0 * pattern_.figure_area;
  }

  bool is_figure(const cv::Mat& labels, int component, const cv::Rect& box, int area) const {
    const bool stripes = pattern_.thickness > 0;
    if (stripes ? area > (stripe_slack * pattern_.thickness + 1.0) * std::hypot(box.width, box.height)
                : box.area() > largest_figure * pattern_.figure_area)
      return false;
    for (int x = box.x; x < box.br().x; ++x)
      if (labels.at<int>(box.y, x) == component) {
        const int element = element_(box.y, x);
        if (element < 0) return true;
        const Element& e = tree_.elements[static_cast<std::size_t>(element)];
        return e.repeats || is_part(box, area, e) || !inside(box + pattern_.field.tl(), pattern_.inner) ||
               adjoins_another(box, element);
      }
    return true;
  }

  /// A figure that type touches is a part of what the type became.
  static bool is_part(const cv::Rect& box, int area, const Element& element) {
    const double whole = element.box_px.width * element.box_px.height;
    return box.area() < part_of_box * whole || area < part_of_ink * element.ink * whole;
  }

  /// Is it beside something else than the ground, which may cover a part of it?
  bool adjoins_another(const cv::Rect& box, int element) const {
    constexpr int reach = 3;
    const cv::Rect round =
        (box + cv::Size(2 * reach, 2 * reach) - cv::Point(reach, reach)) & cv::Rect({}, label_.size());
    for (int y = round.y; y < round.br().y; ++y)
      for (int x = round.x; x < round.br().x; ++x)
        if (element_(y, x) >= 0 ? element_(y, x) != element : label_(y, x) != 0 && label_(y, x) != ground_)
          return true;
    return false;
  }

  /// The anti-aliased pixels between the figures and the ground.
  void add_borders(cv::Mat1b& given) const {
    const int reach = scale_.lossy ? 3 : 2, slack = scale_.lossy ? 24 : 6;
    cv::Mat near;
    cv::dilate(given, near, cv::getStructuringElement(cv::MORPH_RECT, {2 * reach + 1, 2 * reach + 1}));
    const cv::Vec3f& ground = map_.of(ground_).colour;
    each_row(rgb_, [&](int y) {
      for (int x = 0; x < rgb_.cols; ++x) {
        if (given(y, x) != 0 || near.at<std::uint8_t>(y, x) == 0 ||
            (element_(y, x) < 0 && is_field(label_(y, x))))
          continue;
        const cv::Vec3b& here = rgb_.at<cv::Vec3b>(y, x);
        bool mixed = true;
        for (int i = 0; i < 3; ++i)
          mixed &= here[i] >= std::min(ground[i], pattern_.colour[i]) - static_cast<float>(slack) &&
                   here[i] <= std::max(ground[i], pattern_.colour[i]) + static_cast<float>(slack);
        if (mixed) given(y, x) = 255;
      }
    });
  }

  cv::Mat rgb_;
  cv::Mat1i element_;
  const ElementTree& tree_;
  const Pattern& pattern_;
  const Scale& scale_;
  SurfaceMap& map_;
  cv::Mat1i label_;
  int ground_ = 0;
};

}  // namespace

bool give_to_ground(const cv::Mat& rgb, const ElementTree& tree, const std::vector<Pattern>& patterns,
                    const Scale& scale, SurfaceMap& map) {
  bool given = false;
  for (const Pattern& pattern : patterns) given |= Absorber(rgb, tree, pattern, scale, map).run();
  if (given) close_seams(rgb, map);
  return given;
}

}  // namespace frisket
