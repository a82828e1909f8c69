#include "job/read_accepted.hpp"

namespace frisket {
namespace {

constexpr double most_mm = 100'000;  ///< farther away lies nothing

double read_mm(const Field& field) { return read_number(field, -most_mm, most_mm); }

std::optional<Rect> read_box(const Field& field) {
  if (field.value.is_null()) return std::nullopt;
  if (!field.value.is_object())
    reject(field, "a box like {\"x\": 20, \"y\": 1.8, \"width\": 46, \"height\": 4.5}");
  require_known_keys(field.layer, field.value, field.key + ".", {"x", "y", "width", "height"});
  const auto side = [&](const std::string& name) {
    if (!field.value.contains(name)) reject(field, "all four of \"x\", \"y\", \"width\" and \"height\"");
    return Length::from_mm(read_mm(field.child(name)));
  };
  return Rect{side("x"), side("y"), side("width"), side("height")};
}

AcceptedFinding read_one(const Field& field) {
  if (!field.value.is_object())
    reject(field, "an object with page, check, kind, box_mm, measured_mm, why and who");
  require_known_keys(
      field.layer, field.value, field.key + ".",
      {"page", "number", "check", "kind", "box_mm", "measured_mm", "measured_ppi", "why", "who"});
  const auto text = [&](const std::string& name) {
    if (!field.value.contains(name)) reject(field, "a \"" + name + "\"");
    return read_text(field.child(name));
  };
  const auto known = [&](const std::string& name) {
    return field.value.contains(name) && !field.value.at(name).is_null();
  };
  AcceptedFinding accepted;
  accepted.page = text("page");
  accepted.check = text("check");
  accepted.kind = text("kind");
  accepted.why = text("why");
  accepted.who = text("who");
  if (known("number")) accepted.number = read_whole_number(field.child("number"), 1, 100'000);
  if (known("box_mm")) accepted.box = read_box(field.child("box_mm"));
  if (known("measured_mm")) accepted.measured = Length::from_mm(read_mm(field.child("measured_mm")));
  if (known("measured_ppi")) accepted.measured_ppi = read_number(field.child("measured_ppi"), 0, 100'000);
  return accepted;
}

}  // namespace

std::vector<AcceptedFinding> read_accepted(const Field& field) {
  if (!field.value.is_array()) reject(field, "a list of findings, copied from a findings file");
  std::vector<AcceptedFinding> list;
  for (const nlohmann::json& value : field.value)
    list.push_back(read_one({field.layer, field.key + "[" + std::to_string(list.size()) + "]", value}));
  return list;
}

}  // namespace frisket
