#pragma once

// Pictures with the statistics of a photograph, for the tests: noise at all scales with the 1/f fall-off of
// natural scenes (Field, Relations between the statistics of natural images and the response properties of
// cortical cells, J. Optical Society of America A 4(12), 1987), shaped by Gaussian filters, which leave no
// grid of their own as interpolated noise would, and grain on top.
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vips/vips8>

namespace frisket::planted {

/// Grey scene of the given size, levels about 0 to 255 before rounding.
inline cv::Mat1f scene(int width, int height, cv::RNG& random) {
  cv::Mat1f sum(height, width, 118.0F);
  for (double sigma = 0.5; sigma <= 64.0; sigma *= 2.0) {
    cv::Mat1f noise(height, width);
    random.fill(noise, cv::RNG::NORMAL, 0.0, 1.0);
    cv::GaussianBlur(noise, noise, cv::Size(), sigma);
    cv::Scalar mean, deviation;
    cv::meanStdDev(noise, mean, deviation);
    noise -= mean[0];  // a wide filter leaves one
    sum += noise * ((4.0 + 3.2 * std::sqrt(sigma)) / deviation[0]);
  }
  return sum;
}

/// CV_8UC3, R G B: a scene with colour and a little grain, the same for the same seed.
inline cv::Mat photograph(int width, int height, unsigned seed) {
  cv::RNG random(seed * 7919U + 17U);
  const cv::Mat1f luminance = scene(width, height, random);
  std::vector<cv::Mat> channels;
  for (int band = 0; band < 3; ++band) {
    cv::Mat1f grain(height, width);
    random.fill(grain, cv::RNG::NORMAL, 0.0, 1.5);
    cv::Mat1f tint(height, width);
    random.fill(tint, cv::RNG::NORMAL, 0.0, 60.0);
    cv::GaussianBlur(tint, tint, cv::Size(), 6);
    cv::Mat channel;
    cv::Mat(luminance + grain + tint).convertTo(channel, CV_8U);
    channels.push_back(channel);
  }
  cv::Mat rgb;
  cv::merge(channels, rgb);
  return rgb;
}

/// The picture as a PNG in a data URI, for an SVG image.
inline std::string png_uri(const cv::Mat& rgb) {
  const cv::Mat whole = rgb.isContinuous() ? rgb : rgb.clone();
  const vips::VImage image = vips::VImage::new_from_memory(whole.data, whole.total() * whole.elemSize(),
                                                           whole.cols, whole.rows, 3, VIPS_FORMAT_UCHAR);
  VipsBlob* blob = image.pngsave_buffer(vips::VImage::option()->set("compression", 1));
  gchar* encoded =
      g_base64_encode(static_cast<const guchar*>(VIPS_AREA(blob)->data), VIPS_AREA(blob)->length);
  const std::string uri = std::string("data:image/png;base64,") + encoded;
  g_free(encoded);
  vips_area_unref(VIPS_AREA(blob));
  return uri;
}

}  // namespace frisket::planted
