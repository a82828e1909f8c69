#include "page/elements/elements.hpp"

#include <algorithm>
#include <map>

#include "page/elements/enclosed_ground.hpp"
#include "page/elements/pieces.hpp"
#include "page/zones/contour.hpp"
#include "page/zones/on_all_cores.hpp"
#include "page/zones/sharpness.hpp"

namespace frisket {
namespace {

constexpr double carrier_side_mm = 8.0;   // of the square of a ground that carries other things
constexpr double carrier_depth_mm = 3.0;  // and its narrower side, as of a tab or the head of a table
constexpr double rule_thickness_mm = 1.5;
constexpr double rule_slenderness = 10.0;
constexpr double sharp_share = 0.7;               // of the border of a field that stands on a picture
constexpr double soft_share = 0.4;                // of the border of anything on a ground that is not flat
constexpr int deepest_glow_px = 2;                // rim to type; deeper ones are taken off (soft_rims.hpp)
constexpr double least_ink_on_picture_mm = 0.25;  // side; smaller specks are the picture's own
constexpr double grain_mm = 0.12;          // no line that prints well is thinner (a quarter of a point)
constexpr double grain_slenderness = 6.0;  // length, of its thickness: an i has less
constexpr int deepest = 4;                 // boxes within boxes

class Finder {
 public:
  Finder(const cv::Mat& rgb, const SurfaceMap& surfaces, const Scale& scale, SharpZones& sharp)
      : rgb_(rgb), surfaces_(surfaces), scale_(scale), sharp_(sharp), taken_(index(rgb.rows)) {}

  ElementTree run() {
    split_page();
    for (int depth = 1; depth < deepest && !carriers_.empty(); ++depth) {
      std::vector<int> carriers;
      carriers.swap(carriers_);
      for (const int carrier : carriers) split_carrier(carrier);
    }
    paint_map();
    return std::move(tree_);
  }

 private:
  /// What a mask was cut out of: ink on a picture is none of the picture's own surface.
  enum class Of { ground, picture };

  void split_page() {
    const cv::Rect page({}, rgb_.size());
    std::vector<Run> ground;
    const auto not_ground = [&](int y, std::vector<Run>& row) {
      ground.clear();
      for (const Run& run : surfaces_.label.row(y))
        if (surfaces_.of(run.label).bleeds) ground.push_back(run);
      gaps_between(ground, page.width, row);
    };
    add_all(clear_pieces_of(rgb_, page, not_ground, scale_), -1, Of::ground);
    for (std::size_t i = 0; i < surfaces_.surfaces.size(); ++i)
      if (surfaces_.surfaces[i].bleeds) split_picture(static_cast<int>(i) + 1, -1);
  }

  /// What stands on the large surfaces of an element.
  void split_carrier(int carrier) {
    const cv::Rect box = whole_boxes_[index(carrier)];
    const std::vector<RowRun> runs = runs_[index(carrier)];
    std::vector<std::int64_t> area(surfaces_.surfaces.size() + 1);
    for (const RowRun& run : runs)
      each_surface(run, [&](int surface, int begin, int end) { area[index(surface)] += end - begin; });
    const auto carries = [&](int surface) {
      return static_cast<double>(area[index(surface)]) >= scale_.square_px(carrier_side_mm);
    };
    auto next = runs.begin();
    const auto not_ground = [&](int y, std::vector<Run>& row) {
      for (; next != runs.end() && next->y == box.y + y; ++next) {
        int x = next->begin;
        const auto add_up_to = [&](int end) {
          if (end > x) row.push_back({x - box.x, end - box.x, 0});
        };
        each_surface(*next, [&](int surface, int begin, int end) {
          if (!carries(surface)) return;
          add_up_to(begin);
          x = end;
        });
        add_up_to(next->end);
      }
    };
    add_all(clear_pieces_of(rgb_, box, not_ground, scale_), carrier, Of::ground);
    for (std::size_t i = 1; i < area.size(); ++i)
      if (carries(static_cast<int>(i))) split_picture(static_cast<int>(i), carrier);
  }

  void split_picture(int surface, int parent) {
    if (surfaces_.of(surface).kind != Surface::Kind::picture) return;
    const LabelMap ink = ink_on_picture(surfaces_, surface, scale_, sharp_);
    const auto row = [&](int y, std::vector<Run>& runs) {
      runs.assign(ink.row(y).begin(), ink.row(y).end());
    };
    add_all(pieces_of(ink.size(), row, surfaces_.of(surface).box.tl()), parent, Of::picture);
  }

