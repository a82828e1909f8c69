#include "page/pictures/pictures.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <tuple>

#include "page/grounds/smooth_ground.hpp"
#include "page/grounds/tints.hpp"
#include "page/pictures/picture_outline.hpp"
#include "page/pictures/picture_seams.hpp"

namespace frisket {
namespace {

constexpr double least_side_mm = 8.0;   // smaller pictures are logos and icons, and too small to measure
constexpr int least_blocks = 8;         // textured blocks that make a picture, of about 25 in one of 8 mm
constexpr double least_texture = 0.04;  // share of a picture that is textured: the rest may be sky
constexpr int soft_across = 9;          // blocks: of what is looked at for a picture out of focus
constexpr double least_restless = 0.4;  // of them; ridges of gradients stay below 0.3
constexpr double least_soft = 0.18;  // restless share of a soft picture; of gradients 0.08, with shadows too
constexpr double most_lettered = 0.42;  // of its blocks; photographs stay below 0.34, type begins at 0.5

/// Blocks of a picture: the texture without specks and single-file lines of blocks (edges of drawn shapes).
cv::Mat1b cores(const cv::Mat1b& textured) {
  const cv::Mat square = cv::Mat::ones(3, 3, CV_8U);
  cv::Mat1b core;
  cv::morphologyEx(textured, core, cv::MORPH_OPEN, square, cv::Point(-1, -1), 1, cv::BORDER_CONSTANT, 0);
  cv::dilate(core, core, square);
  cv::bitwise_and(core, textured, core);
  return core;
}

/// Where restless blocks crowd: each alone may lie on the ridge of a gradient. Eroded, for they are counted
/// from just outside too.
cv::Mat1b soft_cores(const cv::Mat1b& restless) {
  cv::Mat1b crowded;
  cv::boxFilter(restless, crowded, -1, {soft_across, soft_across}, {-1, -1}, true, cv::BORDER_CONSTANT);
  cv::erode(crowded >= 255 * least_restless, crowded, cv::Mat::ones(3, 3, CV_8U));
  return crowded;
}

/// The connected parts of a mask of blocks, in pixels, the largest first.
std::vector<cv::Rect> boxes_of(const cv::Mat1b& mask, int block) {
  cv::Mat labels, statistics, centres;
  const int count = cv::connectedComponentsWithStats(mask, labels, statistics, centres, 8, CV_32S);
  std::vector<cv::Rect> boxes;
  for (int i = 1; i < count; ++i) {
    const int* row = statistics.ptr<int>(i);
    if (row[cv::CC_STAT_AREA] >= least_blocks)
      boxes.emplace_back(block * row[cv::CC_STAT_LEFT], block * row[cv::CC_STAT_TOP],
                         block * row[cv::CC_STAT_WIDTH], block * row[cv::CC_STAT_HEIGHT]);
  }
  std::ranges::stable_sort(boxes, std::greater{}, [](const cv::Rect& box) { return box.area(); });
  return boxes;
}

/// Where pictures surely are, those with texture first.
std::vector<cv::Rect> core_boxes(const TextureMap& texture) {
  std::vector<cv::Rect> boxes = boxes_of(cores(texture.textured), texture.block);
  std::ranges::copy(boxes_of(soft_cores(texture.restless), texture.block), std::back_inserter(boxes));
  return boxes;
}

/// Share of the blocks in `box` that are set in `mask`.
double share(const cv::Mat1b& mask, int block, const cv::Rect& box) {
  const cv::Rect blocks = cv::Rect(box.x / block, box.y / block, box.width / block, box.height / block) &
                          cv::Rect(0, 0, mask.cols, mask.rows);
  return blocks.empty() ? 0.0 : cv::countNonZero(mask(blocks)) / static_cast<double>(blocks.area());
}

/// True for type and line art on a smooth ground.
bool is_lettered(const TextureMap& texture, const cv::Rect& box) {
  return share(texture.lettered, texture.block, box) >= most_lettered;
}

/// True for what holds some texture or is restless, and not mostly type.
bool is_photographic(const TextureMap& texture, const cv::Rect& box) {
  return (share(texture.textured, texture.block, box) >= least_texture ||
          share(texture.restless, texture.block, box) >= least_soft) &&
         !is_lettered(texture, box);
}

/// Cores of one picture grow to the same edges: keep one box for those that cover each other.
std::vector<cv::Rect> without_doubles(std::vector<cv::Rect> boxes) {
  std::ranges::stable_sort(boxes, std::greater{}, [](const cv::Rect& box) { return box.area(); });
  std::vector<cv::Rect> kept;
  for (const cv::Rect& box : boxes) {
    const bool inside = std::ranges::any_of(
        kept, [&](const cv::Rect& other) { return 2 * (other & box).area() > box.area(); });
    if (!inside) kept.push_back(box);
  }
  return kept;
}

}  // namespace

std::vector<PictureRegion> find_pictures(const cv::Mat& rgb, const TextureMap& texture, double dpi) {
  if (texture.textured.empty()) return {};
  const std::vector<cv::Rect> cores = core_boxes(texture);
  if (cores.empty()) return {};
  cv::Mat1b green, page;
  cv::extractChannel(rgb, green, 1);  // rounded once: a mix of channels makes gradients rough
  cv::cvtColor(rgb, page, cv::COLOR_RGB2GRAY);
  const int least_side = static_cast<int>(std::floor(least_side_mm / 25.4 * dpi));
  SmoothGround ground(green, texture.block);
  const PictureOutline outline(ground, page);

  std::vector<cv::Rect> grown, boxes;
  for (const cv::Rect& core : cores) {
    if (std::ranges::any_of(grown, [&](const cv::Rect& other) { return (other & core) == core; })) continue;
    const cv::Rect box = outline.round(core);
    if (is_photographic(texture, box)) grown.push_back(box);
  }
  for (const cv::Rect& box : without_doubles(grown))
    std::ranges::copy(parted_at_seams(page, box, texture.block, least_side), std::back_inserter(boxes));

  std::vector<PictureRegion> pictures;
  for (const cv::Rect& box : boxes)  // type that touches a picture is parted from it only now
    if (std::min(box.width, box.height) >= least_side && !is_lettered(texture, box) && !is_tint(rgb(box)))
      pictures.push_back({box});
  std::ranges::sort(pictures, {}, [](const PictureRegion& picture) {
    return std::tuple(picture.box.y, picture.box.x, picture.box.width, picture.box.height);
  });
  return pictures;
}

std::vector<PictureRegion> find_pictures(const cv::Mat& rgb, double dpi) {
  if (rgb.empty()) return {};
  return find_pictures(rgb, TextureMapper(rgb, dpi).finish(), dpi);
}

}  // namespace frisket
