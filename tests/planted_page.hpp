#pragma once

// Pages drawn for the tests: SVG in millimetres of job space, rendered by librsvg, so that the truth is in
// the numbers drawn and the drawing is done by code that is not ours.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <iomanip>
#include <random>
#include <sstream>
#include <string>
#include <vips/vips8>

#include "frisket/check.hpp"
#include "frisket/inspect.hpp"

namespace frisket::planted {

/// The job of most tests: 11 x 8.5 in, letter fold, 1/8 in bleed, 1/4 in safe, 1/8 in clear of folds.
inline Job letter_fold_job() {
  Job job;
  job.name = "planted";
  job.unit = Unit::inch;
  job.trim = {Length::from_inches(11), Length::from_inches(8.5)};
  job.finished = {Length::from_inches(3.6875), Length::from_inches(8.5)};
  job.bleed = Edges::all(Length::from_inches(0.125));
  job.safe = Edges::all(Length::from_inches(0.25));
  job.folded = true;
  job.dpi = 300;
  job.limits = Limits::standard(all_limits());
  for (const LimitSpec& spec : all_limits())
    if (spec.key == "fold_safe") job.limits.set(spec, Length::from_inches(0.125), LimitSource::ticket);
  // Published worked example: 3.6875 + 3.6875 + 3.625; inside folds 3.6875, 7.375; outside 3.625, 7.3125.
  const auto layout = [&](std::vector<double> folds) {
    SideLayout side;
    Length from;
    for (const double fold : folds) side.folds.push_back(Length::from_inches(fold));
    for (std::size_t i = 0; i <= folds.size(); ++i) {
      const Length to = i < folds.size() ? side.folds[i] : job.trim.width;
      side.panels.push_back(
          {"panel " + std::to_string(i + 1), Rect::from_sides(from, Length(), to, job.trim.height)});
      from = to;
    }
    return side;
  };
  job.inside = layout({3.6875, 7.375});
  job.outside = layout({3.625, 7.3125});
  return job;
}

inline std::string number(double v) {
  std::ostringstream text;
  text << std::setprecision(10) << v;
  return text.str();
}

inline std::string rect(double x, double y, double w, double h, const std::string& fill) {
  return "<rect x='" + number(x) + "' y='" + number(y) + "' width='" + number(w) + "' height='" + number(h) +
         "' fill='" + fill + "'/>";
}

inline std::string text(double x, double y, double points, const std::string& words,
                        const std::string& more = "fill='black'") {
  return "<text x='" + number(x) + "' y='" + number(y) + "' font-family='DejaVu Sans' font-size='" +
         number(points * 25.4 / 72.0) + "' " + more + ">" + words + "</text>";
}

/// A picture with the texture of a photograph: octaves of smooth noise and grain, from a seed.
inline std::string photograph_png(int width, int height, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<float> level(static_cast<std::size_t>(width) * height * 3, 110.0F);
  for (int cell = 128; cell >= 1; cell /= 2) {
    const int columns = width / cell + 3, rows = height / cell + 3;
    for (int band = 0; band < 3; ++band) {
      std::vector<float> grid(static_cast<std::size_t>(columns) * rows);
      for (float& g : grid)
        g = (static_cast<float>(random() % 2001) / 1000.0F - 1.0F) *
            (4.0F + 26.0F * std::sqrt(static_cast<float>(cell) / 128.0F));
      for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
          const float fx = static_cast<float>(x) / static_cast<float>(cell),
                      fy = static_cast<float>(y) / static_cast<float>(cell);
          const int ix = static_cast<int>(fx), iy = static_cast<int>(fy);
          const float u = fx - static_cast<float>(ix), v = fy - static_cast<float>(iy);
          const float* g = &grid[static_cast<std::size_t>(iy) * columns + ix];
          level[(static_cast<std::size_t>(y) * width + x) * 3 + band] +=
              (g[0] * (1 - u) + g[1] * u) * (1 - v) + (g[columns] * (1 - u) + g[columns + 1] * u) * v;
        }
    }
  }
  std::vector<std::uint8_t> bytes(level.size());
  for (std::size_t i = 0; i < level.size(); ++i)
    bytes[i] = static_cast<std::uint8_t>(std::clamp(level[i], 0.0F, 255.0F));
  const vips::VImage image =
      vips::VImage::new_from_memory(bytes.data(), bytes.size(), width, height, 3, VIPS_FORMAT_UCHAR);
  VipsBlob* blob = image.pngsave_buffer(vips::VImage::option()->set("compression", 1));
  gchar* encoded =
      g_base64_encode(static_cast<const guchar*>(VIPS_AREA(blob)->data), VIPS_AREA(blob)->length);
  std::string uri = std::string("data:image/png;base64,") + encoded;
  g_free(encoded);
  vips_area_unref(VIPS_AREA(blob));
  return uri;
}

/// An image over a box; pixels of the picture are stretched over it by the renderer.
inline std::string image(double x, double y, double w, double h, const std::string& uri) {
  return "<image x='" + number(x) + "' y='" + number(y) + "' width='" + number(w) + "' height='" + number(h) +
         "' preserveAspectRatio='none' xlink:href='" + uri + "'/>";
}

/// A canvas in job space: from (x, y), of a size, all in mm.
struct Canvas {
  double x = -3.175, y = -3.175, width = 285.75, height = 222.25;
};

