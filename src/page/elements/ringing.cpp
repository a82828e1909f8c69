#include "page/elements/ringing.hpp"

#include <cstdint>
#include <vector>

namespace frisket {
namespace {

constexpr double reach_mm = 1.2;         // of ringing: a block of 8 px at 150 dpi and its neighbour's edge
constexpr double ground_reach_mm = 2.0;  // over which the ground is averaged
constexpr double least_contrast_share = 0.45, ink_share = 0.8;  // of the largest contrast nearby
constexpr int least_contrast = 12;
constexpr float one_colour = 40.0F;  // levels
constexpr float near_mean = 80.0F;
constexpr double one_colour_share = 0.7;

constexpr int band_rows = 256;  // worked on at a time: the sums need a dozen bytes a pixel

/// Contrast of each pixel that is not ground with the ground round it; 255 where there is none near. `first`
/// and `last` are the rows wanted; the others count as ground only.
cv::Mat1b contrast_in_band(const cv::Mat& rgb, const cv::Mat1b& ground, int first, int last, int reach) {
  cv::Mat weight, sum, masked;
  const cv::Size window(2 * reach + 1, 2 * reach + 1);
  rgb.copyTo(masked, ground);
  cv::boxFilter(masked, sum, CV_32F, window, {-1, -1}, false, cv::BORDER_CONSTANT);
  cv::boxFilter(ground, weight, CV_32F, window, {-1, -1}, false, cv::BORDER_CONSTANT);
  cv::Mat1b contrast(last - first, rgb.cols, std::uint8_t{0});
  for (int y = first; y < last; ++y)
    for (int x = 0; x < rgb.cols; ++x) {
      if (ground(y, x) != 0) continue;
      const float pixels = weight.at<float>(y, x) / 255.0F;
      contrast(y - first, x) =
          pixels < 1.0F ? 255
                        : cv::saturate_cast<std::uint8_t>(colour_step(cv::Vec3f(rgb.at<cv::Vec3b>(y, x)),
                                                                      sum.at<cv::Vec3f>(y, x) / pixels));
    }
  return contrast;
}

cv::Mat1b contrast_with_ground(const cv::Mat& rgb, const LabelMap& things, int reach) {
  cv::Mat1b contrast(rgb.size());
  for (int first = 0; first < rgb.rows; first += band_rows) {
    const int last = std::min(rgb.rows, first + band_rows);
    const int top = std::max(0, first - reach), bottom = std::min(rgb.rows, last + reach);
    cv::Mat1b ground(bottom - top, rgb.cols, std::uint8_t{255});
    for (int y = top; y < bottom; ++y)
      for (const Run& run : things.row(y))
        std::fill(ground[y - top] + run.begin, ground[y - top] + run.end, 0);
    contrast_in_band(rgb.rowRange(top, bottom), ground, first - top, last - top, reach)
        .copyTo(contrast.rowRange(first, last));
  }
  return contrast;
}

/// Colour of a thing's strongest pixels, and how many are close to it. Pixels of another colour, as of a star
/// in a badge, must not draw the mean away: it is taken again without them.
struct Ink {
  cv::Vec3d sum, near_sum;
  int pixels = 0, near = 0, close = 0;

  cv::Vec3f mean() const { return sum / std::max(1, pixels); }
  cv::Vec3f colour() const { return near > 0 ? cv::Vec3f(near_sum / near) : mean(); }
  bool is_one_colour() const { return close >= one_colour_share * pixels; }
};

}  // namespace

WithoutRinging take_off_ringing(const cv::Mat& rgb, const RunComponents& things, const Scale& scale) {
  const cv::Mat1b contrast = contrast_with_ground(rgb, things.label, scale.whole_px(ground_reach_mm));
  const int reach = scale.whole_px(reach_mm);
  cv::Mat1b peak;
  cv::dilate(contrast, peak, cv::getStructuringElement(cv::MORPH_RECT, {2 * reach + 1, 2 * reach + 1}));
  std::vector<Ink> inks(things.parts.size());
  const auto each_strong_pixel = [&](auto&& use) {
    for (int y = 0; y < rgb.rows; ++y)
      for (const Run& run : things.label.row(y))
        for (int x = run.begin; x < run.end; ++x)
          if (contrast(y, x) >= ink_share * peak(y, x))
            use(inks[static_cast<std::size_t>(run.label)], rgb.at<cv::Vec3b>(y, x));
  };
  each_strong_pixel([](Ink& ink, const cv::Vec3b& colour) { ink.sum += colour, ++ink.pixels; });
  each_strong_pixel([](Ink& ink, const cv::Vec3b& colour) {
    if (colour_step(cv::Vec3f(colour), ink.mean()) <= near_mean) ink.near_sum += colour, ++ink.near;
  });
  each_strong_pixel([](Ink& ink, const cv::Vec3b& colour) {
    ink.close += colour_step(cv::Vec3f(colour), ink.colour()) <= one_colour;
  });
  WithoutRinging found;
  for (const Ink& ink : inks) found.one_colour.push_back(ink.is_one_colour());
  found.left = LabelMap(rgb.size(), 0);
  std::vector<Run> row;
  for (int y = 0; y < rgb.rows; ++y) {
    row.clear();
    for (const Run& run : things.label.row(y))
      for (int x = run.begin; x < run.end && found.one_colour[static_cast<std::size_t>(run.label)]; ++x)
        if (contrast(y, x) >= std::max<double>(least_contrast, least_contrast_share * peak(y, x)))
          row.push_back({x, x + 1, 1});
    found.left.add_row(row);
  }
  return found;
}

}  // namespace frisket
