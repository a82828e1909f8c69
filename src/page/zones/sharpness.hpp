#pragma once

#include <array>

#include "page/zones/zones.hpp"

namespace frisket {

/// From a pixel to the four beside it.
inline const std::array<cv::Point, 4> four_ways{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}};

/// How many pixels outside a border the turn of colour may begin. Of a render it begins at once. On a lossy
/// page a zone of one colour ends a pixel or two before its shape does: ringing is strongest beside the edge
/// that it comes from, and differences of colour are kept at half the resolution (ITU-T T.81).
constexpr int latest_turn_px(bool lossy) { return lossy ? 2 : 0; }

/// Does the colour turn within two pixels, going from `at` along `way`, one of `four_ways`, and
/// beginning `latest` pixels on or before? Ink drawn on a picture does nearly all round; a picture's own
/// shapes are softer.
inline bool turns_sharply(const cv::Mat& rgb, cv::Point at, cv::Point way, int latest = 0) {
  constexpr int within = 2;  // pixels
  const int farthest = 4 + latest;
  constexpr int sharp_contrast = 24;          // levels
  constexpr double sharp_completeness = 0.7;  // of the largest difference up to the farthest
  const cv::Rect canvas({}, rgb.size());
  if (!canvas.contains(at + within * way)) return false;
  const cv::Vec3b here = rgb.at<cv::Vec3b>(at);
  int largest = 0, turn = 0;
  for (int step = 0; step <= farthest - within; ++step) {
    const cv::Point out = at + (step + within) * way;
    if (!canvas.contains(out)) break;
    const cv::Vec3b there = rgb.at<cv::Vec3b>(out);
    largest = std::max(largest, colour_step(here, there));
    if (step <= latest) turn = std::max(turn, colour_step(rgb.at<cv::Vec3b>(at + step * way), there));
    if (step == 0 && latest == 0 && turn < sharp_contrast) return false;
  }
  return turn >= sharp_contrast && turn >= sharp_completeness * largest;
}

/// Is what lies beside the border of a zone on a lossy page a speck of ringing in it: is the colour the same
/// again three or four pixels on?
inline bool is_beside_speck(const cv::Mat& rgb, cv::Point at, cv::Point way) {
  constexpr int same = 8;  // levels
  const cv::Rect canvas({}, rgb.size());
  for (int step = 3; step <= 4; ++step)
    if (const cv::Point out = at + step * way;
        canvas.contains(out) && colour_step(rgb.at<cv::Vec3b>(at), rgb.at<cv::Vec3b>(out)) <= same)
      return true;
  return false;
}

}  // namespace frisket
