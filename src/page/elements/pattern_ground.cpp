#include "page/elements/pattern_ground.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "page/grounds/seams.hpp"
#include "page/zones/on_all_cores.hpp"
#include "page/zones/pixel_boxes.hpp"
#include "page/zones/run_components.hpp"

namespace frisket {
namespace {

constexpr float same_tile_colour = 4.0F;  // levels

// Set while looking at planted dots, crosses and boards, where cut and anti-aliased figures stay within
// these.
constexpr double largest_figure = 1.1;                   // of a figure's box area
constexpr double whole_figure_slack = 0.05;              // of its pixels
constexpr double stripe_slack = 1.3;                     // of a stripe's thickness
constexpr double part_of_box = 0.85, part_of_ink = 0.5;  // less of an element than this is a part of it

/// Gives one pattern's figures to the ground.
class Absorber {
 public:
  Absorber(const cv::Mat& rgb, const ElementTree& tree, const Pattern& pattern, const Scale& scale,
           SurfaceMap& map)
      : rgb_(rgb(pattern.field)), tree_(tree), pattern_(pattern), scale_(scale), map_(map) {}

  /// False where the figures stay what they are.
  bool run() {
    ground_ = ground_of_figures();
    if (ground_ == 0 || (pattern_.thickness > 0 && is_paper(map_.of(ground_)))) return false;
    cv::Mat1b given = figures();
    add_borders(given);
    map_.label.paint(pattern_.field, given, ground_);
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
      for (int y = 0; y < rgb_.rows; ++y)
        for (const int surface : row_of(map_.label, y))
          if (is_field(surface)) ++met[surface];
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
    const RunComponents zones = connect(
        rgb_.size(), [&](int y, std::vector<Run>& runs) { coloured_runs(y, runs); }, Joined::by_sides);
    const double usual = usual_area(zones.parts);
    std::vector<bool> figure(zones.parts.size());
    for (std::size_t i = 0; i < figure.size(); ++i) {
      const double area = static_cast<double>(zones.parts[i].area);
      figure[i] = std::abs(area - usual) <= whole_figure_slack * usual ||
                  is_figure(zones.label, static_cast<int>(i), zones.parts[i]);
    }
    cv::Mat1b mask(rgb_.size(), std::uint8_t{0});
    on_all_cores(mask.rows, [&](int y) {
      for (const Run& run : zones.label.row(y))
        if (figure[static_cast<std::size_t>(run.label)])
          std::fill(mask[y] + run.begin, mask[y] + run.end, std::uint8_t{255});
    });
    return mask;
  }

  /// What of a row is of the figures' colour and on no wide surface.
  void coloured_runs(int y, std::vector<Run>& runs) const {
    const float tolerance = scale_.lossy ? 20.0F : 6.0F;
    const cv::Vec3b* row = rgb_.ptr<cv::Vec3b>(y);
    const std::vector<int> surfaces = row_of(map_.label, y);
    for (int x = 0; x < rgb_.cols; ++x) {
      if (is_wide(surfaces[static_cast<std::size_t>(x)]) ||
          colour_step(cv::Vec3f(row[x]), pattern_.colour) > tolerance)
        continue;
      if (!runs.empty() && runs.back().end == x)
        ++runs.back().end;
      else
        runs.push_back({x, x + 1, 0});
    }
  }

  /// Pixels of a whole figure; 0 for stripes.
  double usual_area(const std::vector<RunComponent>& zones) const {
    std::vector<std::int64_t> areas;
    if (pattern_.thickness > 0) return 0.0;
    for (const RunComponent& zone : zones) {
      const double box = zone.box.area();
      if (box >= 0.8 * pattern_.figure_area && box <= largest_figure * pattern_.figure_area)
        areas.push_back(zone.area);
    }
    if (areas.empty()) return 0.0;
    std::ranges::nth_element(areas, areas.begin() + std::ssize(areas) / 2);
    return static_cast<double>(areas[areas.size() / 2]);
  }