  /// Calls `use(surface, begin, end)` for each part of the run that lies on a surface.
  template <class Use>
  void each_surface(const RowRun& run, Use&& use) const {
    const std::span<const Run> row = surfaces_.label.row(run.y);
    for (auto on = std::ranges::upper_bound(row, run.begin, {}, &Run::end);
         on != row.end() && on->begin < run.end; ++on)
      use(on->label, std::max(on->begin, run.begin), std::min(on->end, run.end));
  }

  static std::size_t index(int number) { return static_cast<std::size_t>(number); }

  /// Makes an element of each piece. All that can be told of a piece by itself is, on all cores.
  void add_all(std::vector<Piece> pieces, int parent, Of of) {
    std::erase_if(pieces, [&](const Piece& piece) { return is_nothing(piece, parent, of); });
    std::vector<Candidate> candidates(pieces.size());
    on_all_cores(pieces.size(), [&](std::size_t i) {
      pieces[i].is_ink |= of == Of::picture;
      candidates[i] = look_at(pieces[i], parent, of);
    });
    for (std::size_t i = 0; i < pieces.size(); ++i)
      if (!candidates[i].is_nothing && !(candidates[i].is_soft && !stands_on_flat(pieces[i].box)))
        add(candidates[i], pieces[i]);
  }

  bool is_nothing(const Piece& piece, int parent, Of of) const {
    if (is_outline_of(parent, piece.box) || is_seam(piece.box)) return true;
    return of == Of::picture &&
           (static_cast<double>(piece.area) < scale_.square_px(least_ink_on_picture_mm) ||
            is_grain(piece.box));
  }

  /// A stroke round a box or its anti-aliased border is part of the box, not a thing on it.
  bool is_outline_of(int parent, const cv::Rect& box) const {
    if (parent < 0) return false;
    constexpr int slack = 3;
    const cv::Rect& whole = whole_boxes_[index(parent)];
    return std::abs(box.x - whole.x) <= slack && std::abs(box.y - whole.y) <= slack &&
           std::abs(box.br().x - whole.br().x) <= slack && std::abs(box.br().y - whole.br().y) <= slack;
  }

  /// Wood, cloth and blinds have lines of one colour that run straight along the pixels, one pixel wide.
  bool is_grain(const cv::Rect& box) const {
    const int thin = std::min(box.width, box.height), length = std::max(box.width, box.height);
    return thin <= scale_.px(grain_mm) && length >= grain_slenderness * thin;
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
      if (!canvas.contains(one) || !canvas.contains(other)) continue;
      const int here = surfaces_.label(one), there = surfaces_.label(other);
      between += here != 0 && there != 0 && here != there;
    }
    return 4 * between >= 3 * samples;
  }

  /// What a piece is made of.
  struct Contents {
    cv::Vec3d sum, inner_sum;  ///< of its colours; inner: clear of its border
    std::int64_t inner = 0, picture_area = 0, field_area = 0;
    int surface = 0;  ///< the last one met
    std::map<int, std::int64_t> surface_areas;
  };

  Contents contents_of(const Piece& piece) const {
    Contents found;
    for (const RowRun& run : piece.runs) {
      const cv::Vec3b* row = rgb_.ptr<cv::Vec3b>(run.y);
      const cv::Vec3d sum = colour_sum(row + run.begin, row + run.end);
      found.sum += sum;
      if (run.end - run.begin > 2) {
        found.inner_sum += sum - cv::Vec3d(row[run.begin]) - cv::Vec3d(row[run.end - 1]);
        found.inner += run.end - run.begin - 2;
      }
      if (piece.is_ink) continue;
      each_surface(run, [&](int surface, int begin, int end) {
        found.surface = surface;
        found.surface_areas[surface] += end - begin;
        (surfaces_.of(surface).kind == Surface::Kind::picture ? found.picture_area : found.field_area) +=
            end - begin;
      });
    }
    return found;
  }

  void move_shadowed_counters(Contents& contents, const cv::Rect& box) const {
    for (const auto& [surface, area] : contents.surface_areas)
      if (surfaces_.of(surface).kind == Surface::Kind::picture &&
          is_shadowed_counter(rgb_, box, surfaces_, surface))
        contents.picture_area -= area, contents.field_area += area;
  }

  /// A piece that may become an element.
  struct Candidate {
    Element element{};
    cv::Vec3f colour{};
    bool carries = false;
    bool is_nothing = false;
    bool is_soft = false;  ///< a patch of a picture, unless it stands on flat ground
  };

