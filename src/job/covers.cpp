// Covers are made of strips side by side: flaps, boards, joints, spine. The list of strips, back to front as
// seen on the outside, gives flat size, folds and names.
#include "job/covers.hpp"

#include <algorithm>
#include <numeric>

#include "frisket/error.hpp"

namespace frisket {
namespace {

struct Strip {
  std::string name;
  Length width;
};

Length sum(const std::vector<Length>& lengths) {
  return std::accumulate(lengths.begin(), lengths.end(), Length());
}

std::vector<Strip> perfect_strips(const CoverRequest& request, Length spine, Length page) {
  if (!request.hinge) return {{"back cover", page}, {"spine", spine}, {"front cover", page}};
  const Length hinge = *request.hinge;
  return {{"back cover", page - hinge},
          {"back hinge", hinge},
          {"spine", spine},
          {"front hinge", hinge},
          {"front cover", page - hinge}};
}

std::vector<Strip> jacket_strips(const CoverRequest& request, Length spine, Length front) {
  return {{"back flap", request.flap},
          {"back cover", front},
          {"spine", spine},
          {"front cover", front},
          {"front flap", request.flap}};
}

std::vector<Strip> case_strips(const CoverRequest& request, Length spine, Length board) {
  return {{std::string(turn_in_name), request.turn_in},
          {"back cover", board},
          {"back joint", request.joint},
          {"spine", spine},
          {"front joint", request.joint},
          {"front cover", board},
          {std::string(turn_in_name), request.turn_in}};
}

/// The width that a jacket covers from the spine to the fore-edge.
Length jacket_front(const CoverRequest& request, const Size& page) {
  return request.board ? board_size(request, page).width + request.joint : page.width;
}

std::vector<Strip> strips_of(const CoverRequest& request, std::optional<Length> spine, const Size& page) {
  switch (request.kind) {
    case CoverKind::perfect:
      return perfect_strips(request, spine.value(), page.width);
    case CoverKind::saddle:
      return {{"back cover", page.width}, {"front cover", page.width}};
    case CoverKind::jacket:
      return jacket_strips(request, spine.value(), jacket_front(request, page));
    case CoverKind::case_bound:
      return case_strips(request, spine.value(), board_size(request, page).width);
  }
  return {};
}

std::vector<Length> rows_of(const CoverRequest& request, const Size& page) {
  if (request.kind == CoverKind::case_bound)
    return {request.turn_in, board_size(request, page).height, request.turn_in};
  if (request.kind == CoverKind::jacket && request.board) return {board_size(request, page).height};
  return {page.height};
}

/// Closed, seen from the front.
Size finished_size(const CoverRequest& request, const Size& page) {
  const bool boards =
      request.kind == CoverKind::case_bound || (request.kind == CoverKind::jacket && request.board);
  if (!boards) return page;
  const Size board = board_size(request, page);
  return {board.width + request.joint, board.height};
}

/// The inside of a strip is called after its outside.
std::string name_of(const Strip& strip, Side side, bool turned_in) {
  const std::string name = turned_in ? std::string(turn_in_name) : strip.name;
  return side == Side::outside || name == turn_in_name ? name : "inside " + name;
}

SideLayout side_of(const std::vector<Strip>& strips, const std::vector<Length>& rows, Side side) {
  Panels panels{{}, rows};
  std::vector<std::string> names;
  for (const Strip& strip : strips) panels.columns.push_back(strip.width);
  for (std::size_t row = 0; row < rows.size(); ++row)
    for (const Strip& strip : strips) names.push_back(name_of(strip, side, rows.size() == 3 && row != 1));
  return lay_out_side(panels, names);
}

/// Text keeps its own distance from both edges of the spine.
void keep_clear_of_spine(SideLayout& side, const std::vector<Strip>& strips, Length clear) {
  const auto spine = std::ranges::find(strips, "spine", &Strip::name);
  if (spine == strips.end()) return;
  const int before = static_cast<int>(spine - strips.begin());
  side.own_clear[before] = side.own_clear[before + 1] = clear;
}

void require_room_for_strips(const std::vector<Strip>& strips, Unit unit) {
  for (const Strip& strip : strips)
    if (strip.width <= Length())
      throw Error("leaves " + to_exact_text(strip.width, unit) + " for the " + strip.name +
                  "; expected a page that is wider than its hinge or inset");
}

void require_short_flaps(const CoverRequest& request, const Size& page, Unit unit) {
  const Length front = jacket_front(request, page);
  if (request.kind == CoverKind::jacket && request.flap >= front)
    throw Error("the flaps of " + to_exact_text(request.flap, unit) +
                " are as wide as the cover they fold into (" + to_exact_text(front, unit) +
                ") or wider; expected less");
}

}  // namespace

Length leaf_from_ppi(double pages_per_inch) { return Length::from_inches(2.0 / pages_per_inch); }

Length leaf_from_grammage(double grammage, double bulk) { return Length::from_mm(grammage * bulk / 1000.0); }

Length block_thickness(int pages, Length leaf) { return leaf * (pages / 2.0); }

std::optional<Length> spine_width(const CoverRequest& request) {
  if (request.kind == CoverKind::saddle) return std::nullopt;
  if (request.spine) return request.spine;
  if (request.pages == 0 || !request.leaf)
    throw Error(
        "says too little for the width of the spine; expected \"pages\" and the thickness of the paper "
        "(\"caliper\", or \"ppi\", or \"grammage\" with \"bulk\"), or \"spine\" itself");
  const Length block = block_thickness(request.pages, *request.leaf) + request.cover_caliper * 2.0;
  return block + request.board.value_or(Length()) * 2.0 + request.endpaper_caliper * 4.0;
}

Size board_size(const CoverRequest& request, const Size& page) {
  return {page.width - request.inset, page.height + request.overhang * 2.0};
}

std::vector<Length> creep(int pages, Length leaf, Length cover_caliper) {
  std::vector<Length> pushed;
  for (int sheet = 0; sheet < pages / 4; ++sheet) pushed.push_back(cover_caliper + leaf * sheet);
  return pushed;
}

CoverPlan plan_cover(const CoverRequest& request, const Size& page, Turn turn, Unit unit) {
  CoverPlan plan;
  plan.spine = spine_width(request);
  std::vector<Strip> outside = strips_of(request, plan.spine, page);
  require_room_for_strips(outside, unit);
  require_short_flaps(request, page, unit);
  if (request.bound_right) std::ranges::reverse(outside);
  std::vector<Strip> inside = outside;
  if (mirrors(turn, Axis::x)) std::ranges::reverse(inside);

  const std::vector<Length> rows = rows_of(request, page);  // the same from either end
  plan.sides = {side_of(inside, rows, Side::inside), side_of(outside, rows, Side::outside)};
  keep_clear_of_spine(plan.sides.inside, inside, request.spine_safe);
  keep_clear_of_spine(plan.sides.outside, outside, request.spine_safe);

  std::vector<Length> widths;
  for (const Strip& strip : outside) widths.push_back(strip.width);
  plan.flat = {sum(widths), sum(rows)};
  plan.finished = finished_size(request, page);
  return plan;
}

}  // namespace frisket
