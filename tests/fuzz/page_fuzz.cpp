// Small pages of any size, colour and pixels under small jobs, from the decoder's picture to the report.
#include <cmath>

#include <vips/vips8>

#include "frisket/check.hpp"
#include "frisket/inspect.hpp"
#include "frisket/report.hpp"
#include "raster/colour.hpp"
#include "raster/loader_messages.hpp"
#include "target.hpp"

namespace frisket {
namespace {

constexpr int most_side = 96;

/// The sizes that go wrong first, and all others.
int drawn_side(Drawn& drawn) {
  constexpr int special[]{1, 2, 3, 7, 31, 32, 33, 63, 64, 65};
  return drawn.coin() ? drawn.one_of(special) : drawn.between(1, most_side);
}

/// Pixels by a handful of rules: noise alone would never show the checks anything.
PixelBytes drawn_pixels(Drawn& drawn, int width, int height, int bands) {
  PixelBytes pixels(std::size_t(width) * std::size_t(height) * std::size_t(bands), drawn.byte());
  const auto at = [&](int x, int y) {
    return &pixels[(std::size_t(y) * std::size_t(width) + std::size_t(x)) * std::size_t(bands)];
  };
  for (int things = drawn.between(0, 40); things > 0 && !drawn.empty(); --things) {
    const int kind = drawn.byte() % 4;
    const int left = drawn.between(0, width - 1), top = drawn.between(0, height - 1);
    const int right = drawn.between(left, width - 1), bottom = drawn.between(top, height - 1);
    const std::uint8_t ink[3]{drawn.byte(), drawn.byte(), drawn.byte()};
    for (int y = top; y <= bottom; ++y)
      for (int x = left; x <= right; ++x)
        for (int band = 0; band < bands; ++band) {
          std::uint8_t& sample = at(x, y)[band];
          if (kind == 0) sample = ink[band % 3];
          if (kind == 1) sample = static_cast<std::uint8_t>(ink[0] + x * ink[1] + y * ink[2]);
          if (kind == 2) sample = (x + y) % (1 + ink[1] % 8) == 0 ? ink[0] : sample;
          if (kind == 3) sample = drawn.byte();
        }
  }
  return pixels;
}

/// Straight into a raster, or through the conversion of colours with any number of bands and any meaning.
Raster drawn_raster(Drawn& drawn) {
  Raster raster;
  raster.width = drawn_side(drawn);
  raster.height = drawn_side(drawn);
  raster.format = "PNG";
  raster.lossy = drawn.coin();
  if (drawn.coin()) {
    raster.rgb = drawn_pixels(drawn, raster.width, raster.height, 3);
    return raster;
  }
  const int bands = drawn.between(1, 12);
  const int bytes = drawn.between(1, 8);  // more bytes a sample than any format has: the rest is left over
  const VipsBandFormat format = static_cast<VipsBandFormat>(drawn.between(0, VIPS_FORMAT_DOUBLE));
  constexpr VipsInterpretation meanings[]{VIPS_INTERPRETATION_B_W,    VIPS_INTERPRETATION_sRGB,
                                          VIPS_INTERPRETATION_CMYK,   VIPS_INTERPRETATION_LAB,
                                          VIPS_INTERPRETATION_LABS,   VIPS_INTERPRETATION_RGB16,
                                          VIPS_INTERPRETATION_GREY16, VIPS_INTERPRETATION_MULTIBAND};
  const VipsInterpretation meaning = drawn.one_of(meanings);
  const bool alpha = drawn.coin();
  PixelBytes samples = drawn_pixels(drawn, raster.width, raster.height, bands * bytes);
  samples.resize(std::size_t(raster.width) * std::size_t(raster.height) * std::size_t(bands) * 8);
  const vips::VImage decoded = vips::VImage::new_from_memory(samples.data(), samples.size(), raster.width,
                                                             raster.height, bands, format)
                                   .copy(vips::VImage::option()->set("interpretation", meaning));
  const ScreenColours screen = to_screen_colours(decoded, alpha);
  raster.unseen = screen.unseen;
  raster.colour = screen.colour;
  const vips::VImage rgb = screen.image;
  require(rgb.bands() == 3 && rgb.format() == VIPS_FORMAT_UCHAR, "screen colours are three bytes");
  std::size_t size = 0;
  void* memory = rgb.write_to_memory(&size);
  raster.rgb.assign(static_cast<std::uint8_t*>(memory), static_cast<std::uint8_t*>(memory) + size);
  g_free(memory);
  return raster;
}

std::string in_mm(double length) { return std::to_string(length) + "mm"; }

/// A job that the page fits, mostly.
Job drawn_job(Drawn& drawn, const Raster& raster, double dpi) {
  const double mm_a_pixel = 25.4 / dpi;
  const double bleed = drawn.between(0, 4), more = drawn.byte() % 8 == 0 ? drawn.between(-20, 20) : 0;
  const double around = drawn.coin() ? 2 * bleed : 0;
  constexpr const char* folds[]{"",     "half",        "letter",          "z",    "gate",
                                "roll", "double-gate", "double-parallel", "cross"};
  constexpr const char* marks[]{"", "yes", "no"};
  std::vector<JobFlag> flags{{"trim", std::to_string(raster.width * mm_a_pixel - around + more) + "x" +
                                          in_mm(raster.height * mm_a_pixel - around)},
                             {"bleed", in_mm(bleed)},
                             {"safe", in_mm(drawn.between(0, 5))},
                             {"fold_safe", in_mm(drawn.between(0, 3))}};
  if (const std::string fold = drawn.one_of(folds); !fold.empty()) flags.push_back({"folds", fold});
  if (const std::string mark = drawn.one_of(marks); !mark.empty()) flags.push_back({"marks", mark});
  static const std::vector<LimitSpec> limits = all_limits();
  return job_from_flags(flags, limits);
}

void require_honest(const Report& report, const Raster& raster, double dpi) {
  require(report.checks.size() == all_checks().size(), "every check has answered");
  require(report.width_px == raster.width && report.height_px == raster.height, "the page keeps its size");
  if (report.verdict == Verdict::clear) {
    require(std::isfinite(dpi) && dpi > 0, "nothing is clear at a resolution that is none");
    require(raster.unseen.empty(), "nothing is clear that was not wholly seen");
    for (const CheckResult& check : report.checks)
      require(check.state == CheckResult::State::clear, "what is clear was assessed");
  }
  for (const Finding& finding : report.findings)
    for (const double side :
         {finding.box.x.mm(), finding.box.y.mm(), finding.box.width.mm(), finding.box.height.mm()})
      require(std::isfinite(side), "every place is a number");
  const Report again = read_report(report_json(report));
  require(again.findings.size() == report.findings.size(), "what was written is read");
}

void inspect_drawn(Drawn& drawn) {
  constexpr double usual[]{10, 72, 96, 150, 300, 600, 1200};
  const bool odd = drawn.byte() % 8 == 0;
  const double dpi = odd ? drawn.raw<double>() : drawn.one_of(usual);
  Raster raster = drawn_raster(drawn);
  raster.file_dpi = dpi;
  const Job job = drawn_job(drawn, raster, odd ? 100 : dpi);
  const std::optional<Side> side =
      job.folded ? std::optional(drawn.coin() ? Side::inside : Side::outside) : std::nullopt;
  require_honest(inspect(raster, job, {"page.png", 1, side, std::nullopt}), raster, dpi);
}

}  // namespace
}  // namespace frisket

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  frisket::with_imaging_library();
  frisket::forget_messages();
  frisket::Drawn drawn({data, size});
  try {
    frisket::inspect_drawn(drawn);
  } catch (const frisket::Error& error) {
    frisket::require(error.what()[0] != '\0', "every error has words");
  } catch (const vips::VError&) {  // open_page() makes an Error of it
  }
  return 0;
}
