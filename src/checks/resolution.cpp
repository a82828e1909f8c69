// resolution: how many of its own pixels each picture has to the inch at the size it is printed. The pixels
// of the page tell it (page/resampling/resampling.hpp): a page at 300 dpi on which a picture's pixels are 3
// page pixels wide shows it at 100 ppi, whatever its file or the layout program says.
#include <algorithm>
#include <array>
#include <cmath>

#include "checks/checks.hpp"
#include "checks/line_art.hpp"
#include "checks/resolution_words.hpp"
#include "page/maps.hpp"

namespace frisket {
namespace {

// 300 is what most printers ask for, 2 pixels to the line of a 150 line screen; 225 is three quarters of it,
// the low end a teaching sheet on image resolution calls acceptable (common practice). Line art of 600 to
// 1200 ppi is common practice, no source.
constexpr std::array limits_of_resolution{
    LimitSpec{"resolution.wanted", LimitKind::ppi, 300.0, 10.0, 10000.0,
              "pixels to the inch that pictures should have at the size they are printed"},
    LimitSpec{"resolution.least", LimitKind::ppi, 225.0, 10.0, 10000.0,
              "pixels to the inch below which a picture will look soft in print"},
    LimitSpec{
        "resolution.line_art", LimitKind::ppi, 600.0, 10.0, 10000.0,
        "pixels to the inch that logos and type made of pixels, and black and white pages, should have"},
};
constexpr const LimitSpec& wanted_limit = limits_of_resolution[0];
constexpr const LimitSpec& least_limit = limits_of_resolution[1];
constexpr const LimitSpec& line_art_limit = limits_of_resolution[2];

ImageResolution measured(const Picture& picture, const Resampling& resampling, double page_dpi) {
  ImageResolution image{picture.box, {}, {}, {}, resampling.why, resampling.confidence};
  if (resampling.factor_x) image.ppi_x = page_dpi / *resampling.factor_x;
  if (resampling.factor_y) image.ppi_y = page_dpi / *resampling.factor_y;
  if (resampling.as_fine_as_page) image.at_least = page_dpi;
  return image;
}

Finding low_ppi(const ImageResolution& image, double wanted, double least, Unit unit) {
  const double ppi = std::min(*image.ppi_x, *image.ppi_y);
  Finding finding =
      ppi_finding("low-ppi", below_ppi(ppi, least) ? Severity::fix : Severity::review, image.box);
  finding.measured_ppi = ppi;
  finding.required_ppi = below_ppi(ppi, least) ? least : wanted;
  finding.message = "Picture is " + ppi_text(image) + " ppi at this size; " + ppi_text(least) +
                    " is the least and " + ppi_text(wanted) + " wanted.";
  finding.advice = "Use it at " + to_text(image.box.width * (ppi / wanted), unit) +
                   " wide or less, or find one of at least " + pixels_text(image.box, wanted) + ".";
  return finding;
}

Finding ppi_unknown(const ImageResolution& image, double wanted) {
  Finding finding = ppi_finding("ppi-unknown", Severity::note, image.box);
  finding.required_ppi = wanted;
  finding.message = "Resolution of this picture cannot be told: " + image.why + ".";
  finding.advice = "Look it up in the layout: " + ppi_text(wanted) + " ppi at this size takes " +
                   pixels_text(image.box, wanted) + ".";
  return finding;
}

Finding page_dpi_low(const Page& page, double least, double wanted) {
  const Raster& raster = *page.raster;
  Finding finding = ppi_finding("page-dpi-low", Severity::review,
                                page.placement.rect_of({0, 0, double(raster.width), double(raster.height)}));
  finding.measured_ppi = page.dpi;
  finding.required_ppi = least;
  finding.message = "Page was rendered at " + ppi_text(page.dpi) + " dpi; " + ppi_text(least) +
                    " is the least for pictures and " + ppi_text(wanted) +
                    " wanted, so everything on it is coarser than that.";
  finding.advice = "Export the page again at " + ppi_text(wanted) + " dpi.";
  return finding;
}

void judge_pictures(const Page& page, const Job& job, double wanted, double least, Outcome& outcome) {
  const std::vector<Resampling>& told = page.maps->resamplings;
  for (std::size_t i = 0; i < told.size(); ++i) {
    outcome.images.push_back(measured(page.pictures[i], told[i], page.dpi));
    const ImageResolution& image = outcome.images.back();
    if (image.ppi_x && image.ppi_y) {
      if (below_ppi(std::min(*image.ppi_x, *image.ppi_y), wanted))
        outcome.findings.push_back(low_ppi(image, wanted, least, job.unit));
    } else if (!image.at_least) {
      outcome.findings.push_back(ppi_unknown(image, wanted));
    }
  }
}

Outcome check_resolution(const Page& page, const Job& job, const Limits& limits) {
  const double wanted = limits.ppi(wanted_limit), least = std::min(limits.ppi(least_limit), wanted);
  const LineArtLimits line_art{limits.ppi(line_art_limit), least};
  Outcome outcome;
  if (page.on_canvas.skew != 0)
    outcome.not_assessed = "the page lies crooked, and turning it straight wipes out what enlarging leaves";
  if (const auto one_bit = judge_one_bit_page(page, line_art))
    outcome.findings.push_back(*one_bit);
  else if (below_ppi(page.dpi, least))
    outcome.findings.push_back(page_dpi_low(page, least, wanted));
  if (outcome.not_assessed) return outcome;
  judge_pictures(page, job, wanted, least, outcome);
  judge_stepped_art(page, line_art, outcome);
  return outcome;
}

constexpr std::array<std::string_view, 5> kinds_of_resolution{"low-ppi", "ppi-unknown", "page-dpi-low",
                                                              "stair-steps", "one-bit-low"};

}  // namespace

const Check resolution_check{"resolution", limits_of_resolution, check_resolution, true, kinds_of_resolution};

}  // namespace frisket
