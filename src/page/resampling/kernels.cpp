#include "page/resampling/kernels.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace frisket {
namespace {

double cubic(double t, double b, double c) {
  const double t2 = t * t, t3 = t2 * t;
  if (t < 1.0) return ((12 - 9 * b - 6 * c) * t3 + (-18 + 12 * b + 6 * c) * t2 + (6 - 2 * b)) / 6;
  if (t < 2.0)
    return ((-b - 6 * c) * t3 + (6 * b + 30 * c) * t2 + (-12 * b - 48 * c) * t + (8 * b + 24 * c)) / 6;
  return 0.0;
}

double sinc(double t) {
  const double angle = std::numbers::pi * t;
  return t < 1e-9 ? 1.0 : std::sin(angle) / angle;
}

double lanczos(double t, double lobes) { return t < lobes ? sinc(t) * sinc(t / lobes) : 0.0; }

}  // namespace

std::string_view kernel_name(Kernel kernel) {
  switch (kernel) {
    case Kernel::bilinear:
      return "bilinear";
    case Kernel::catmull_rom:
      return "Catmull-Rom";
    case Kernel::cubic:
      return "cubic";
    case Kernel::mitchell:
      return "Mitchell";
    case Kernel::lanczos3:
      return "Lanczos 3";
    case Kernel::lanczos4:
      return "Lanczos 4";
    case Kernel::area:
      return "area";
  }
  return "";
}

int kernel_reach(Kernel kernel) {
  switch (kernel) {
    case Kernel::bilinear:
    case Kernel::area:
      return 1;
    case Kernel::catmull_rom:
    case Kernel::cubic:
    case Kernel::mitchell:
      return 2;
    case Kernel::lanczos3:
      return 3;
    case Kernel::lanczos4:
      return 4;
  }
  return 0;
}

double kernel_weight(Kernel kernel, double t, double factor) {
  t = std::abs(t);
  switch (kernel) {
    case Kernel::bilinear:
      return std::max(0.0, 1.0 - t);
    case Kernel::catmull_rom:
      return cubic(t, 0.0, 0.5);
    case Kernel::cubic:
      return cubic(t, 0.0, 0.75);
    case Kernel::mitchell:
      return cubic(t, 1.0 / 3.0, 1.0 / 3.0);
    case Kernel::lanczos3:
      return lanczos(t, 3.0);
    case Kernel::lanczos4:
      return lanczos(t, 4.0);
    case Kernel::area:
      return std::clamp((0.5 + 0.5 / factor - t) * factor, 0.0, 1.0);
  }
  return 0.0;
}

}  // namespace frisket
