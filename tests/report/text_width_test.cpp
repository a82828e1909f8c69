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
  EXPECT_EQ(shortened("long", type, 1), "…");
}

TEST(TextWidth, ShortenedTextKeepsAsMuchAsFits) {
  const Type type{13, true};
  std::string text;
  for (int i = 0; i < 300; ++i) text += i % 7 == 0 ? "é" : std::string(1, static_cast<char>('A' + i % 26));
  for (double width = 20; width < text_width(text, type); width += 7.3) {
    const std::string kept = shortened(text, type, width);
    const std::size_t cut = kept.find("…");
    ASSERT_NE(cut, std::string::npos);
    const std::string_view start = std::string_view(kept).substr(0, cut),
                           end = std::string_view(kept).substr(cut + std::string_view("…").size());
    EXPECT_TRUE(text.starts_with(start) && text.ends_with(end));
    EXPECT_LE(text_width(kept, type), width);
    EXPECT_GT(text_width(kept, type) + 1.2 * type.size, width) << "one character more would have fitted";
  }
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
