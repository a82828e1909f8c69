#include "page/ringing.hpp"

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

/// Contrast of each pixel that is not ground with the ground round it; 255 where there is none near.
cv::Mat1b contrast_with_ground(const cv::Mat& rgb, const cv::Mat1b& mask, int reach) {
  cv::Mat1b ground;
  cv::compare(mask, 0, ground, cv::CMP_EQ);
  cv::Mat weight, sum, masked;
  const cv::Size window(2 * reach + 1, 2 * reach + 1);
  rgb.copyTo(masked, ground);
  cv::boxFilter(masked, sum, CV_32F, window, {-1, -1}, false, cv::BORDER_CONSTANT);
  cv::boxFilter(ground, weight, CV_32F, window, {-1, -1}, false, cv::BORDER_CONSTANT);
  cv::Mat1b contrast(mask.size(), std::uint8_t{0});
  for (int y = 0; y < mask.rows; ++y)
    for (int x = 0; x < mask.cols; ++x) {
      if (mask(y, x) == 0) continue;
      const float pixels = weight.at<float>(y, x) / 255.0F;
      contrast(y, x) = pixels < 1.0F
                           ? 255
                           : cv::saturate_cast<std::uint8_t>(colour_step(cv::Vec3f(rgb.at<cv::Vec3b>(y, x)),
                                                                         sum.at<cv::Vec3f>(y, x) / pixels));
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

cv::Mat1b take_off_ringing(const cv::Mat& rgb, cv::Mat1b& mask, const Scale& scale) {
  const cv::Mat1b contrast = contrast_with_ground(rgb, mask, scale.whole_px(ground_reach_mm));
  const int reach = scale.whole_px(reach_mm);
  cv::Mat1b peak;
  cv::dilate(contrast, peak, cv::getStructuringElement(cv::MORPH_RECT, {2 * reach + 1, 2 * reach + 1}));
  cv::Mat1i thing;
  const int count = cv::connectedComponents(mask, thing, 8, CV_32S);
  std::vector<Ink> inks(static_cast<std::size_t>(count));
  const auto each_strong_pixel = [&](auto&& use) {
    for (int y = 0; y < mask.rows; ++y)
      for (int x = 0; x < mask.cols; ++x)
        if (mask(y, x) != 0 && contrast(y, x) >= ink_share * peak(y, x))
          use(inks[static_cast<std::size_t>(thing(y, x))], rgb.at<cv::Vec3b>(y, x));
  };
  each_strong_pixel([](Ink& ink, const cv::Vec3b& colour) { ink.sum += colour, ++ink.pixels; });
  each_strong_pixel([](Ink& ink, const cv::Vec3b& colour) {
    if (colour_step(cv::Vec3f(colour), ink.mean()) <= near_mean) ink.near_sum += colour, ++ink.near;
  });
  each_strong_pixel([](Ink& ink, const cv::Vec3b& colour) {
    ink.close += colour_step(cv::Vec3f(colour), ink.colour()) <= one_colour;
  });
  cv::Mat1b left(mask.size(), std::uint8_t{0});
  for (int y = 0; y < mask.rows; ++y)
    for (int x = 0; x < mask.cols; ++x) {
      if (mask(y, x) == 0 || !inks[static_cast<std::size_t>(thing(y, x))].is_one_colour()) continue;
      const bool ink = contrast(y, x) >= std::max<double>(least_contrast, least_contrast_share * peak(y, x));
      (ink ? left : mask)(y, x) = ink ? 255 : 0;
    }
  return left;
}

}  // namespace frisket
