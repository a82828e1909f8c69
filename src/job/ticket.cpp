// A job is read in layers: the printer's file, the ticket, the command line. Later layers win, key by key;
// bare numbers keep the unit of the layer they are written in.
#include <algorithm>

#include "frisket/job.hpp"
#include "job/json_file.hpp"
#include "job/read_accepted.hpp"
#include "job/read_cover.hpp"
#include "job/read_folds.hpp"
#include "job/read_limits.hpp"
#include "job/trim.hpp"

namespace frisket {
namespace {

using nlohmann::json;

/// The only version of the formats there is.
constexpr int format_version = 1;
/// Resolutions of rendered pages, dots per inch: from a rough screen view to a platesetter.
constexpr double least_dpi = 10, most_dpi = 10'000;

std::vector<std::string> with_limits(std::vector<std::string> keys, std::span<const LimitSpec> specs) {
  for (std::string& key : limit_keys(specs)) keys.push_back(std::move(key));
  return keys;
}

std::optional<Unit> unit_in(const Layer& layer) {
  const auto field = find_field(layer, "unit");
  if (!field) return std::nullopt;
  return parse_unit(read_choice(*field, {"mm", "cm", "in", "pt"}));
}

std::optional<Unit> unit_of_trim(const Layer& layer) {
  const auto field = find_field(layer, "trim");
  return field ? unit_of_size(field->value) : std::nullopt;
}

/// The unit of a layer's bare numbers: what it says, else the unit of its trim, else `fallback`.
Unit bare_unit(const Layer& layer, Unit fallback) {
  const auto said = unit_in(layer);
  return said ? *said : unit_of_trim(layer).value_or(fallback);
}

void require_version(const Layer& layer, const std::string& key) {
  const auto field = find_field(layer, key);
  if (!field)
    throw Error(place(layer, key) + " is missing; expected \"" + key +
                "\": " + std::to_string(format_version));
  if (field->value != format_version)
    reject(*field, std::to_string(format_version) + ", the version that this program reads");
}

json read_printer_file(const std::filesystem::path& file) {
  std::error_code error;
  if (std::filesystem::status(file, error).type() == std::filesystem::file_type::not_found)
    throw Error(file.string() + ": there is no such file; put it beside the ticket, or take \"printer\" out");
  return read_json_object(file);
}

Layer read_printer(const Field& named, const std::filesystem::path& ticket,
                   std::span<const LimitSpec> specs) {
  const std::filesystem::path file = ticket.parent_path() / read_text(named);
  Layer layer{file.string(), LimitSource::printer, Unit::millimetre,
              at_place(named, [&] { return read_printer_file(file); })};
  require_known_keys(layer, layer.values, "", with_limits({"frisket_printer", "name", "unit"}, specs));
  if (layer.values.contains("frisket_printer")) require_version(layer, "frisket_printer");
  if (const auto name = find_field(layer, "name")) read_text(*name);
  layer.bare = bare_unit(layer, Unit::millimetre);
  return layer;
}

Layer read_ticket(const std::filesystem::path& file, std::span<const LimitSpec> specs) {
  Layer layer{file.string(), LimitSource::ticket, Unit::millimetre, read_json_object(file)};
  require_version(layer, "frisket_ticket");
  require_known_keys(layer, layer.values, "",
                     with_limits({"frisket_ticket", "name", "unit", "printer", "trim", "folds", "turn",
                                  "cover", "dpi", "marks", "pages", "accepted"},
                                 specs));
  layer.bare = bare_unit(layer, Unit::millimetre);
  return layer;
}

/// Flags under the keys of a ticket, nested where the key has a full stop.
Layer flag_layer(std::span<const JobFlag> flags, std::span<const LimitSpec> specs, Unit ticket_unit) {
  Layer layer{"", LimitSource::flag, ticket_unit, json::object()};
  for (const JobFlag& flag : flags) {
    const std::size_t stop = flag.key.find('.');
    if (stop == std::string::npos)
      layer.values[flag.key] = flag.value;
    else
      layer.values[flag.key.substr(0, stop)][flag.key.substr(stop + 1)] = flag.value;
  }
  require_known_keys(layer, layer.values, "",
                     with_limits({"trim", "folds", "unit", "dpi", "turn", "marks"}, specs));
  layer.bare = bare_unit(layer, ticket_unit);
  return layer;
}

/// The value of `key` in the last layer that has it.
std::optional<Field> topmost(std::span<const Layer> layers, const std::string& key) {
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer)
    if (auto field = find_field(*layer, key)) return field;
  return std::nullopt;
}

/// For sentences: the unit that the command line, then the ticket, says or writes its trim in.
Unit job_unit(std::span<const Layer> layers) {
  for (const auto& unit_of : {unit_in, unit_of_trim})
    for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer)
      if (const auto unit = layer->from == LimitSource::printer ? std::nullopt : unit_of(*layer))
        return *unit;
  return Unit::millimetre;
}

Edges edges_of(const Limits& limits, std::string_view key) {
  const auto found = limits.all().find(key);
  return found == limits.all().end() ? Edges{} : std::get<Edges>(found->second.value);
}

/// The safe zones of opposite edges may not meet.
void require_room(const Job& job, std::span<const Layer> layers) {
  for (const Edge edge : all_edges) {
    const Length side = is_vertical(edge) ? job.trim.width : job.trim.height;
    const Length safe = job.safe.at(edge);
    if (safe < side / 2.0) continue;
    const auto field = topmost(layers, "safe");
    throw Error((field ? place(field->layer, "safe") : "the default of \"safe\"") + " is " +
                to_exact_text(safe, job.unit) + " at the " + std::string(edge_name(edge)) +
                ", half the trim " + (is_vertical(edge) ? "width" : "height") + " of " +
                to_exact_text(side, job.unit) + " or more; expected less than " +
                to_exact_text(side / 2.0, job.unit));
  }
}

