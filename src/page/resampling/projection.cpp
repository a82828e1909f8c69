#include "page/resampling/projection.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace frisket {
namespace {

constexpr int strip_columns = 128, most_strips = 4;
constexpr int most_lags = 96;
constexpr double row_share = 0.15;  // of the rows, the busiest: the others hold little but rounding
constexpr int least_rows = 24;
constexpr double ridge = 1e-6;  // keeps pixels that barely enter a stretch out of the solution
// Of a vector of length 1; what rounding leaves outside of a space is a thousand times as much and more.
constexpr double negligible = 1e-8;

/// Columns of one stretch: enough for its space to be clearly smaller than it is, and to hold whole filters.
int stretch_for(double factor) { return factor < 1.15 ? 96 : factor < 1.6 ? 64 : factor < 4.0 ? 32 : 64; }

bool is_clipped(const float* row, int length) {
  return std::any_of(row, row + length, [](float value) { return value < 1.5F || value > 253.5F; });
}

double activity(const float* row, int length) {
  double sum = 0.0;
  for (int x = 1; x + 1 < length; ++x) sum += std::abs(row[x - 1] - 2.0F * row[x] + row[x + 1]);
  return sum;
}

/// The rows to use of one strip: the busiest, unclipped ones alone if there are enough of them.
std::vector<int> busiest_rows(const cv::Mat1f& strip) {
  std::vector<double> busy;
  std::vector<int> rows(static_cast<std::size_t>(strip.rows)), open;
  std::iota(rows.begin(), rows.end(), 0);
  for (const int y : rows) {
    busy.push_back(activity(strip.ptr<float>(y), strip.cols));
    if (!is_clipped(strip.ptr<float>(y), strip.cols)) open.push_back(y);
  }
  if (std::ssize(open) >= least_rows) rows.swap(open);
  const std::ptrdiff_t count = std::max<std::ptrdiff_t>(least_rows, std::lround(row_share * strip.rows));
  const auto last = rows.begin() + std::min(count, std::ssize(rows));
  std::ranges::partial_sort(rows, last, [&](int a, int b) {
    const double first = busy[static_cast<std::size_t>(a)], second = busy[static_cast<std::size_t>(b)];
    return first != second ? first > second : a < b;
  });
  rows.erase(last, rows.end());
  return rows;
}

Strip strip_at(const cv::Mat1f& luma, int column, int width) {
  const cv::Mat1f part = luma.colRange(column, column + width);
  const std::vector<int> rows = busiest_rows(part);
  const int lags = std::min(most_lags, width);
  Strip strip{column, static_cast<int>(rows.size()), cv::Mat1d(lags, width, 0.0)};
  std::vector<double> values(static_cast<std::size_t>(width));
  for (const int y : rows) {
    const float* row = part.ptr<float>(y);
    const double mean = std::accumulate(row, row + width, 0.0) / width;
    std::transform(row, row + width, values.begin(), [&](float value) { return value - mean; });
    for (int d = 0; d < lags; ++d) {
      double* sums = strip.sums.ptr<double>(d);
      const double *first = values.data(), *second = values.data() + d;
      for (int p = 0; p + d < width; ++p) sums[p] += first[p] * second[p];
    }
  }
  return strip;
}

/// A symmetric matrix by diagonals, the main one first: element (i, i + d) is at offset(d) + i.
int packed_size(int side) { return side * (side + 1) / 2; }

/// The covariances of all stretches, gathered by the phase of their first column.
struct Gathered {
  cv::Mat1d covariances;  ///< phase by packed matrix
  std::vector<double> rows;
};

Gathered gather(std::span<const Strip> strips, double factor, int stretch) {
  Gathered all{cv::Mat1d(fit_phases, packed_size(stretch), 0.0), std::vector<double>(fit_phases, 0.0)};
  const int stride = stretch > 32 ? 2 : 1;
  for (const Strip& strip : strips)
    for (int p = 0; p + stretch <= strip.sums.cols; p += stride) {
      const double at = (strip.column + p) / factor;
      const int phase = std::min(fit_phases - 1, static_cast<int>((at - std::floor(at)) * fit_phases));
      all.rows[static_cast<std::size_t>(phase)] += strip.rows;
      double* to = all.covariances.ptr<double>(phase);
      for (int d = 0; d < stretch; to += stretch - d, ++d) {
        const double* from = strip.sums.ptr<double>(d) + p;
        for (int i = 0; i < stretch - d; ++i) to[i] += from[i];
      }
    }
  return all;
}

/// The mixing weights of one guess: page pixel by picture pixel, few in each row.
class Mixing {
 public:
  /// Column x of the stretch lies `phase` + x / factor picture pixels beyond picture pixel 0.
  Mixing(Kernel kernel, double factor, int length, double phase)
      : length_(length), reach_(kernel_reach(kernel)) {
    first_ = -reach_;
    pixels_ = static_cast<int>(std::ceil(length / factor + phase)) + 2 * reach_ + 1;
    weights_.resize(static_cast<std::size_t>(length * width()));
    start_.resize(static_cast<std::size_t>(length));
    for (int x = 0; x < length; ++x) {
      const double at = x / factor + phase;
      const int from =
          std::clamp(static_cast<int>(std::floor(at)) - reach_ + 1, first_, first_ + pixels_ - width());
      double sum = 0.0;
      double* row = &weights_[static_cast<std::size_t>(x * width())];
      for (int k = 0; k < width(); ++k) sum += row[k] = kernel_weight(kernel, at - (from + k), factor);
      for (int k = 0; k < width(); ++k) row[k] /= std::max(sum, 1e-6);
      start_[static_cast<std::size_t>(x)] = from - first_;
    }
  }

