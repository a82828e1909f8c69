#include "report/text_width.hpp"

#include <gtest/gtest.h>

#include <vips/vips8>

#include "report/svg.hpp"

namespace frisket {
namespace {

/// Width of the ink of `text` as librsvg sets it.
double set_width(const std::string& text, const Type& type) {
  Svg svg(1200, 60);
  svg.text({20, 40}, text, type, "#000000");
  const std::string document = svg.finish();
  VipsBlob* blob = vips_blob_copy(document.data(), document.size());
  const vips::VImage ink = vips::VImage::svgload_buffer(blob).extract_band(3);
  vips_area_unref(VIPS_AREA(blob));
  int top = 0, width = 0, height = 0;
  ink.find_trim(&top, &width, &height,
                vips::VImage::option()->set("background", std::vector<double>{0})->set("threshold", 10));
  return width;
}

TEST(TextWidth, AgreesWithTheRenderer) {
  for (const Type type : {Type{13, false}, Type{17, true}})
    for (const std::string text : {"outside.png", "To mend before printing", "12.75 mm", "ILLUMINATION WWW"})
      EXPECT_NEAR(text_width(text, type), set_width(text, type), 0.03 * text_width(text, type) + 2) << text;
}

TEST(TextWidth, ShortenedTextKeepsBothEndsAndFits) {
  const Type type{13, false};
  const std::string text =
      shortened("a very long name of a page that nobody reads to its end.tif", type, 150);
  EXPECT_LE(text_width(text, type), 150);
  EXPECT_TRUE(text.starts_with("a very"));
  EXPECT_TRUE(text.ends_with(".tif"));
  EXPECT_EQ(shortened("short", type, 150), "short");
}

TEST(TextWidth, WrappedLinesFitAndLoseNoWord) {
  const Type type{13, false};
  const auto lines = wrapped("The canvas is 11.69 x 8.27 in; 11.25 x 8.75 in was expected.", type, 160);
  std::string joined;
  for (const std::string& line : lines) {
    EXPECT_LE(text_width(line, type), 160);
    joined += (joined.empty() ? "" : " ") + line;
  }
  EXPECT_GT(lines.size(), 1u);
  EXPECT_EQ(joined, "The canvas is 11.69 x 8.27 in; 11.25 x 8.75 in was expected.");
}

}  // namespace
}  // namespace frisket