  Candidate look_at(const Piece& piece, int parent, Of of) const {
    Candidate found;
    Contents contents = contents_of(piece);
    const cv::Rect& box = piece.box;
    move_shadowed_counters(contents, box);
    if (2 * contents.field_area > piece.area && is_part_of_a_picture(contents.surface, box)) {
      found.is_nothing = true;
      return found;
    }
    const cv::Mat1b mask = piece.mask();
    found.is_soft =
        of == Of::ground && parent < 0 && !is_all_flat_round(box) && !is_sharp_within(mask, box.tl());
    Element& element = found.element;
    element.parent = parent;
    element.touches_canvas = box.x == 0 || box.y == 0 || box.br().x == rgb_.cols || box.br().y == rgb_.rows;
    const std::int64_t enclosed = enclosed_ground(rgb_, box, surfaces_, contents.surface_areas);
    element.ink = static_cast<double>(piece.area - enclosed) / box.area();
    element.box_px = exact_box(rgb_, box, [&](int x, int y) {
      return box.contains({x, y}) && mask(y - box.y, x - box.x) != 0;
    });
    element.matter = enclosed > 0 ? Matter::drawing
                                  : matter_of(box, piece.area, contents.picture_area, contents.field_area);
    found.carries = carries_something(contents.picture_area + contents.field_area, box);
    found.colour = contents.inner > 0 ? contents.inner_sum / static_cast<double>(contents.inner)
                                      : contents.sum / static_cast<double>(piece.area);
    return found;
  }

  void add(const Candidate& candidate, Piece& piece) {
    if (candidate.carries) carriers_.push_back(static_cast<int>(tree_.elements.size()));
    tree_.elements.push_back(candidate.element);
    tree_.colours.push_back(candidate.colour);
    whole_boxes_.push_back(piece.box);
    if (candidate.element.parent < 0)
      for (const RowRun& run : piece.runs) taken_[index(run.y)].push_back({run.begin, run.end});
    runs_.push_back(std::move(piece.runs));
  }

  /// What stands on an element is painted over it.
  void paint_map() {
    tree_.map = LabelMap(rgb_.size(), -1);
    std::vector<std::size_t> next(runs_.size());
    std::vector<std::vector<int>> begins(index(rgb_.rows));
    for (std::size_t i = 0; i < runs_.size(); ++i)
      begins[index(runs_[i].front().y)].push_back(static_cast<int>(i));
    std::vector<int> row(index(rgb_.cols)), open;
    for (int y = 0; y < rgb_.rows; ++y) {
      const auto added = open.insert(open.end(), begins[index(y)].begin(), begins[index(y)].end());
      std::inplace_merge(open.begin(), added, open.end());
      if (open.empty()) {
        tree_.map.add_row(std::span<const Run>());
        continue;
      }
      std::ranges::fill(row, -1);
      for (const int element : open) {
        const std::vector<RowRun>& runs = runs_[index(element)];
        for (std::size_t& at = next[index(element)]; at < runs.size() && runs[at].y == y; ++at)
          std::fill(row.begin() + runs[at].begin, row.begin() + runs[at].end, element);
      }
      tree_.map.add_row(row.data());
      std::erase_if(open, [&](int element) { return next[index(element)] == runs_[index(element)].size(); });
    }
  }

  /// Is the border sharp, or what lies a few pixels inside it? A faint glow round type is as soft as a patch.
  /// Where two soft tones of a picture meet, a ridge or patch is left over that no renderer drew: on a ground
  /// that is not flat, ink must turn into it sharply nearly everywhere. Faint type on flat ground need not.
  /// And at once, on lossy pages too: the ringing along an edge of the ground lies a pixel or two from a
  /// turn.
  bool is_sharp_within(const cv::Mat1b& mask, cv::Point origin) const {
    cv::Mat1b peeled = mask;
    for (int depth = 0; depth <= deepest_glow_px && cv::countNonZero(peeled) > 0; ++depth) {
      if (sharp_border_share(rgb_, peeled, origin, 0) >= soft_share) return true;
      cv::Mat1b next;
      cv::erode(peeled, next, cv::getStructuringElement(cv::MORPH_CROSS, {3, 3}), {-1, -1}, 1,
                cv::BORDER_CONSTANT, 0);
      peeled = next;
    }
    return false;
  }

