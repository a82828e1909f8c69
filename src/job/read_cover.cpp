#include "job/read_cover.hpp"

#include <algorithm>

namespace frisket {
namespace {

using namespace literals;

constexpr int most_pages = 10'000;
constexpr Length least_paper = Length::from_mm(0.01), most_paper = 5_mm;
constexpr Length most_spine = 500_mm, most_width = 2000_mm;
/// Pages per inch from the thinnest bible paper to board (common practice, no source).
constexpr double least_ppi = 20, most_ppi = 5000;
constexpr double least_grammage = 10, most_grammage = 1000;
/// Bulk in cm3/g: coated paper has about 0.7, the bulkiest book paper about 2.5 (common practice, no source).
constexpr double least_bulk = 0.3, most_bulk = 5;

using Kind = CoverKind;

/// The keys of a cover and the kinds they belong to.
struct Key {
  const char* name;
  std::vector<Kind> kinds;
};
const std::vector<Kind> all_kinds{Kind::perfect, Kind::saddle, Kind::jacket, Kind::case_bound};
const std::vector<Kind> with_spine{Kind::perfect, Kind::jacket, Kind::case_bound};
const std::vector<Kind> with_boards{Kind::jacket, Kind::case_bound};

const std::vector<Key>& keys() {
  static const std::vector<Key> all{{"kind", all_kinds},          {"pages", all_kinds},
                                    {"caliper", all_kinds},       {"ppi", all_kinds},
                                    {"grammage", all_kinds},      {"bulk", all_kinds},
                                    {"cover_caliper", all_kinds}, {"binding", all_kinds},
                                    {"spine", with_spine},        {"spine_safe", with_spine},
                                    {"hinge", {Kind::perfect}},   {"flap", {Kind::jacket}},
                                    {"board", with_boards},       {"endpaper_caliper", with_boards},
                                    {"overhang", with_boards},    {"joint", with_boards},
                                    {"inset", with_boards},       {"turn_in", {Kind::case_bound}}};
  return all;
}

void require_keys(const Field& field, Kind kind, const std::string& kind_name) {
  std::vector<std::string> known;
  for (const Key& key : keys()) known.emplace_back(key.name);
  require_known_keys(field.layer, field.value, field.key + ".", known);
  for (const Key& key : keys())
    if (field.value.contains(key.name) && std::ranges::count(key.kinds, kind) == 0)
      throw Error(place(field.layer, field.key + "." + key.name) + " does not go with a cover of kind \"" +
                  kind_name + "\"; leave it out");
}

std::optional<Field> child(const Field& field, const char* name) {
  if (!field.value.contains(name)) return std::nullopt;
  return field.child(name);
}

void read_into(Length& length, const Field& cover, const char* name, Length least, Length most) {
  if (const auto field = child(cover, name)) length = read_length(*field, least, most);
}

void read_into(std::optional<Length>& length, const Field& cover, const char* name, Length least,
               Length most) {
  if (const auto field = child(cover, name)) length = read_length(*field, least, most);
}

/// Nested sheets have four pages each, glued leaves two.
int read_page_count(const Field& field, Kind kind) {
  const int each = kind == Kind::saddle ? 4 : 2;
  const int pages = read_whole_number(field, each, most_pages);
  if (pages % each != 0)
    reject(field, each == 4 ? "a multiple of 4, for sheets folded once" : "an even number, two pages a leaf");
  return pages;
}

/// The thickness of a leaf from whichever measure of the paper is given.
std::optional<Length> read_leaf(const Field& cover) {
  const auto caliper = child(cover, "caliper"), ppi = child(cover, "ppi");
  const auto grammage = child(cover, "grammage"), bulk = child(cover, "bulk");
  if ((caliper ? 1 : 0) + (ppi ? 1 : 0) + (grammage || bulk ? 1 : 0) > 1)
    throw Error(
        place(cover.layer, cover.key) +
        " says the thickness of the paper more than once; keep \"caliper\", or \"ppi\", or \"grammage\" "
        "with \"bulk\"");
  if (caliper) return read_length(*caliper, least_paper, most_paper);
  if (ppi) return leaf_from_ppi(read_number(*ppi, least_ppi, most_ppi));
  if (!grammage && !bulk) return std::nullopt;
  if (!grammage || !bulk)
    throw Error(
        place(cover.layer, cover.key) +
        (bulk ? " has \"bulk\" but no \"grammage\" in g/m2"
              : " has \"grammage\" but no \"bulk\" in cm3/g: weight alone does not tell how thick paper is"));
  return leaf_from_grammage(read_number(*grammage, least_grammage, most_grammage),
                            read_number(*bulk, least_bulk, most_bulk));
}

CoverKind read_kind(const Field& field) {
  if (!field.value.is_object() || !field.value.contains("kind"))
    reject(field, "an object with a \"kind\": perfect, saddle, jacket or case");
  const std::string name = read_choice(field.child("kind"), {"perfect", "saddle", "jacket", "case"});
  return name == "perfect"  ? Kind::perfect
         : name == "saddle" ? Kind::saddle
         : name == "jacket" ? Kind::jacket
                            : Kind::case_bound;
}

void require_parts(const Field& field, const CoverRequest& request) {
  const auto missing = [&](const char* key, const char* what) {
    throw Error(place(field.layer, field.key + "." + key) + " is missing; expected " + what);
  };
  if (request.kind == Kind::jacket && !field.value.contains("flap")) missing("flap", "the width of a flap");
  if (request.kind == Kind::case_bound && !request.board && !request.spine)
    missing("board", "the thickness of a board, or the \"spine\" with its boards");
}

}  // namespace

CoverRequest read_cover(const Field& field) {
  CoverRequest request;
  request.kind = read_kind(field);
  require_keys(field, request.kind, field.value.at("kind").get<std::string>());
  if (const auto pages = child(field, "pages")) request.pages = read_page_count(*pages, request.kind);
  request.leaf = read_leaf(field);
  read_into(request.spine, field, "spine", 0.1_mm, most_spine);
  read_into(request.cover_caliper, field, "cover_caliper", least_paper, most_paper);
  read_into(request.endpaper_caliper, field, "endpaper_caliper", least_paper, most_paper);
  read_into(request.board, field, "board", 0.1_mm, 20_mm);
  read_into(request.hinge, field, "hinge", 0.1_mm, 100_mm);
  read_into(request.flap, field, "flap", 1_mm, most_width);
  read_into(request.overhang, field, "overhang", Length(), 50_mm);
  read_into(request.joint, field, "joint", Length::from_mm(0.1), 50_mm);
  read_into(request.turn_in, field, "turn_in", Length::from_mm(0.1), 100_mm);
  read_into(request.inset, field, "inset", Length(), 50_mm);
  read_into(request.spine_safe, field, "spine_safe", Length(), 50_mm);
  if (const auto binding = child(field, "binding"))
    request.bound_right = read_choice(*binding, {"left", "right"}) == "right";
  require_parts(field, request);
  return request;
}

}  // namespace frisket