JobPage read_page(const Field& field) {
  if (!field.value.is_object())
    reject(field, "an object like {\"file\": \"outside.png\", \"side\": \"outside\"}");
  require_known_keys(field.layer, field.value, field.key + ".", {"file", "side"});
  if (!field.value.contains("file")) reject(field, "a \"file\"");
  JobPage page{read_text(field.child("file")), std::nullopt};
  if (field.value.contains("side"))
    page.side =
        read_choice(field.child("side"), {"inside", "outside"}) == "inside" ? Side::inside : Side::outside;
  return page;
}

std::vector<JobPage> read_pages(const Field& field) {
  if (!field.value.is_array())
    reject(field, "a list like [ {\"file\": \"outside.png\", \"side\": \"outside\"} ]");
  std::vector<JobPage> pages;
  for (const json& value : field.value)
    pages.push_back(read_page({field.layer, field.key + "[" + std::to_string(pages.size()) + "]", value}));
  return pages;
}

/// true or false; from the command line yes or no.
bool read_marks(const Field& field) {
  if (field.layer.from == LimitSource::flag) return read_choice(field, {"yes", "no"}) == "yes";
  if (!field.value.is_boolean()) reject(field, "true, to find the trim by printed marks, or false");
  return field.value.get<bool>();
}

Turn turn_of(std::span<const Layer> layers) {
  const auto field = topmost(layers, "turn");
  return field ? read_turn(*field) : Turn::head_to_head;
}

void set_sides(Job& job, const BothSides& sides) {
  job.inside = sides.inside;
  job.outside = sides.outside;
  job.folded = job.inside.panels.size() > 1;
}

void fold(Job& job, std::span<const Layer> layers, Turn turn) {
  const auto field = topmost(layers, "folds");
  set_sides(
      job, field ? fold_sheet(*field, read_folds(*field), job.trim, turn, job.unit) : lay_out_flat(job.trim));
  job.finished = largest_panel(job.inside);
}

/// `job.trim` is one page before, and the flat cover after.
void lay_out_cover(Job& job, const Field& field, std::span<const Layer> layers, Turn turn) {
  if (const auto folds = topmost(layers, "folds"))
    throw Error(place(folds->layer, "folds") +
                " does not go with a cover, which has folds of its own; leave it out");
  const CoverRequest request = read_cover(field);
  const CoverPlan plan = at_place(field, [&] { return plan_cover(request, job.trim, turn, job.unit); });
  set_sides(job, plan.sides);
  job.trim = plan.flat;
  job.finished = plan.finished;
  job.spine = plan.spine;
  if (request.kind == CoverKind::saddle && request.leaf)
    job.creep = creep(request.pages, *request.leaf, request.cover_caliper);
}

Field required_trim(std::span<const Layer> layers) {
  if (const auto field = topmost(layers, "trim")) return *field;
  const Layer& last = layers.back();
  if (layers.size() == 1) throw Error("the page size is missing; give --trim 11x8.5in, or a ticket");
  throw Error(place(layers[layers.size() - 2], "trim") +
              " is missing; expected the page size, like [11, 8.5] or \"A4 landscape\"" +
              (last.values.empty() ? "" : ", or --trim"));
}

/// Everything out of the layers; the last one is the command line.
Job make_job(std::span<const Layer> layers, std::span<const LimitSpec> specs) {
  Job job;
  job.unit = job_unit(layers);
  job.trim = read_size(required_trim(layers));
  const Turn turn = turn_of(layers);
  if (const auto cover = topmost(layers, "cover"))
    lay_out_cover(job, *cover, layers, turn);
  else
    fold(job, layers, turn);
  job.limits = read_limits(layers, specs);
  job.bleed = edges_of(job.limits, "bleed");
  job.safe = edges_of(job.limits, "safe");
  require_room(job, layers);
  if (const auto marks = topmost(layers, "marks")) job.marks = read_marks(*marks);
  if (const auto dpi = topmost(layers, "dpi")) job.dpi = read_number(*dpi, least_dpi, most_dpi);
  return job;
}

}  // namespace

std::string_view side_name(Side side) { return side == Side::inside ? "inside" : "outside"; }

Job read_job(const std::filesystem::path& ticket, std::span<const JobFlag> flags,
             std::span<const LimitSpec> specs) {
  std::vector<Layer> layers{read_ticket(ticket, specs)};
  layers.push_back(flag_layer(flags, specs, layers.front().bare));
  if (const auto printer = find_field(layers.front(), "printer"))
    layers.insert(layers.begin(), read_printer(*printer, ticket, specs));
  Job job = make_job(layers, specs);
  if (const auto name = topmost(layers, "name"); name && name->layer.from == LimitSource::ticket)
    job.name = read_text(*name);
  if (const auto pages = topmost(layers, "pages")) job.pages = read_pages(*pages);
  if (const auto accepted = topmost(layers, "accepted")) job.accepted = read_accepted(*accepted);
  return job;
}

Job job_from_flags(std::span<const JobFlag> flags, std::span<const LimitSpec> specs) {
  const std::vector<Layer> layers{flag_layer(flags, specs, Unit::millimetre)};
  return make_job(layers, specs);
}

}  // namespace frisket
