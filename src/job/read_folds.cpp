#include "job/read_folds.hpp"

#include <algorithm>

#include "job/nearest.hpp"
#include "job/trim.hpp"

namespace frisket {
namespace {

using namespace literals;

constexpr int least_count = 3, most_count = 60;
/// A panel is never shortened by more than this: far beyond any allowance for thick stock.
constexpr Length most_shorter = 50_mm;
/// From here on a sheet is cover stock. The paper standards of the US Joint Committee on Printing (1999)
/// have book papers up to 0.0063 in (80 lb) and cover from 0.010 in (10 pt); this lies between.
constexpr Length cover_caliper = 0.008_in;
constexpr Length most_caliper = 5_mm;

std::vector<std::string> kind_names() {
  std::vector<std::string> names;
  for (const FoldKind kind :
       {FoldKind::none, FoldKind::half, FoldKind::letter, FoldKind::z, FoldKind::gate, FoldKind::double_gate,
        FoldKind::roll, FoldKind::double_parallel, FoldKind::cross})
    names.emplace_back(fold_name(kind));
  return names;
}

std::string joined(const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
  return list;
}

FoldKind read_kind(const Field& field) {
  const std::string name = read_text(field);
  if (const auto kind = find_fold(name)) return *kind;
  const auto near = nearest(name, kind_names());
  reject(field, "one of " + joined(kind_names()) + (near ? "; did you mean \"" + *near + "\"?" : ""));
}

bool counts_panels(FoldKind kind) { return kind == FoldKind::z || kind == FoldKind::roll; }
bool tucks_one_end(FoldKind kind) {
  return kind == FoldKind::letter || kind == FoldKind::roll || kind == FoldKind::double_parallel;
}
bool compensates(FoldKind kind) {
  return tucks_one_end(kind) || kind == FoldKind::gate || kind == FoldKind::double_gate;
}
bool has_axis(FoldKind kind) {
  return kind != FoldKind::none && kind != FoldKind::list && kind != FoldKind::cross;
}

/// The child `name` of `field`; an Error where it is there but does not go with the kind of fold.
std::optional<Field> child_for(const Field& field, const std::string& name, FoldKind kind, bool fits) {
  if (!field.value.contains(name)) return std::nullopt;
  const Field child = field.child(name);
  if (!fits)
    throw Error(place(child.layer, child.key) + " does not go with " +
                (kind == FoldKind::list
                     ? std::string("a plain list of panels; add a \"kind\" or leave it out")
                     : "a fold of kind \"" + std::string(fold_name(kind)) + "\"; leave it out"));
  return child;
}

std::vector<Length> read_panels(const Field& folds, const std::string& name) {
  if (!folds.value.contains(name)) return {};
  const Field field = folds.child(name);
  if (field.value.is_array() && field.value.size() > most_count)
    throw Error(place(field.layer, field.key) + " lists " + std::to_string(field.value.size()) +
                " panels; expected " + std::to_string(most_count) + " at most");
  return read_lengths(field, 1, 0.1_mm, most_side);
}

/// "3.6875,3.6875,3.625in": the last unit stands for all that have none.
FoldsRead read_list_text(const Field& field) {
  const std::string text = field.value.get<std::string>();
  const auto last_unit = unit_of_size(nlohmann::json::array({text}));
  Layer list{field.layer.file, field.layer.from, last_unit.value_or(field.layer.bare), {}};
  nlohmann::json panels = nlohmann::json::array();
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t stop = std::min(text.find(',', start), text.size());
    panels.push_back(text.substr(start, stop - start));
    start = stop + 1;
  }
  FoldsRead folds;
  folds.request.kind = FoldKind::list;
  folds.request.panels = read_lengths({list, field.key, panels}, 1, 0.1_mm, most_side);
  return folds;
}

FoldsRead read_folds_text(const Field& field) {
  const std::string text = read_text(field);
  if (text.find(',') != std::string::npos) return read_list_text(field);
  FoldsRead folds;
  folds.request.kind = read_kind(field);
  return folds;
}

End read_tucked(const Field& field, Axis along) {
  const char *first = along == Axis::x ? "left" : "top", *last = along == Axis::x ? "right" : "bottom";
  return read_choice(field, {first, last}) == first ? End::first : End::last;
}

Stock read_stock(const Field& folds, FoldKind kind) {
  const auto stock = child_for(folds, "stock", kind, compensates(kind));
  const auto caliper = child_for(folds, "caliper", kind, compensates(kind));
  if (stock && caliper)
    throw Error(place(folds.layer, folds.key) + " has both \"stock\" and \"caliper\"; keep one");
  if (stock) return read_choice(*stock, {"text", "cover"}) == "text" ? Stock::text : Stock::cover;
  if (caliper)
    return read_length(*caliper, 0.01_mm, most_caliper) < cover_caliper ? Stock::text : Stock::cover;
  return Stock::text;
}

FoldsRead read_folds_object(const Field& field) {
  require_known_keys(field.layer, field.value, field.key + ".",
                     {"kind", "count", "tucked", "along", "stock", "caliper", "shorter", "panels", "panels_y",
                      "outside_panels", "outside_panels_y"});
  FoldsRead folds;
  FoldRequest& request = folds.request;
  request.panels = read_panels(field, "panels");
  request.panels_y = read_panels(field, "panels_y");
  folds.outside_panels = read_panels(field, "outside_panels");
  folds.outside_panels_y = read_panels(field, "outside_panels_y");
  const FoldKind kind = request.kind =
      field.value.contains("kind") ? read_kind(field.child("kind")) : FoldKind::list;
  if (kind == FoldKind::list && request.panels.empty() && request.panels_y.empty())
    reject(field, "a \"kind\" of fold, or \"panels\" or \"panels_y\"");
  if (const auto along = child_for(field, "along", kind, has_axis(kind)))
    request.along = read_choice(*along, {"x", "y"}) == "x" ? Axis::x : Axis::y;
  if (const auto tucked = child_for(field, "tucked", kind, tucks_one_end(kind)))
    request.tucked = read_tucked(*tucked, request.along);
  if (const auto shorter = child_for(field, "shorter", kind, compensates(kind)))
    request.shorter = read_length(*shorter, 0.1_mm, most_shorter);
  if (const auto count = child_for(field, "count", kind, counts_panels(kind)))
    request.count = read_whole_number(*count, least_count, most_count);
  request.stock = read_stock(field, kind);
  for (const char* panels : {"panels", "panels_y", "outside_panels", "outside_panels_y"})
    child_for(field, panels, kind, kind != FoldKind::none);
  return folds;
}

/// A z fold has three panels and a roll fold four unless the ticket says or lists something else.
int usual_count(const FoldRequest& request) {
  if (!counts_panels(request.kind) || request.count > 0) return request.count;
  if (!request.panels.empty() || !request.panels_y.empty()) return 0;
  return request.kind == FoldKind::z ? 3 : 4;
}

void require_mirror(const Field& field, const std::string& name, const std::vector<Length>& given,
                    const std::vector<Length>& inside, bool mirrored, Unit unit) {
  const auto right = seen_from_behind(inside, mirrored);
  const auto same = [](Length a, Length b) { return abs(a - b) <= 0.01_mm; };
  if (given.empty() || std::ranges::equal(given, right, same)) return;
  throw Error(place(field.layer, field.key + "." + name) + " is " + list_text(given, unit) +
              ", but the sheet folded at " + list_text(inside, unit) + " inside is " +
              list_text(right, unit) + " as seen on the outside" +
              (mirrored ? ": there the panels run the other way" : ""));
}

}  // namespace

FoldsRead read_folds(const Field& field) {
  if (!field.value.is_string() && !field.value.is_object())
    reject(field, "a kind of fold (" + joined(kind_names()) + ") or an object like {\"kind\": \"letter\"}");
  FoldsRead folds = field.value.is_string() ? read_folds_text(field) : read_folds_object(field);
  folds.request.count = usual_count(folds.request);
  return folds;
}

Turn read_turn(const Field& field) {
  return read_choice(field, {"head-to-head", "head-to-foot"}) == "head-to-head" ? Turn::head_to_head
                                                                                : Turn::head_to_foot;
}

BothSides fold_sheet(const Field& field, const FoldsRead& folds, const Size& trim, Turn turn, Unit unit) {
  if (folds.request.kind == FoldKind::none) return lay_out_flat(trim);
  const Panels panels = at_place(field, [&] { return plan_panels(folds.request, trim, unit); });
  require_mirror(field, "outside_panels", folds.outside_panels, panels.columns, mirrors(turn, Axis::x), unit);
  require_mirror(field, "outside_panels_y", folds.outside_panels_y, panels.rows, mirrors(turn, Axis::y),
                 unit);
  return lay_out(panels, folds.request, turn);
}

}  // namespace frisket