  bool is_taken(cv::Point at) const {
    return std::ranges::any_of(taken_[index(at.y)],
                               [&](const cv::Range& run) { return run.start <= at.x && at.x < run.end; });
  }

  static constexpr int same_ground = 6;  // levels

  /// The canvas on all sides of a box, a few pixels outside.
  std::vector<cv::Point> places_round(const cv::Rect& box) const {
    constexpr int outside = 3;
    const cv::Rect round(box.x - outside, box.y - outside, box.width + 2 * outside, box.height + 2 * outside);
    const cv::Point middle = (round.tl() + round.br()) / 2, last = round.br() - cv::Point(1, 1);
    std::vector<cv::Point> places{round.tl(),          {last.x, round.y},   last,
                                  {round.x, last.y},   {middle.x, round.y}, {middle.x, last.y},
                                  {round.x, middle.y}, {last.x, middle.y}};
    std::erase_if(places, [&](cv::Point at) { return !cv::Rect({}, rgb_.size()).contains(at); });
    return places;
  }

  /// Is the colour the same on all sides, where no element found so far stands?
  bool stands_on_flat(const cv::Rect& box) const {
    std::vector<cv::Point> places = places_round(box);
    std::erase_if(places, [&](cv::Point at) { return is_taken(at); });
    return std::ranges::all_of(places, [&](cv::Point at) { return are_one_ground(at, places.front()); });
  }

  /// Is it, whatever elements stand there?
  bool is_all_flat_round(const cv::Rect& box) const {
    const std::vector<cv::Point> places = places_round(box);
    return std::ranges::all_of(places, [&](cv::Point a) {
      return std::ranges::all_of(places, [&](cv::Point b) { return are_one_ground(a, b); });
    });
  }

  bool are_one_ground(cv::Point a, cv::Point b) const {
    return colour_step(rgb_.at<cv::Vec3b>(a), rgb_.at<cv::Vec3b>(b)) <= same_ground;
  }

  /// A soft patch in a photograph (a clipped sky, a shadow) passes for a field; its border gives it away.
  bool is_part_of_a_picture(int surface, const cv::Rect& box) const {
    const cv::Rect canvas({}, rgb_.size());
    const cv::Rect round = (box + cv::Size(4, 4) - cv::Point(2, 2)) & canvas;
    bool beside_picture = false;
    for (std::size_t i = 0; i < surfaces_.surfaces.size() && !beside_picture; ++i)
      beside_picture = surfaces_.surfaces[i].kind == Surface::Kind::picture &&
                       (surfaces_.surfaces[i].box & round) == round;
    if (!beside_picture) return false;
    const cv::Rect& area = surfaces_.of(surface).box;
    cv::Mat1b of_surface;
    cv::compare(surfaces_.label.dense(area), surface, of_surface, cv::CMP_EQ);
    return sharp_border_share(rgb_, of_surface, area.tl(), latest_turn_px(scale_.lossy)) < sharp_share;
  }

  Matter matter_of(const cv::Rect& box, std::int64_t area, std::int64_t picture_area,
                   std::int64_t field_area) const {
    const double thin = std::min(box.width, box.height), slender = std::max(box.width, box.height);
    if (2 * picture_area > area && !(field_area > 0 && stands_on_picture(box, surfaces_)))
      return Matter::picture;
    if (thin <= scale_.px(rule_thickness_mm) && slender >= rule_slenderness * thin) return Matter::rule;
    return 2 * field_area > area && 2 * area > box.area() ? Matter::field : Matter::drawing;
  }

  bool carries_something(std::int64_t ground_area, const cv::Rect& box) const {
    return static_cast<double>(ground_area) >= scale_.square_px(carrier_side_mm) &&
           std::min(box.width, box.height) >= scale_.px(carrier_depth_mm);
  }

  const cv::Mat& rgb_;
  const SurfaceMap& surfaces_;
  const Scale& scale_;
  SharpZones& sharp_;
  ElementTree tree_;
  std::vector<cv::Rect> whole_boxes_;          ///< by element, in whole pixels
  std::vector<std::vector<RowRun>> runs_;      ///< by element, with all that stands on it
  std::vector<std::vector<cv::Range>> taken_;  ///< by row: where elements stand on the page's grounds
  std::vector<int> carriers_;                  ///< elements still to be looked into
};

}  // namespace

ElementTree find_elements(const cv::Mat& rgb, const SurfaceMap& map, const Scale& scale, SharpZones& sharp) {
  return Finder(rgb, map, scale, sharp).run();
}

}  // namespace frisket
