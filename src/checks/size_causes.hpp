#pragma once

#include <optional>
#include <string>

#include "frisket/job.hpp"

namespace frisket {

/// A canvas as the file has it.
struct FileCanvas {
  int width, height;  ///< pixels
  double dpi;         ///< that it is inspected at
  std::optional<double> file_dpi;

  Size size_at(double resolution) const {
    return {Length::from_inches(width / resolution), Length::from_inches(height / resolution)};
  }
  Size size() const { return size_at(dpi); }
};

/// Why a canvas is not the size the job asks for, and the remedy, each as sentences.
struct SizeCause {
  std::string what;    ///< "It is right at 150 dpi."
  std::string advice;  ///< "Export it again at 300 dpi; …"
};

/// The simplest true cause for a canvas that is neither trim nor trim with bleed; empty where none is known.
/// All are exact within max(0.5 mm, 1 px), and within 1 % of each side.
std::optional<SizeCause> size_cause(const FileCanvas& canvas, const Job& job);

/// Likewise where the canvas is larger than trim and bleed on both axes. A margin all round is no cause
/// there, as marks and slug text have one, nor is a name that nobody knows.
std::optional<SizeCause> larger_canvas_cause(const FileCanvas& canvas, const Job& job);

}  // namespace frisket
