#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/check.hpp"
#include "frisket/raster.hpp"

namespace frisket {

class HeadStart;

/// Where the resolution of a page came from.
enum class DpiSource { flag, ticket, file };
/// "flag", "ticket" or "file".
std::string_view dpi_source_name(DpiSource source);

/// What is asked of one page.
struct PageRequest {
  std::string file;          ///< as the report is to name it
  int number = 1;            ///< page within the file, from 1
  std::optional<Side> side;  ///< empty for work that is not folded
  std::optional<double> dpi_flag;
};

struct CheckResult {
  std::string_view check;
  enum class State { found, clear, not_assessed } state = State::clear;
  std::string why;  ///< where not assessed
};

/// `verdict` is the first that applies, in this order.
enum class Verdict { fix, review, not_assessed, note, clear };
/// "fix", "review", "not-assessed", "note" or "clear".
std::string_view verdict_name(Verdict verdict);

/// All that is known of one page: data only; writers turn it into files and measure nothing.
struct Report {
  PageRequest page;
  int width_px = 0, height_px = 0;
  double dpi = 0;
  DpiSource dpi_from = DpiSource::file;
  ColourSpace colour = ColourSpace::srgb;
  Job job;
  PixelRect trim_px;  ///< the trim on the canvas; zero size where the page could not be placed
  double px_per_mm = 0;
  Placing placed = Placing::fits_nothing;  ///< what the trim was placed by
  /// Degrees by which the page lies turned clockwise on its canvas. Where it is not 0, `trim_px` and all
  /// boxes are those of the page turned straight about the middle of its trim, and so is the overlay.
  double skew = 0;
  std::vector<CheckResult> checks;
  std::vector<ImageResolution> images;
  std::vector<Finding> findings;  ///< in the order of the report; id = index + 1
  Verdict verdict = Verdict::clear;
  std::vector<std::string> file_notes;  ///< what was worth knowing about the file
  /// What the report was made from, as SHA-256 in hexadecimal: the bytes of the file, and all of the job and
  /// the request that bears on the result. Empty where nobody asked for it.
  std::string file_sha256{}, job_sha256{};

  /// Job space to canvas pixels.
  PixelRect to_pixels(const Rect& rect) const;
};

/// Places, analyses and checks one page. `sink` is told of the stages of analyse() and of each check, by its
/// name. `head_start` (head_start.hpp): where the analysis was begun while the page was decoded. Throws Error
/// where the resolution is unknown.
Report inspect(const Raster& raster, const Job& job, const PageRequest& request, const StageSink& sink = {},
               HeadStart* head_start = nullptr);

}  // namespace frisket