  int width() const { return 2 * reach_; }
  int pixels() const { return pixels_; }
  int length() const { return length_; }
  int start(int x) const { return start_[static_cast<std::size_t>(x)]; }
  const double* weights(int x) const { return &weights_[static_cast<std::size_t>(x * width())]; }

 private:
  int length_, reach_, first_ = 0, pixels_ = 0;
  std::vector<double> weights_;
  std::vector<int> start_;
};

/// The Cholesky factor of the normal equations, banded: element (i, b) is L(i, i - b).
cv::Mat1d banded_factor(const Mixing& mixing) {
  const int band = mixing.width();
  cv::Mat1d lower(mixing.pixels(), band, 0.0);
  for (int x = 0; x < mixing.length(); ++x)
    for (int k = 0; k < band; ++k)
      for (int b = 0; b <= k; ++b)
        lower(mixing.start(x) + k, b) += mixing.weights(x)[k] * mixing.weights(x)[k - b];
  for (int i = 0; i < lower.rows; ++i) {
    lower(i, 0) += ridge;
    for (int b = std::min(band - 1, i); b >= 0; --b) {
      double sum = lower(i, b);
      for (int c = b + 1; c < band && c <= i; ++c) sum -= lower(i, c) * lower(i - b, c - b);
      lower(i, b) = b > 0 ? sum / lower(i - b, 0) : std::sqrt(sum);
    }
  }
  return lower;
}

/// L^-1 A^T: an orthonormal basis of the space, a vector a row.
cv::Mat1d basis_of(const Mixing& mixing) {
  const cv::Mat1d lower = banded_factor(mixing);
  cv::Mat1d basis(mixing.pixels(), mixing.length(), 0.0);
  for (int x = 0; x < mixing.length(); ++x)
    for (int k = 0; k < mixing.width(); ++k) basis(mixing.start(x) + k, x) = mixing.weights(x)[k];
  for (int i = 0; i < basis.rows; ++i) {
    double* row = basis.ptr<double>(i);
    for (int b = 1; b < lower.cols && b <= i; ++b) {
      const double weight = lower(i, b);
      const double* before = basis.ptr<double>(i - b);
      for (int x = 0; x < basis.cols; ++x) row[x] -= weight * before[x];
    }
    const double scale = 1.0 / lower(i, 0);
    for (int x = 0; x < basis.cols; ++x) row[x] *= scale;
  }
  return basis;
}

/// Where a vector of the basis is more than nothing: each fades away from the few pixels that it stands for.
cv::Range reach_of(const double* vector, int length) {
  cv::Range reach(0, length);
  while (reach.start < reach.end && std::abs(vector[reach.start]) <= negligible) ++reach.start;
  while (reach.start < reach.end && std::abs(vector[reach.end - 1]) <= negligible) --reach.end;
  return reach;
}

/// What takes a stretch's part outside of the space: identity less projection, packed, with the elements off
/// the main diagonal doubled, so that its product with a packed covariance is the energy left over.
void fill_rejection(const Mixing& mixing, double* to) {
  const cv::Mat1d basis = basis_of(mixing);
  const int length = mixing.length();
  std::fill_n(to, packed_size(length), 0.0);
  std::fill_n(to, length, 1.0);
  for (int k = 0; k < basis.rows; ++k) {
    const double* vector = basis.ptr<double>(k);
    const cv::Range reach = reach_of(vector, length);
    double* diagonal = to;
    for (int d = 0; d < reach.size(); diagonal += length - d, ++d) {
      const double times = d == 0 ? 1.0 : 2.0;
      for (int i = reach.start; i < reach.end - d; ++i) diagonal[i] -= times * vector[i] * vector[i + d];
    }
  }
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + std::ssize(values) / 2;
  std::ranges::nth_element(values, middle);
  return *middle;
}

/// What is outside of the space of one guess, for each phase of the grid.
struct Rejections {
  cv::Mat1d matrices;           ///< phase by packed matrix
  std::vector<double> freedom;  ///< dimensions that are left over
};

Rejections rejections_of(Kernel kernel, double factor, int stretch) {
  Rejections out{cv::Mat1d(fit_phases, packed_size(stretch)), {}};
  for (int phase = 0; phase < fit_phases; ++phase) {
    double* to = out.matrices.ptr<double>(phase);
    fill_rejection(Mixing(kernel, factor, stretch, (phase + 0.5) / fit_phases), to);
    out.freedom.push_back(std::max(0.5, std::accumulate(to, to + stretch, 0.0)));
  }
  return out;
}

std::vector<double> residuals_of(const Gathered& gathered, const Rejections& rejections) {
  cv::Mat1d energies;
  cv::gemm(rejections.matrices, gathered.covariances, 1.0, cv::noArray(), 0.0, energies, cv::GEMM_2_T);
  std::vector<double> residuals;
  for (int shift = 0; shift < fit_phases; ++shift) {
    double energy = 0.0, count = 0.0;
    for (int phase = 0; phase < fit_phases; ++phase) {
      const int shifted = (phase + shift) % fit_phases;
      energy += energies(shifted, phase);
      count += rejections.freedom[static_cast<std::size_t>(shifted)] *
               gathered.rows[static_cast<std::size_t>(phase)];
    }
    residuals.push_back(std::sqrt(std::max(energy, 0.0) / std::max(count, 1.0)));
  }
  return residuals;
}

Fit fit_of(const Gathered& gathered, const Rejections& rejections, Kernel kernel) {
  const std::vector<double> residuals = residuals_of(gathered, rejections);
  const double least = *std::ranges::min_element(residuals);
  return {least, least / (median(residuals) + 1e-6), kernel};
}

void keep_better(const Fit& fit, Fit& best) {
  if (fit.dip < best.dip) best = fit;
}

int stretch_for(std::span<const Strip> strips, double factor) {
  return std::min(stretch_for(factor), strips.front().sums.rows);
}

}  // namespace

