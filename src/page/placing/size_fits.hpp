#pragma once

#include <optional>

#include "frisket/job.hpp"

namespace frisket {

/// The trim with its bleed.
Size full_size(const Job& job);
/// The same size lying the other way.
Size turned(const Size& size);
Size scaled(const Size& size, double factor);

/// True where a canvas of `found` at `dpi` is what was `wanted`: within max(0.5 mm, 1 px), but for small
/// sizes within max(1 %, 1 px), so that a stamp is not taken for another.
bool close(const Size& found, const Size& wanted, double dpi);
/// True where `found` is the trim, or the trim with its bleed.
bool fits(const Size& found, const Job& job, double dpi);

/// The usual resolution, other than `dpi`, at which a canvas of so many pixels fits the job.
std::optional<double> other_fitting_dpi(int width, int height, double dpi, const Job& job);

/// What lies round the trim where that is as much on both axes.
std::optional<Length> even_margin(const Size& found, const Job& job, double dpi);

}  // namespace frisket
