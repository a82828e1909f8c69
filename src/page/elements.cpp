#include "page/elements.hpp"

#include <algorithm>
#include <map>

#include "page/contour.hpp"
#include "page/picture_ink.hpp"
#include "page/ringing.hpp"
#include "page/soft_rims.hpp"

namespace frisket {
namespace {

constexpr int least_speck_px = 3;        // at 300 dpi; smaller is dust of the renderer
constexpr double carrier_side_mm = 8.0;  // a ground that carries other things is at least so large
constexpr double rule_thickness_mm = 1.5;
constexpr double rule_slenderness = 10.0;
constexpr double sharp_share = 0.7;               // of the border of a field that stands on a picture
constexpr double soft_share = 0.4;                // of the border of anything on a ground that is not flat
constexpr double least_ink_on_picture_mm = 0.25;  // side; smaller specks are the picture's own
constexpr int deepest = 4;                        // boxes within boxes

class Finder {
 public:
  Finder(const cv::Mat& rgb, const SurfaceMap& surfaces, const Scale& scale)
      : rgb_(rgb), surfaces_(surfaces), scale_(scale) {
    tree_.map.create(rgb.size());
    tree_.map = -1;
  }

  ElementTree run() {
    split_page();
    for (int depth = 1; depth < deepest && !carriers_.empty(); ++depth) {
      std::vector<int> carriers;
      carriers.swap(carriers_);
      for (const int carrier : carriers) split_carrier(carrier);
    }
    return std::move(tree_);
  }

 private:
  /// What a mask was cut out of: ink on a picture is none of the picture's own surface.
  enum class Of { ground, picture };

  void split_page() {
    std::vector<bool> ground(surfaces_.surfaces.size() + 1);
    for (std::size_t i = 0; i < surfaces_.surfaces.size(); ++i) ground[i + 1] = surfaces_.surfaces[i].bleeds;
    cv::Mat1b mask(rgb_.size());
    for (int y = 0; y < rgb_.rows; ++y)
      for (int x = 0; x < rgb_.cols; ++x) mask(y, x) = ground[surfaces_.label(y, x)] ? 0 : 255;
    split(mask, {0, 0}, -1, Of::ground);
    for (std::size_t i = 0; i < surfaces_.surfaces.size(); ++i)
      if (surfaces_.surfaces[i].bleeds) split_picture(static_cast<int>(i) + 1, -1);
  }

  /// What stands on the large surfaces of an element.
  void split_carrier(int carrier) {
    const cv::Rect box = whole_boxes_[carrier];
    std::vector<std::int64_t> area(surfaces_.surfaces.size() + 1);
    for (int y = box.y; y < box.y + box.height; ++y)
      for (int x = box.x; x < box.x + box.width; ++x)
        if (tree_.map(y, x) == carrier) ++area[surfaces_.label(y, x)];
    area[0] = 0;
    const auto carries = [&](int surface) {
      return static_cast<double>(area[surface]) >= scale_.square_px(carrier_side_mm);
    };
    cv::Mat1b mask(box.size(), std::uint8_t{0});
    for (int y = 0; y < box.height; ++y)
      for (int x = 0; x < box.width; ++x)
        if (tree_.map(box.y + y, box.x + x) == carrier && !carries(surfaces_.label(box.y + y, box.x + x)))
          mask(y, x) = 255;
    split(mask, box.tl(), carrier, Of::ground);
    for (std::size_t i = 1; i < area.size(); ++i)
      if (carries(static_cast<int>(i))) split_picture(static_cast<int>(i), carrier);
  }

  void split_picture(int surface, int parent) {
    if (surfaces_.of(surface).kind != Surface::Kind::picture) return;
    split(ink_on_picture(rgb_, surfaces_, surface, scale_), surfaces_.of(surface).box.tl(), parent,
          Of::picture);
  }

  /// Makes an element of each connected part of `mask`, whose top left pixel lies at `origin`.
  void split(cv::Mat1b mask, cv::Point origin, int parent, Of of) {
    cv::Mat1b freed;
    if (of == Of::ground) {
      const cv::Mat rgb = rgb_(cv::Rect(origin, mask.size()));
      freed = scale_.lossy ? take_off_ringing(rgb, mask, scale_) : take_off_soft_rims(rgb, mask);
    }
    cv::Mat labels, stats, centroids;
    const int count = cv::connectedComponentsWithStats(mask, labels, stats, centroids, 8, CV_32S);
    for (int i = 1; i < count; ++i) {
      const cv::Rect local(stats.at<int>(i, cv::CC_STAT_LEFT), stats.at<int>(i, cv::CC_STAT_TOP),
                           stats.at<int>(i, cv::CC_STAT_WIDTH), stats.at<int>(i, cv::CC_STAT_HEIGHT));
      const int area = stats.at<int>(i, cv::CC_STAT_AREA);
      if (area < least_speck_px || is_outline_of(parent, local + origin)) continue;
      if (is_seam(local + origin) || (of == Of::picture && area < scale_.square_px(least_ink_on_picture_mm)))
        continue;
      const bool is_ink = of == Of::picture || holds(labels, i, local, freed);
      add(labels, i, local, origin, area, parent, of, is_ink);
    }
  }