  /// Labels of a row of the field. Those of the whole field would take more room than its pixels.
  std::vector<int> row_of(const LabelMap& map, int y) const {
    const cv::Rect& field = pattern_.field;
    std::vector<int> row(static_cast<std::size_t>(field.width));
    map.write(field.y + y, field.x, field.br().x, row.data());
    return row;
  }

  bool is_field(int surface) const { return surface != 0 && map_.of(surface).kind == Surface::Kind::field; }

  bool is_wide(int surface) const {
    return surface != 0 && static_cast<double>(map_.of(surface).area) > 2.0 * pattern_.figure_area;
  }

  bool is_figure(const LabelMap& zones, int number, const RunComponent& zone) const {
    const cv::Rect& box = zone.box;
    const bool stripes = pattern_.thickness > 0;
    if (stripes ? static_cast<double>(zone.area) >
                      (stripe_slack * pattern_.thickness + 1.0) * std::hypot(box.width, box.height)
                : box.area() > largest_figure * pattern_.figure_area)
      return false;
    const auto first = std::ranges::find(zones.row(box.y), number, &Run::label);
    const int element = tree_.map(cv::Point(first->begin, box.y) + pattern_.field.tl());
    if (element < 0) return true;
    const Element& e = tree_.elements[static_cast<std::size_t>(element)];
    return e.repeats || is_part(box, zone.area, e) || !inside(box + pattern_.field.tl(), pattern_.inner) ||
           adjoins_another(box, element);
  }

  /// A figure that type touches is a part of what the type became.
  static bool is_part(const cv::Rect& box, std::int64_t area, const Element& element) {
    const double whole = element.box_px.width * element.box_px.height;
    return box.area() < part_of_box * whole || static_cast<double>(area) < part_of_ink * element.ink * whole;
  }

  /// Is it beside something else than the ground, which may cover a part of it?
  bool adjoins_another(const cv::Rect& box, int element) const {
    constexpr int reach = 3;
    const cv::Rect round =
        (box + cv::Size(2 * reach, 2 * reach) - cv::Point(reach, reach)) & cv::Rect({}, rgb_.size());
    const cv::Mat1i elements = tree_.map.dense(round + pattern_.field.tl());
    const cv::Mat1i surfaces = map_.label.dense(round + pattern_.field.tl());
    for (int y = 0; y < round.height; ++y)
      for (int x = 0; x < round.width; ++x) {
        const int here = elements(y, x), surface = surfaces(y, x);
        if (here >= 0 ? here != element : surface != 0 && surface != ground_) return true;
      }
    return false;
  }

  /// The anti-aliased pixels between the figures and what they lie on or take turns with.
  void add_borders(cv::Mat1b& given) const {
    const int reach = scale_.lossy ? 3 : 2, slack = scale_.lossy ? 24 : 6;
    cv::Mat near;
    cv::dilate(given, near, cv::getStructuringElement(cv::MORPH_RECT, {2 * reach + 1, 2 * reach + 1}));
    const cv::Vec3f ground = pattern_.beside.value_or(map_.of(ground_).colour);
    on_all_cores(rgb_.rows, [&](int y) {
      const std::vector<int> elements = row_of(tree_.map, y), surfaces = row_of(map_.label, y);
      for (int x = 0; x < rgb_.cols; ++x) {
        const auto at = static_cast<std::size_t>(x);
        if (given(y, x) != 0 || near.at<std::uint8_t>(y, x) == 0 ||
            (elements[at] < 0 && is_field(surfaces[at])))
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
  const ElementTree& tree_;
  const Pattern& pattern_;
  const Scale& scale_;
  SurfaceMap& map_;
  int ground_ = 0;
};

}  // namespace

bool give_to_ground(const cv::Mat& rgb, const ElementTree& tree, const std::vector<Pattern>& patterns,
                    const Scale& scale, SurfaceMap& map) {
  bool given = false;
  for (const Pattern& pattern : patterns) given |= Absorber(rgb, tree, pattern, scale, map).run();
  if (given) close_seams(rgb, scale, map);
  return given;
}

}  // namespace frisket
