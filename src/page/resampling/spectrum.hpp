#pragma once

#include <vector>

#include "opencv.hpp"

namespace frisket {

/// How strongly the pixels of a picture repeat along x, by frequency. An enlarged picture bends more at some
/// phases of its grid than at others, so that second differences have a period of one picture pixel
/// (Mahdian, Saic, Blind authentication using periodic properties of interpolation, IEEE Trans. Information
/// Forensics and Security 3(3), 2008); a picture that was JPEG has one of eight.
struct PeriodSpectrum {
  std::vector<double>
      height;       ///< magnitude over the local median: about 1 where nothing repeats, > 3 for a peak
  int size = 0;     ///< points of the transform: element i is at i / size cycles a page pixel
  int columns = 0;  ///< that were measured

  /// Greatest height within a third of a resolution cell of `frequency` (any; folded into 0 to 1/2).
  double near(double frequency) const;
};

struct SpectrumPeak {
  double frequency = 0;  ///< cycles a page pixel, 0.03 to 0.5
  double height = 0;
};

/// The pitch of the JPEG block grid a picture brought along.
struct BlockGrid {
  double factor = 1;  ///< pitch / 8: the enlargement since, if the picture was JPEG at its own resolution
  double score = 0;   ///< mean log height over the harmonics; above 0.9 a clear grid
  double base = 1;    ///< the factor before finer teeth were added

  /// True where `other` would put its peak on a tooth of a clear grid that belongs to another factor.
  bool explains(double other) const;
};

/// A factor worth verifying, with the height of the peak that named it.
struct Candidate {
  double factor = 1;
  double height = 0;
};

inline constexpr double least_enlargement =
    1.04;  // nearer to 1 the grid drifts too slowly to be seen in 64 px
inline constexpr double most_enlargement = 9.0;

/// `luma`: 0 to 255, at least 64 columns.
PeriodSpectrum period_spectrum(const cv::Mat1f& luma);
/// The five highest peaks above 3.2, highest first.
std::vector<SpectrumPeak> highest_peaks(const PeriodSpectrum& spectrum);
/// Factors that peaks may stand for: a grid of factor s has a peak at 1/s and aliases of k/s folded below 1/2
/// (Gallagher, CRV 2005; Wei et al., ICCT 2008; both from memory). At most 13, highest peak first.
std::vector<Candidate> candidate_factors(const std::vector<SpectrumPeak>& peaks);
BlockGrid block_grid(const PeriodSpectrum& spectrum);

}  // namespace frisket