  /// Does the first pixel of the component lie in `mask`?
  static bool holds(const cv::Mat& labels, int component, const cv::Rect& box, const cv::Mat1b& mask) {
    for (int x = box.x; x < box.br().x; ++x)
      if (labels.at<int>(box.y, x) == component) return mask(box.y, x) != 0;
    return false;
  }

  /// A stroke round a box or its anti-aliased border is part of the box, not a thing on it.
  bool is_outline_of(int parent, const cv::Rect& box) const {
    if (parent < 0) return false;
    constexpr int slack = 3;
    const cv::Rect& whole = whole_boxes_[parent];
    return std::abs(box.x - whole.x) <= slack && std::abs(box.y - whole.y) <= slack &&
           std::abs(box.br().x - whole.br().x) <= slack && std::abs(box.br().y - whole.br().y) <= slack;
  }

  /// A row or two of anti-aliased pixels along an edge, between one surface and another.
  bool is_seam(const cv::Rect& box) const {
    constexpr int samples = 16, beside = 2;
    const int thickest = scale_.lossy ? 4 : 2;
    if (std::min(box.width, box.height) > thickest || std::max(box.width, box.height) <= 2 * thickest)
      return false;
    const bool flat = box.width > box.height;
    const cv::Rect canvas({}, rgb_.size());
    int between = 0;
    for (int i = 0; i < samples; ++i) {
      const int t = (flat ? box.width : box.height) * i / samples;
      const cv::Point one =
          flat ? cv::Point(box.x + t, box.y - beside) : cv::Point(box.x - beside, box.y + t);
      const cv::Point other = flat ? cv::Point(box.x + t, box.br().y - 1 + beside)
                                   : cv::Point(box.br().x - 1 + beside, box.y + t);
      between +=
          canvas.contains(one) && canvas.contains(other) && surfaces_.label(one) != surfaces_.label(other);
    }
    return 4 * between >= 3 * samples;
  }

  void add(const cv::Mat& labels, int component, const cv::Rect& local, cv::Point origin, int area,
           int parent, Of of, bool is_ink) {
    const int number = static_cast<int>(tree_.elements.size());
    const cv::Rect box = local + origin;
    std::int64_t picture_area = 0, field_area = 0;
    int surface = 0, inner = 0;
    cv::Vec3d inner_sum, sum;
    std::map<int, std::int64_t> surface_areas;
    for (int y = local.y; y < local.br().y; ++y)
      for (int x = local.x; x < local.br().x; ++x) {
        if (labels.at<int>(y, x) != component) continue;
        const cv::Point at = cv::Point(x, y) + origin;
        tree_.map(at) = number;
        const cv::Vec3b& colour = rgb_.at<cv::Vec3b>(at);
        sum += colour;
        if (x > local.x && x + 1 < local.br().x && labels.at<int>(y, x - 1) == component &&
            labels.at<int>(y, x + 1) == component)
          inner_sum += colour, ++inner;
        if (const int on = surfaces_.label(at); on != 0 && !is_ink) {
          surface = on;
          ++surface_areas[on];
          (surfaces_.of(on).kind == Surface::Kind::picture ? picture_area : field_area) += 1;
        }
      }
    if (field_area > area / 2 && is_part_of_a_picture(surface, box)) {
      cv::Mat1i map = tree_.map(box);
      map.setTo(parent, map == number);
      return;
    }
    Element element;
    element.parent = parent;
    element.touches_canvas = box.x == 0 || box.y == 0 || box.br().x == rgb_.cols || box.br().y == rgb_.rows;
    const std::int64_t enclosed = enclosed_ground(box, surface_areas);
    element.ink = static_cast<double>(area - enclosed) / box.area();
    element.box_px = exact_box(rgb_, box, [&](int x, int y) { return tree_.map(y, x) == number; });
    if (of == Of::ground && is_soft_patch(box, number)) {
      cv::Mat1i map = tree_.map(box);
      map.setTo(parent, map == number);
      return;
    }
    element.matter = enclosed > 0 ? Matter::drawing : matter_of(box, area, picture_area, field_area);
    if (carries_something(picture_area + field_area, box)) carriers_.push_back(number);
    tree_.elements.push_back(element);
    tree_.colours.push_back(inner > 0 ? inner_sum / inner : sum / area);
    whole_boxes_.push_back(box);
  }

  /// Where two soft tones of a picture meet, a ridge or patch is left over that no renderer drew: on a ground
  /// that is not flat, ink must turn into it sharply nearly everywhere. Faint type on flat ground has no need
  /// to.
  bool is_soft_patch(const cv::Rect& box, int number) const {
    return !stands_on_flat(box) && sharp_border_share(rgb_, tree_.map, number, box) < soft_share;
  }

