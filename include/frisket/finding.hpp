#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/geometry.hpp"

namespace frisket {

/// `fix`: it will be visible in the finished piece; `review`: a person should decide; `note`: worth knowing.
enum class Severity { fix, review, note };
/// "fix", "review" or "note".
std::string_view severity_name(Severity severity);

/// That a person has looked at a finding and lets it pass, as the ticket says.
struct Acceptance {
  std::string why, who;
};

/// One fault of one page. Lengths are job space; what cannot be known is empty.
struct Finding {
  std::string_view check;  ///< name of the check, set by the pipeline
  std::string_view kind;   ///< from the closed list of the design: "text-in-band", "short-bleed", …
  Severity severity = Severity::note;
  Rect box;                  ///< the part of the ink that offends
  Rect whole;                ///< the whole line, block, field or picture
  std::optional<Edge> edge;  ///< the trim edge it is about
  std::optional<int> fold;   ///< the fold it is about, from 1: vertical folds left to right, then horizontal
  std::optional<int> panel;  ///< the panel that holds the middle of `box`, from 1; set by the pipeline
  std::string panel_name;    ///< set by the pipeline
  std::optional<Length> measured, required;
  std::optional<double> measured_ppi, required_ppi;
  std::string message;                   ///< what, where, how far
  std::string advice;                    ///< what to do
  std::optional<Acceptance> accepted{};  ///< it counts neither in the verdict nor in the exit status
};

/// The resolution of one picture on the page.
struct ImageResolution {
  Rect box;
  std::optional<double> ppi_x, ppi_y;  ///< effective ppi along each axis where it could be measured
  std::optional<double> at_least;      ///< ppi: no enlargement found, at or above this
  std::string why;                     ///< how it was told, or why not
  double confidence = 0;               ///< 0 to 1
  bool drawn = false;  ///< no photograph: type, a logo or a screenshot, held to the limit of line art
};

/// What a check came to. Not assessed is never a pass.
struct Outcome {
  std::vector<Finding> findings;
  std::vector<ImageResolution> images;      ///< the resolution check only
  std::optional<std::string> not_assessed;  ///< why it could not be made; findings may still hold notes
};

}  // namespace frisket