inline PixelBytes pixels_of(const vips::VImage& image) {
  std::size_t size = 0;
  void* memory = image.write_to_memory(&size);
  const auto* bytes = static_cast<const std::uint8_t*>(memory);
  PixelBytes pixels(bytes, bytes + size);
  g_free(memory);
  return pixels;
}

inline Raster render(const std::string& drawing, double dpi = 300, const Canvas& canvas = {}) {
  const std::string svg =
      "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='" +
      number(canvas.width) + "mm' height='" + number(canvas.height) + "mm' viewBox='" + number(canvas.x) +
      " " + number(canvas.y) + " " + number(canvas.width) + " " + number(canvas.height) + "'>" + drawing +
      "</svg>";
  VipsBlob* blob = vips_blob_copy(svg.data(), svg.size());
  vips::VImage page =
      vips::VImage::svgload_buffer(blob, vips::VImage::option()->set("dpi", dpi)->set("unlimited", true));
  vips_area_unref(VIPS_AREA(blob));
  page = page.flatten(vips::VImage::option()->set("background", std::vector<double>{255, 255, 255}));
  Raster raster;
  raster.width = page.width();
  raster.height = page.height();
  raster.format = "PNG";
  raster.file_dpi = dpi;
  raster.rgb = pixels_of(page);
  return raster;
}

/// The page as a JPEG of that quality gives it back (libjpeg through libvips: compression that is not ours).
inline Raster as_jpeg(Raster page, int quality) {
  const vips::VImage image = vips::VImage::new_from_memory(page.rgb.data(), page.rgb.size(), page.width,
                                                           page.height, 3, VIPS_FORMAT_UCHAR);
  VipsBlob* blob = image.jpegsave_buffer(vips::VImage::option()->set("Q", quality));
  page.rgb = pixels_of(vips::VImage::jpegload_buffer(blob));
  page.format = "JPEG";
  page.lossy = true;
  vips_area_unref(VIPS_AREA(blob));
  return page;
}

/// Where the ink of a drawing lies, in mm: drawn alone on white at 600 dpi and boxed at half coverage.
inline Rect ink_of(const std::string& drawing, const Canvas& canvas = {}) {
  constexpr double dpi = 600;
  const Raster raster = render(drawing, dpi, canvas);
  int left = raster.width, top = raster.height, right = -1, bottom = -1;
  for (int y = 0; y < raster.height; ++y)
    for (int x = 0; x < raster.width; ++x)
      if (raster.at(x, y)[1] < 128) {
        left = std::min(left, x), right = std::max(right, x + 1);
        top = std::min(top, y), bottom = std::max(bottom, y + 1);
      }
  const auto mm = [&](int px, double origin) { return Length::from_mm(origin + px * 25.4 / dpi); };
  return Rect::from_sides(mm(left, canvas.x), mm(top, canvas.y), mm(right, canvas.x), mm(bottom, canvas.y));
}

inline Report inspect_page(const Raster& raster, const Job& job, std::optional<Side> side = Side::inside) {
  return inspect(raster, job, {"planted.png", 1, side, std::nullopt});
}

/// The findings of a check at `fix` or `review`.
inline std::vector<Finding> faults(const Report& report, std::string_view check) {
  std::vector<Finding> found;
  for (const Finding& finding : report.findings)
    if (finding.check == check && finding.severity != Severity::note) found.push_back(finding);
  return found;
}
inline std::size_t fault_count(const Report& report) {
  std::size_t count = 0;
  for (const Finding& finding : report.findings) count += finding.severity != Severity::note;
  return count;
}

/// All findings in words, for the message of a failed test.
inline std::string told(const Report& report) {
  std::ostringstream text;
  for (const Finding& f : report.findings)
    text << f.check << " " << f.kind << " " << severity_name(f.severity) << " [" << f.box.x.mm() << " "
         << f.box.y.mm() << " " << f.box.width.mm() << " " << f.box.height.mm() << "] whole ["
         << f.whole.x.mm() << " " << f.whole.y.mm() << " " << f.whole.width.mm() << " " << f.whole.height.mm()
         << "] measured " << (f.measured ? f.measured->mm() : NAN) << " | " << f.message << " | " << f.advice
         << "\n";
  return text.str();
}

constexpr double mm_per_px = 25.4 / 300;

/// Both boxes agree within a pixel of 300 dpi on every side.
inline void expect_box(const Rect& found, double x0, double y0, double x1, double y1, const Report& report) {
  EXPECT_NEAR(found.left().mm(), x0, mm_per_px) << told(report);
  EXPECT_NEAR(found.top().mm(), y0, mm_per_px) << told(report);
  EXPECT_NEAR(found.right().mm(), x1, mm_per_px) << told(report);
  EXPECT_NEAR(found.bottom().mm(), y1, mm_per_px) << told(report);
}

inline void expect_box(const Rect& found, const Rect& wanted, const Report& report) {
  expect_box(found, wanted.left().mm(), wanted.top().mm(), wanted.right().mm(), wanted.bottom().mm(), report);
}

/// Text set so that the top of its ink lies at `top` mm.
inline std::string text_with_top(double x, double top, double points, const std::string& words,
                                 const std::string& more) {
  const double base = 60.0;
  const Rect ink = ink_of(text(x, base, points, words));
  return text(x, base + top - ink.top().mm(), points, words, more);
}

}  // namespace frisket::planted