  /// Is the colour the same on all sides, a few pixels outside?
  bool stands_on_flat(const cv::Rect& box) const {
    constexpr int outside = 3, flat = 6;
    const cv::Rect canvas({}, rgb_.size());
    const cv::Rect round(box.x - outside, box.y - outside, box.width + 2 * outside, box.height + 2 * outside);
    const cv::Point middle = (round.tl() + round.br()) / 2, last = round.br() - cv::Point(1, 1);
    std::vector<cv::Vec3b> colours;
    for (const cv::Point at : {round.tl(), cv::Point(last.x, round.y), last, cv::Point(round.x, last.y),
                               cv::Point(middle.x, round.y), cv::Point(middle.x, last.y),
                               cv::Point(round.x, middle.y), cv::Point(last.x, middle.y)})
      if (canvas.contains(at) && tree_.map(at) < 0) colours.push_back(rgb_.at<cv::Vec3b>(at));
    return std::ranges::all_of(colours,
                               [&](const cv::Vec3b& c) { return colour_step(c, colours.front()) <= flat; });
  }

  /// A soft patch in a photograph (a clipped sky, a shadow) passes for a field; its border gives it away.
  bool is_part_of_a_picture(int surface, const cv::Rect& box) const {
    const cv::Rect canvas({}, rgb_.size());
    const cv::Rect round = (box + cv::Size(4, 4) - cv::Point(2, 2)) & canvas;
    bool beside_picture = false;
    for (std::size_t i = 0; i < surfaces_.surfaces.size() && !beside_picture; ++i)
      beside_picture = surfaces_.surfaces[i].kind == Surface::Kind::picture &&
                       (surfaces_.surfaces[i].box & round) == round;
    return beside_picture &&
           sharp_border_share(rgb_, surfaces_.label, surface, surfaces_.of(surface).box) < sharp_share;
  }

  Matter matter_of(const cv::Rect& box, int area, std::int64_t picture_area, std::int64_t field_area) const {
    const double thin = std::min(box.width, box.height), slender = std::max(box.width, box.height);
    if (2 * picture_area > area && !(field_area > 0 && stands_on_picture(box))) return Matter::picture;
    if (thin <= scale_.px(rule_thickness_mm) && slender >= rule_slenderness * thin) return Matter::rule;
    return 2 * field_area > area && 2 * area > box.area() ? Matter::field : Matter::drawing;
  }

  /// Pixels inside a frame or an outline that are more of the ground it stands on: of the same colour as
  /// outside its box, or of the same picture.
  std::int64_t enclosed_ground(const cv::Rect& box, const std::map<int, std::int64_t>& surface_areas) const {
    constexpr float same_colour = 8.0F;
    const cv::Rect canvas({}, rgb_.size());
    const cv::Point outside(box.x + box.width / 2, box.y >= 3 ? box.y - 3 : box.br().y + 2);
    if (!canvas.contains(outside)) return 0;
    const cv::Vec3f ground = rgb_.at<cv::Vec3b>(outside);
    const bool on_picture = stands_on_picture(box);
    std::int64_t enclosed = 0;
    for (const auto& [number, area] : surface_areas) {
      const Surface& surface = surfaces_.of(number);
      const bool picture = surface.kind == Surface::Kind::picture;
      // A picture with a white part is no frame: a frame encloses most of its box.
      if (2 * area > box.area() &&
          (picture ? on_picture : colour_step(surface.colour, ground) <= same_colour))
        enclosed += area;
    }
    return enclosed;
  }

  /// An outline on a picture encloses more of the picture; it is a drawing for all that.
  bool stands_on_picture(const cv::Rect& box) const {
    constexpr int outside = 3;
    const cv::Rect canvas({}, rgb_.size());
    const int left = box.x - outside, right = box.br().x + outside, middle_x = box.x + box.width / 2;
    const int top = box.y - outside, bottom = box.br().y + outside, middle_y = box.y + box.height / 2;
    int on_picture = 0;
    for (const cv::Point at : {cv::Point(middle_x, top), cv::Point(middle_x, bottom),
                               cv::Point(left, middle_y), cv::Point(right, middle_y)}) {
      const int surface = canvas.contains(at) ? surfaces_.label(at) : 0;
      on_picture += surface != 0 && surfaces_.of(surface).kind == Surface::Kind::picture;
    }
    return on_picture >= 3;
  }

  bool carries_something(std::int64_t ground_area, const cv::Rect& box) const {
    return static_cast<double>(ground_area) >= scale_.square_px(carrier_side_mm) &&
           std::min(box.width, box.height) >= scale_.px(carrier_side_mm);
  }

  const cv::Mat& rgb_;
  const SurfaceMap& surfaces_;
  const Scale& scale_;
  ElementTree tree_;
  std::vector<cv::Rect> whole_boxes_;  ///< by element, in whole pixels
  std::vector<int> carriers_;          ///< elements still to be looked into
};

}  // namespace

ElementTree find_elements(const cv::Mat& rgb, const SurfaceMap& map, const Scale& scale) {
  return Finder(rgb, map, scale).run();
}

}  // namespace frisket
