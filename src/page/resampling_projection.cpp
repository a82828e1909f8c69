#include "page/resampling_projection.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace frisket {
namespace {

constexpr double row_share = 0.15;  // of the rows, the busiest: the others hold little but rounding
constexpr int least_rows = 24;
constexpr double ridge = 1e-6;  // keeps pixels that barely enter the window out of the solution
constexpr double drift = 1.3;   // picture pixels by which the neighbouring factors differ over the window

/// Sum of |second difference| along each row from every `stride`-th column on, `length` columns long.
cv::Mat1f activity(const cv::Mat1f& luma, int length, int stride) {
  const int positions = (luma.cols - length) / stride + 1;
  cv::Mat1f sums(positions, luma.rows);
  std::vector<float> running(static_cast<std::size_t>(luma.cols) + 1, 0.0F);
  for (int y = 0; y < luma.rows; ++y) {
    const float* row = luma.ptr<float>(y);
    for (int x = 1; x + 1 < luma.cols; ++x) {
      const std::size_t i = static_cast<std::size_t>(x);
      running[i + 1] = running[i] + std::abs(row[x - 1] - 2.0F * row[x] + row[x + 1]);
    }
    for (int p = 0; p < positions; ++p) {
      const std::size_t from = static_cast<std::size_t>(p * stride);
      sums(p, y) = running[from + static_cast<std::size_t>(length) - 1] - running[from + 1];
    }
  }
  return sums;
}

bool is_clipped(const float* row, int length) {
  return std::any_of(row, row + length, [](float value) { return value < 1.5F || value > 253.5F; });
}

/// The rows to use of one window: the busiest, unclipped ones first if there are enough of them.
std::vector<int> busiest_rows(const cv::Mat1f& luma, int column, int length, const float* sums, int count) {
  std::vector<int> rows(static_cast<std::size_t>(luma.rows)), open;
  std::iota(rows.begin(), rows.end(), 0);
  for (const int y : rows)
    if (!is_clipped(luma.ptr<float>(y) + column, length)) open.push_back(y);
  if (std::ssize(open) >= least_rows) rows.swap(open);
  const auto last = rows.begin() + std::min<std::ptrdiff_t>(count, std::ssize(rows));
  std::ranges::partial_sort(rows, last,
                            [&](int a, int b) { return sums[a] != sums[b] ? sums[a] > sums[b] : a < b; });
  rows.erase(last, rows.end());
  return rows;
}

RowWindow window_at(const cv::Mat1f& luma, int column, int length, const std::vector<int>& rows) {
  cv::Mat1d values(static_cast<int>(rows.size()), length);
  for (int i = 0; i < values.rows; ++i) {
    const float* row = luma.ptr<float>(rows[static_cast<std::size_t>(i)]) + column;
    const double mean = std::accumulate(row, row + length, 0.0) / length;
    for (int x = 0; x < length; ++x) values(i, x) = row[x] - mean;
  }
  RowWindow window;
  cv::mulTransposed(values, window.covariance, true);
  window.rows = values.rows;
  return window;
}

/// The mixing weights of one guess: page pixel by picture pixel, few in each row.
class Mixing {
 public:
  Mixing(Kernel kernel, double factor, int length, double phase)
      : length_(length), reach_(kernel_reach(kernel)) {
    first_ = -reach_;
    pixels_ = static_cast<int>(std::ceil(length / factor)) + 2 * reach_ + 1;
    weights_.resize(static_cast<std::size_t>(length * width()));
    start_.resize(static_cast<std::size_t>(length));
    for (int x = 0; x < length; ++x) {
      const double at = x / factor - phase;  // in picture pixels
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

/// Projection on the space of one guess, by the banded Cholesky factor of its normal equations.
class Projection {
 public:
  Projection(Kernel kernel, double factor, int length, double phase)
      : mixing_(kernel, factor, length, phase), band_(mixing_.width()), lower_(mixing_.pixels(), band_, 0.0) {
    factorise();
    rank_ = mixing_.pixels() - ridge * inverse_trace();
  }

  double rank() const { return rank_; }

  /// The energy of the window that the space holds: trace of P C.
  double explained(const cv::Mat1d& covariance) {
    const int n = mixing_.pixels(), width = mixing_.width();
    half_.create(n, mixing_.length());
    half_.setTo(0.0);
    for (int x = 0; x < mixing_.length(); ++x)
      for (int k = 0; k < width; ++k)
        add_row(half_.ptr<double>(mixing_.start(x) + k), covariance.ptr<double>(x), mixing_.weights(x)[k],
                mixing_.length());
    solve(half_);  // L^-1 A^T C
    mixed_.create(n, n);
    mixed_.setTo(0.0);
    cv::transpose(half_, half_turned_);
    for (int x = 0; x < mixing_.length(); ++x)
      for (int k = 0; k < width; ++k)
        add_row(mixed_.ptr<double>(mixing_.start(x) + k), half_turned_.ptr<double>(x), mixing_.weights(x)[k],
                n);
    solve(mixed_);  // L^-1 A^T C A L^-T
    double trace = 0.0;
    for (int i = 0; i < n; ++i) trace += mixed_(i, i);
    return trace;
  }

 private:
  static void add_row(double* to, const double* from, double weight, int count) {
    if (weight == 0.0) return;
    for (int i = 0; i < count; ++i) to[i] += weight * from[i];
  }

  /// lower_(i, b) is L(i, i - b).
  void factorise() {
    for (int x = 0; x < mixing_.length(); ++x)
      for (int k = 0; k < mixing_.width(); ++k)
        for (int b = 0; b <= k; ++b)
          lower_(mixing_.start(x) + k, b) += mixing_.weights(x)[k] * mixing_.weights(x)[k - b];
    for (int i = 0; i < lower_.rows; ++i) {
      lower_(i, 0) += ridge;
      for (int b = std::min(band_ - 1, i); b >= 0; --b) {
        double sum = lower_(i, b);
        for (int c = b + 1; c < band_ && c <= i; ++c) sum -= lower_(i, c) * lower_(i - b, c - b);
        lower_(i, b) = b > 0 ? sum / lower_(i - b, 0) : std::sqrt(sum);
      }
    }
  }

  /// rows := L^-1 rows.
  void solve(cv::Mat1d& rows) const {
    for (int i = 0; i < rows.rows; ++i) {
      double* row = rows.ptr<double>(i);
      for (int b = 1; b < band_ && b <= i; ++b)
        add_row(row, rows.ptr<double>(i - b), -lower_(i, b), rows.cols);
      const double scale = 1.0 / lower_(i, 0);
      for (int x = 0; x < rows.cols; ++x) row[x] *= scale;
    }
  }

  /// Trace of (A^T A + ridge)^-1.
  double inverse_trace() const {
    cv::Mat1d identity(lower_.rows, lower_.rows, 0.0);
    for (int i = 0; i < identity.rows; ++i) identity(i, i) = 1.0;
    solve(identity);
    return identity.dot(identity);
  }

  Mixing mixing_;
  int band_;
  cv::Mat1d lower_;
  double rank_ = 0.0;
  cv::Mat1d half_, half_turned_, mixed_;
};

/// Root mean square left over in each window at one phase (a share of a picture pixel).
std::vector<double> residuals_at(std::span<const RowWindow> windows, Kernel kernel, double factor,
                                 double phase) {
  const int length = windows.front().covariance.rows;
  Projection projection(kernel, factor, length, phase);
  std::vector<double> left;
  for (const RowWindow& window : windows) {
    const double energy = cv::trace(window.covariance)[0] - projection.explained(window.covariance);
    left.push_back(
        std::sqrt(std::max(energy, 0.0) / (window.rows * std::max(length - projection.rank(), 1.0))));
  }
  return left;
}

/// The least residual of one window near `phase`, halving the step between phases three times.
double refined(const RowWindow& window, Kernel kernel, double factor, double phase, double step,
               double best) {
  for (int round = 0; round < 3; ++round) {
    step /= 2.0;
    double next = phase;
    for (const double candidate : {phase - step, phase + step}) {
      const double turned = candidate - std::floor(candidate);
      const double left = residuals_at({&window, 1}, kernel, factor, turned).front();
      if (left < best) best = left, next = turned;
    }
    phase = next;
  }
  return best;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + std::ssize(values) / 2;
  std::ranges::nth_element(values, middle);
  return *middle;
}

}  // namespace

std::vector<RowWindow> busiest_windows(const cv::Mat1f& luma, int length, int count) {
  if (luma.cols < length || luma.rows < 1) return {};
  const int stride = length / 4;
  const cv::Mat1f sums = activity(luma, length, stride);
  const int rows =
      std::clamp(static_cast<int>(row_share * luma.rows), std::min(least_rows, luma.rows), luma.rows);
  std::vector<double> scores;
  for (int p = 0; p < sums.rows; ++p) {
    std::vector<float> sorted(sums.ptr<float>(p), sums.ptr<float>(p) + sums.cols);
    std::ranges::nth_element(sorted, sorted.begin() + rows - 1, std::greater{});
    scores.push_back(std::accumulate(sorted.begin(), sorted.begin() + rows, 0.0));
  }
  std::vector<RowWindow> windows;
  while (std::ssize(windows) < count) {
    const auto best = std::ranges::max_element(scores);
    if (*best <= 0.0) break;
    const int p = static_cast<int>(best - scores.begin());
    const int column = p * stride;
    windows.push_back(
        window_at(luma, column, length, busiest_rows(luma, column, length, sums.ptr<float>(p), rows)));
    for (int k = std::max(0, p - 2); k <= std::min(static_cast<int>(scores.size()) - 1, p + 2); ++k)
      scores[static_cast<std::size_t>(k)] = -1.0;
  }
  return windows;
}

double projection_residual(std::span<const RowWindow> windows, Kernel kernel, double factor, bool refine) {
  const int phases = std::max(6, static_cast<int>(std::ceil(1.5 * factor)));
  std::vector<double> best(windows.size(), 1e9), phase(windows.size(), 0.0);
  for (int p = 0; p < phases; ++p) {
    const double at = p / static_cast<double>(phases);
    const std::vector<double> left = residuals_at(windows, kernel, factor, at);
    for (std::size_t w = 0; w < left.size(); ++w)
      if (left[w] < best[w]) best[w] = left[w], phase[w] = at;
  }
  for (std::size_t w = 0; refine && w < windows.size(); ++w)
    best[w] = refined(windows[w], kernel, factor, phase[w], 1.0 / phases, best[w]);
  return median(best);
}

Fit best_fit(std::span<const RowWindow> windows, double factor, std::span<const Kernel> kernels) {
  Fit best;
  if (windows.empty()) return best;
  const double apart = drift * factor / windows.front().covariance.rows;
  for (const Kernel kernel : kernels) {
    double beside = projection_residual(windows, kernel, factor * (1 + apart), false);
    if (factor * (1 - apart) > 1.01)
      beside = std::min(beside, projection_residual(windows, kernel, factor * (1 - apart), false));
    double residual = projection_residual(windows, kernel, factor, false);
    if (residual < 1.3 * beside) residual = projection_residual(windows, kernel, factor, true);
    const double dip = residual / (beside + 1e-6);
    if (dip < best.dip) best = {residual, dip, kernel};
  }
  return best;
}

}  // namespace frisket
