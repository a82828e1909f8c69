// Makes the demo's pictures. None of them is a photograph, none is kept in the repository.
#include <cstdio>
#include <exception>
#include <filesystem>
#include <string>
#include <vips/vips8>

#include "pictures/pictures.hpp"

namespace {

constexpr double kPpi = 300;

/// The picture's pixels at `ppi` as a JPEG without chroma subsampling.
void save(const cv::Mat& picture, double ppi, const std::filesystem::path& file) {
  const cv::Mat whole = picture.isContinuous() ? picture : picture.clone();
  vips::VImage image = vips::VImage::new_from_memory(whole.data, whole.total() * whole.elemSize(), whole.cols,
                                                     whole.rows, 3, VIPS_FORMAT_UCHAR);
  image = image.copy(vips::VImage::option()
                         ->set("interpretation", VIPS_INTERPRETATION_sRGB)
                         ->set("xres", ppi / 25.4)
                         ->set("yres", ppi / 25.4));
  image.jpegsave(file.c_str(),
                 vips::VImage::option()->set("Q", 95)->set("subsample_mode", VIPS_FOREIGN_SUBSAMPLE_OFF));
}

/// The same picture with too few pixels: each is the average of the area it covers.
cv::Mat at_ppi(const cv::Mat& picture, double ppi) {
  cv::Mat small;
  cv::resize(picture, small, {}, ppi / kPpi, ppi / kPpi, cv::INTER_AREA);
  return small;
}

void make_all(const std::filesystem::path& folder) {
  std::filesystem::create_directories(folder);
  save(pictures::estuary({1144, 2625}), kPpi, folder / "estuary.jpg");
  save(pictures::still_life({2250, 1000}), kPpi, folder / "still-life.jpg");
  save(pictures::tea_bowl({450, 525}), kPpi, folder / "tea-bowl.jpg");
  save(pictures::crackle({450, 450}), kPpi, folder / "crackle.jpg");
  const cv::Mat planks = pictures::planks({450, 450});
  save(planks, kPpi, folder / "planks.jpg");
  save(at_ppi(planks, 96), 96, folder / "planks-96ppi.jpg");
}

}  // namespace

int main(int count, char** words) try {
  if (VIPS_INIT(words[0]) != 0) throw std::runtime_error("libvips did not start");
  if (count != 2) throw std::runtime_error("usage: picture_maker FOLDER");
  cv::setNumThreads(1);
  make_all(words[1]);
  vips_shutdown();
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "picture_maker: %s\n", error.what());
  return 1;
}