std::vector<Strip> busiest_strips(const cv::Mat1f& luma) {
  const int width = std::min(strip_columns, luma.cols);
  const int count = std::min(most_strips, luma.cols / width);
  std::vector<Strip> strips;
  for (int i = 0; i < count; ++i) {
    const int column = count > 1 ? (luma.cols - width) * i / (count - 1) : (luma.cols - width) / 2;
    strips.push_back(strip_at(luma, column, width));
  }
  return strips;
}

std::vector<double> residuals_by_phase(std::span<const Strip> strips, Kernel kernel, double factor) {
  const int stretch = stretch_for(strips, factor);
  return residuals_of(gather(strips, factor, stretch), rejections_of(kernel, factor, stretch));
}

std::array<Fit, 2> best_fits(const std::array<std::span<const Strip>, 2>& axes, double factor,
                             std::span<const Kernel> kernels) {
  const int stretch = std::min(stretch_for(axes[0], factor), stretch_for(axes[1], factor));
  const std::array gathered{gather(axes[0], factor, stretch), gather(axes[1], factor, stretch)};
  std::array<Fit, 2> best;
  for (const Kernel kernel : kernels) {
    const Rejections rejections = rejections_of(kernel, factor, stretch);
    for (std::size_t i = 0; i < 2; ++i) keep_better(fit_of(gathered[i], rejections, kernel), best[i]);
  }
  return best;
}

}  // namespace frisket
