#include "raster/colour.hpp"

#include <optional>

#include "raster/lab.hpp"
#include "raster/loader_messages.hpp"

namespace frisket {
namespace {

using vips::VImage;
using vips::VOption;

constexpr const char* profile_key = VIPS_META_ICC_NAME;

/// The colour model of the samples.
enum class Model { grey, rgb, cmyk, lab };

int bands_of(Model model) { return model == Model::grey ? 1 : model == Model::cmyk ? 4 : 3; }

Model model_of(const VImage& page) {
  switch (page.interpretation()) {
    case VIPS_INTERPRETATION_B_W:
    case VIPS_INTERPRETATION_GREY16:
      return Model::grey;
    case VIPS_INTERPRETATION_RGB:
    case VIPS_INTERPRETATION_sRGB:
    case VIPS_INTERPRETATION_RGB16:
      return Model::rgb;
    case VIPS_INTERPRETATION_CMYK:
      return Model::cmyk;
    case VIPS_INTERPRETATION_LAB:
    case VIPS_INTERPRETATION_LABS:
      return Model::lab;
    default:
      throw Error("the page has a colour model frisket does not know; export it as grey, RGB or CMYK");
  }
}

void require_all_bands(const VImage& page, Model model) {
  if (page.bands() < bands_of(model)) throw Error("the page lacks colour channels; export it again");
}

void require_whole_samples(const VImage& page) {
  const bool lab =
      page.interpretation() == VIPS_INTERPRETATION_LAB || page.interpretation() == VIPS_INTERPRETATION_LABS;
  const bool whole = page.format() == VIPS_FORMAT_UCHAR || page.format() == VIPS_FORMAT_USHORT;
  if (!whole && !lab)
    throw Error("the page holds floating-point or 32-bit samples; export it with 8 or 16 bits a channel");
}

/// The upper 8 of 16 bits: v * 257 becomes v again.
VImage to_8_bits(const VImage& image) {
  if (image.format() == VIPS_FORMAT_UCHAR) return image;
  const VipsInterpretation meaning = image.bands() == 1 ? VIPS_INTERPRETATION_B_W : VIPS_INTERPRETATION_sRGB;
  return image.cast(VIPS_FORMAT_UCHAR, VImage::option()->set("shift", true))
      .copy(VImage::option()->set("interpretation", meaning));
}

VImage through_profile(const VImage& image, const char* input_profile) {
  VOption* options = VImage::option()
                         ->set("embedded", input_profile == nullptr)
                         ->set("intent", VIPS_INTENT_RELATIVE)
                         ->set("black_point_compensation", true)
                         ->set("depth", 8);
  if (input_profile != nullptr) options->set("input_profile", input_profile);
  return image.icc_transform("srgb", options);
}

/// Every combination of a few levels per channel (or every grey), tagged with the profile of `page`.
VImage colour_grid(const VImage& page, Model model) {
  constexpr int levels = 6;
  constexpr int step = 255 / (levels - 1);
  std::vector<std::uint8_t> samples;
  for (int i = 0; i < (model == Model::grey ? 256 : levels * levels * levels); ++i) {
    const std::vector<int> colour =
        model == Model::grey
            ? std::vector{i}
            : std::vector{i / levels / levels * step, i / levels % levels * step, i % levels * step};
    samples.insert(samples.end(), colour.begin(), colour.end());
  }
  const int bands = bands_of(model);
  VImage grid = VImage::new_from_memory(
      samples.data(), samples.size(), static_cast<int>(samples.size()) / bands, 1, bands, VIPS_FORMAT_UCHAR);
  grid = grid.copy(VImage::option()->set(
      "interpretation", model == Model::grey ? VIPS_INTERPRETATION_B_W : VIPS_INTERPRETATION_sRGB));
  std::size_t size = 0;
  const void* profile = page.get_blob(profile_key, &size);
  grid.set(profile_key, nullptr, const_cast<void*>(profile), size);
  return grid.copy_memory();
}

/// True where the profile moves no colour of a coarse grid by more than a level or two: rounding, not colour.
bool says_srgb(const VImage& page, Model model) {
  constexpr double rounding = 2.0;
  const VImage grid = colour_grid(page, model);
  return (through_profile(grid, nullptr) - grid).abs().max() <= rounding;
}

/// libvips takes a profile of its own in place of one that is damaged or made for other channels, and only
/// warns.
bool profile_was_refused() {
  for (const std::string& warning : kept_warnings())
    if (warning.find("corrupt profile") != std::string::npos ||
        warning.find("profile incompatible") != std::string::npos ||
        warning.find("profile does not support") != std::string::npos)
      return true;
  return false;
}

/// Empty where the profile changes nothing. Throws VError where libvips can do nothing with it.
std::optional<VImage> converted_by_profile(const VImage& colours, Model model, ScreenColours& result) {
  if (model != Model::cmyk && says_srgb(colours, model) && !profile_was_refused()) return std::nullopt;
  VImage converted = through_profile(colours, nullptr);
  if (profile_was_refused()) throw vips::VError("profile refused");
  const std::string values = model == Model::cmyk ? "CMYK" : model == Model::grey ? "grey" : "RGB";
  result.notes.push_back(values + " values were turned into screen colours by the profile in the file");
  return converted;
}

/// The colours through the profile in the file; empty where it has none, it changes nothing or it does not
/// fit.
std::optional<VImage> by_embedded_profile(const VImage& colours, Model model, ScreenColours& result) {
  if (colours.get_typeof(profile_key) == 0 || model == Model::lab) return std::nullopt;
  try {
    return converted_by_profile(colours, model, result);
  } catch (const vips::VError&) {
    vips_error_clear();
    result.unseen.emplace_back(
        "the colour profile in the file does not fit its pixels or is damaged, so its colours are not known");
    return std::nullopt;
  }
}

VImage without_profile(const VImage& colours, Model model, ScreenColours& result) {
  switch (model) {
    case Model::grey:
    case Model::rgb:
      return to_8_bits(colours);
    case Model::cmyk:
      result.notes.emplace_back(
          "the CMYK values were turned into screen colours by a general press profile (libvips' own), as "
          "the file holds none that could be used; colours on screen are a guide only");
      return through_profile(colours, "cmyk");
    case Model::lab:
      return lab_to_srgb(colours);
  }
  return colours;
}

VImage to_srgb(const VImage& colours, Model model, ScreenColours& result) {
  const std::optional<VImage> converted = by_embedded_profile(colours, model, result);
  const VImage screen = converted ? *converted : without_profile(colours, model, result);
  return screen.bands() == 3 ? screen : screen.colourspace(VIPS_INTERPRETATION_sRGB);
}

}  // namespace

ScreenColours to_screen_colours(const VImage& decoded, bool extra_is_alpha) {
  const VImage page = decoded.coding() == VIPS_CODING_LABQ ? unpacked_lab(decoded) : decoded;
  require_whole_samples(page);
  const Model model = model_of(page);
  require_all_bands(page, model);
  const int bands = bands_of(model);
  const int extra = page.bands() - bands;
  ScreenColours result;
  result.colour = model == Model::grey   ? ColourSpace::grey
                  : model == Model::cmyk ? ColourSpace::cmyk
                                         : ColourSpace::srgb;
  const VImage colours = extra == 0 ? page : page.extract_band(0, VImage::option()->set("n", bands));
  result.image = to_srgb(colours, model, result);
  if (extra > 0 && extra_is_alpha) {
    const VImage alpha = to_8_bits(page.extract_band(bands));
    result.image = result.image.bandjoin(alpha).flatten(
        VImage::option()->set("background", std::vector{255.0, 255.0, 255.0}));
  }
  if (extra > (extra_is_alpha ? 1 : 0))
    result.unseen.emplace_back(
        "the file holds further channels (spot inks or saved selections), which were left out");
  return result;
}

}  // namespace frisket
