// Guides, opened by others: pdfinfo and pdftoppm (poppler), librsvg, qpdf, an XML parser.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <poppler.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <vips/vips8>

#include "frisket/check.hpp"
#include "frisket/report.hpp"
#include "report/guide.hpp"
#include "report/sample_report.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

const std::filesystem::path tickets = std::filesystem::path(FRISKET_SOURCE_DIR) / "fixtures/tickets";

Job read(const std::string& name) { return read_job(tickets / name, {}, all_limits()); }

/// What a command prints.
std::string output_of(const std::string& command) {
  std::string text;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  std::array<char, 4096> buffer{};
  while (std::fgets(buffer.data(), buffer.size(), pipe) != nullptr) text += buffer.data();
  pclose(pipe);
  return text;
}

/// The two lower left and two upper right numbers of a box as pdfinfo prints it, in points.
std::array<double, 4> box_of(const std::string& info, const std::string& name) {
  std::array<double, 4> box{};
  const std::size_t at = info.find(name + ":");
  if (at != std::string::npos)
    std::sscanf(info.c_str() + at + name.size() + 1, "%lf %lf %lf %lf", &box[0], &box[1], &box[2], &box[3]);
  return box;
}

void expect_box(const std::string& info, const std::string& name, std::array<double, 4> points) {
  const auto box = box_of(info, name);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(box[i], points[i], 0.0051) << name << "\n" << info;
}

std::string info_of(const Job& job, std::optional<Side> side) {
  const ScratchFolder folder;
  put(folder / "guide.pdf", guide_pdf(job, side));
  return output_of("pdfinfo -box " + (folder / "guide.pdf").string());
}

// 11 x 8.5 in is 792 x 612 pt, 1/8 in 9 pt. A4 is 595.276 x 841.890 pt and 3 mm 8.504 pt (ISO 32000, 1/72
// in).
TEST(GuidePdf, HasItsBoxesAsPopplerReadsThem) {
  const std::string leaflet = info_of(leaflet_job(), Side::outside);
  expect_box(leaflet, "MediaBox", {0, 0, 810, 630});
  expect_box(leaflet, "BleedBox", {0, 0, 810, 630});
  expect_box(leaflet, "TrimBox", {9, 9, 801, 621});
  const Job a4 =
      flat_job({Length::from_mm(210), Length::from_mm(297)}, Length::from_mm(3), Length::from_mm(5));
  const std::string page = info_of(a4, std::nullopt);
  expect_box(page, "MediaBox", {0, 0, 612.283, 858.898});
  expect_box(page, "TrimBox", {8.504, 8.504, 8.504 + 595.276, 8.504 + 841.890});
  // No bleed at the left edge: 148 x 210 mm with 3 mm on the three others.
  expect_box(info_of(read("every-edge.json"), std::nullopt), "TrimBox", {0, 8.504, 419.528, 8.504 + 595.276});
}

TEST(GuidePdf, OfABannerCountsInLargerUnits) {
  const Job banner = flat_job({Length::from_mm(6000), Length::from_mm(800)}, Length::from_mm(0), {});
  const std::string pdf = guide_pdf(banner, std::nullopt);
  EXPECT_THAT(pdf, HasSubstr("/UserUnit 2"));
  expect_box(info_of(banner, std::nullopt), "MediaBox", {0, 0, 6000 / 25.4 * 72 / 2, 800 / 25.4 * 72 / 2});
}

TEST(Guides, ArePassedByQpdfAndAnXmlParserWhateverTheJobIsCalled) {
  Job job = leaflet_job();
  job.name = "</title><script>(caf\xC3\xA9)\\ & \"\x01";
  const ScratchFolder folder;
  put(folder / "guide.pdf", guide_pdf(job, Side::inside));
  put(folder / "guide.svg", guide_svg(job, Side::inside));
  EXPECT_EQ(std::system(("qpdf --check " + (folder / "guide.pdf").string() + " >/dev/null").c_str()), 0);
  EXPECT_THAT(output_of("pdfinfo " + (folder / "guide.pdf").string()), HasSubstr("(caf\xC3\xA9)\\ & \""));
  EXPECT_EQ(std::system(("python3 -c 'import sys, xml.dom.minidom as m; m.parse(sys.argv[1])' " +
                         (folder / "guide.svg").string())
                            .c_str()),
            0);
}

TEST(Guides, AreTheSameBytesTwiceAndBearNoDate) {
  for (const char* ticket : {"letter-leaflet.json", "jacket.json", "case.json"}) {
    const Job job = read(ticket);
    EXPECT_EQ(guide_pdf(job, Side::outside), guide_pdf(read(ticket), Side::outside));
    EXPECT_EQ(guide_svg(job, Side::outside), guide_svg(read(ticket), Side::outside));
    EXPECT_THAT(guide_pdf(job, Side::outside), Not(HasSubstr("Date")));
  }
}

/// Guides as the designer's programs would draw them, at 300 dpi, grey.
vips::VImage by_librsvg(const std::string& svg) {
  VipsBlob* blob = vips_blob_copy(svg.data(), svg.size());
  const vips::VImage page =
      vips::VImage::svgload_buffer(blob, vips::VImage::option()->set("dpi", 300.0))
          .flatten(vips::VImage::option()->set("background", std::vector<double>{255, 255, 255}))
          .colourspace(VIPS_INTERPRETATION_B_W)
          .copy_memory();
  vips_area_unref(VIPS_AREA(blob));
  return page;
}

vips::VImage by_poppler(const std::string& pdf) {
  const ScratchFolder folder;
  put(folder / "guide.pdf", pdf);
  const std::string name = (folder / "guide").string();
  EXPECT_EQ(output_of("pdftoppm -r 300 -gray -singlefile " + name + ".pdf " + name), "");
  return vips::VImage::ppmload((name + ".pgm").c_str()).copy_memory();
}

/// Where the middle of the ink lies within 8 px of `expected`, along x or y, over the whole page.
double line_near(const vips::VImage& page, double expected, bool vertical) {
  const int length = vertical ? page.width() : page.height();
  const int from = std::max(0, static_cast<int>(expected) - 8);
  const int count = std::min(length, static_cast<int>(expected) + 9) - from;
  const vips::VImage band = vertical ? page.extract_area(from, 0, count, page.height())
                                     : page.extract_area(0, from, page.width(), count);
  double ink = 0, moment = 0;
  for (int i = 0; i < count; ++i) {
    const vips::VImage strip =
        vertical ? band.extract_area(i, 0, 1, page.height()) : band.extract_area(0, i, page.width(), 1);
    // What crosses at right angles puts the same little ink into each strip.
    const double dark = 255 - strip.avg();
    if (dark < 20) continue;
    ink += dark, moment += dark * (from + i + 0.5);
  }
  return ink > 0 ? moment / ink : NAN;
}

struct DrawnJob {
  const char* ticket;
  Side side;
};

/// Canvas size to the pixel it is rounded to, trim and every fold to `within` px. Where the renderer fits the
/// canvas to whole pixels, all of it is stretched by that.
void expect_lines(const vips::VImage& page, const Job& job, Side side, bool fitted, double within) {
  const GuideDrawing guide = draw_guide(job, side);
  const auto px = [](Length length) { return length.pixels(300); };
  EXPECT_NEAR(page.width(), px(guide.canvas.width), 1.0);
  EXPECT_NEAR(page.height(), px(guide.canvas.height), 1.0);
  const auto expect_line = [&](Length at, bool vertical) {
    const double stretch = !fitted    ? 1
                           : vertical ? page.width() / px(guide.canvas.width)
                                      : page.height() / px(guide.canvas.height);
    EXPECT_NEAR(line_near(page, px(at), vertical), px(at) * stretch, within)
        << (vertical ? "x " : "y ") << at.mm();
  };
  expect_line(guide.trim.left(), true);
  expect_line(guide.trim.right(), true);
  expect_line(guide.trim.top(), false);
  expect_line(guide.trim.bottom(), false);
  for (const Length fold : job.layout(side).folds) expect_line(fold + job.bleed.left, true);
  for (const Length fold : job.layout(side).folds_y) expect_line(fold + job.bleed.top, false);
}

// librsvg fits the canvas to whole pixels; poppler does not, but moves thin lines to whole pixels.
TEST(Guides, HaveTrimAndFoldsWhereTheyBelongWhenRendered) {
  for (const DrawnJob& drawn :
       {DrawnJob{"plans/leaflet.json", Side::outside}, DrawnJob{"plans/leaflet.json", Side::inside},
        DrawnJob{"plans/timetable.json", Side::outside}, DrawnJob{"plans/jacket.json", Side::outside},
        DrawnJob{"plans/booklet.json", Side::inside}, DrawnJob{"case.json", Side::outside}}) {
    SCOPED_TRACE(drawn.ticket);
    const Job job = read(drawn.ticket);
    expect_lines(by_librsvg(guide_svg(job, drawn.side)), job, drawn.side, true, 0.2);
    expect_lines(by_poppler(guide_pdf(job, drawn.side)), job, drawn.side, false, 0.6);
  }
}

// 11.25 x 8.75 in at 300 dpi, and 216 x 303 mm: 2551.18 x 3578.74 px.
TEST(Guides, AreAsLargeAsThePageToBeMade) {
  const std::string svg = guide_svg(leaflet_job(), Side::outside);
  EXPECT_EQ(by_librsvg(svg).width(), 3375);
  EXPECT_EQ(by_librsvg(svg).height(), 2625);
  const vips::VImage pdf = by_poppler(guide_pdf(leaflet_job(), Side::outside));
  EXPECT_EQ(pdf.width(), 3375);
  EXPECT_EQ(pdf.height(), 2625);
}

/// A guide's PDF in poppler, where layers can be hidden.
class OpenedPdf {
 public:
  explicit OpenedPdf(const std::string& pdf) {
    GBytes* bytes = g_bytes_new(pdf.data(), pdf.size());
    document_ = poppler_document_new_from_bytes(bytes, nullptr, nullptr);
    g_bytes_unref(bytes);
    PopplerLayersIter* layers = poppler_layers_iter_new(document_);
    if (layers == nullptr) return;
    do {
      PopplerLayer* layer = poppler_layers_iter_get_layer(layers);
      names_.emplace_back(poppler_layer_get_title(layer));
      layers_.push_back(layer);
    } while (poppler_layers_iter_next(layers) != 0);
    poppler_layers_iter_free(layers);
  }
  ~OpenedPdf() {
    for (PopplerLayer* layer : layers_) g_object_unref(layer);
    g_object_unref(document_);
  }
  OpenedPdf(const OpenedPdf&) = delete;
  OpenedPdf& operator=(const OpenedPdf&) = delete;

  const std::vector<std::string>& names() const { return names_; }

  /// The page at 72 dpi with one layer shown (none where -1); pixels that are not white.
  int ink_of(int shown) const {
    for (std::size_t i = 0; i < layers_.size(); ++i)
      static_cast<int>(i) == shown ? poppler_layer_show(layers_[i]) : poppler_layer_hide(layers_[i]);
    PopplerPage* page = poppler_document_get_page(document_, 0);
    cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 810, 630);
    cairo_t* context = cairo_create(surface);
    poppler_page_render(page, context);
    cairo_destroy(context);
    cairo_surface_flush(surface);
    int ink = 0;
    const unsigned char* data = cairo_image_surface_get_data(surface);
    for (int i = 0; i < 810 * 630; ++i) ink += data[4 * i + 3] > 0 ? 1 : 0;
    cairo_surface_destroy(surface);
    g_object_unref(page);
    return ink;
  }

 private:
  PopplerDocument* document_ = nullptr;
  std::vector<PopplerLayer*> layers_;
  std::vector<std::string> names_;
};

TEST(GuidePdf, HasLayersThatPopplerListsAndHides) {
  const OpenedPdf opened(guide_pdf(leaflet_job(), Side::outside));
  EXPECT_THAT(opened.names(), ElementsAre("Bleed", "Safe zone", "Folds", "Trim", "Panel names"));
  EXPECT_EQ(opened.ink_of(-1), 0);
  for (int layer = 0; layer < 5; ++layer) EXPECT_GT(opened.ink_of(layer), 500) << layer;
  EXPECT_LT(opened.ink_of(2), 8 * 630) << "two folds are drawn, and nothing else";
}

TEST(GuideSvg, HasALayerForEachKindOfLine) {
  const std::string folded = guide_svg(leaflet_job(), Side::outside);
  for (const std::string layer : {"id=\"trim\">\n<title>Trim</title>", "id=\"bleed\"", "id=\"safe-zone\"",
                                  "id=\"folds\"", "id=\"panel-names\""})
    EXPECT_THAT(folded, HasSubstr("<g " + layer));
  const std::string flat =
      guide_svg(flat_job({Length::from_mm(85), Length::from_mm(55)}, {}, {}), std::nullopt);
  for (const std::string layer : {"bleed", "safe-zone", "folds"}) EXPECT_THAT(flat, Not(HasSubstr(layer)));
}

const GuideLayer& layer_of(const GuideDrawing& guide, const std::string& id) {
  return *std::ranges::find(guide.layers, id, &GuideLayer::id);
}

std::map<std::string, bool> turned_names(const GuideDrawing& guide) {
  std::map<std::string, bool> names;
  for (const GuideText& text : layer_of(guide, "panel-names").texts) names[text.words] = text.turned;
  return names;
}

TEST(PanelNamesOnGuides, AreTurnedOnASpineAndLeftOutWhereNobodyCouldReadThem) {
  const auto names = turned_names(draw_guide(read("jacket.json"), Side::outside));
  EXPECT_THAT(names, Contains(testing::Pair("spine", true)));
  EXPECT_THAT(names, Contains(testing::Pair("front cover", false)));
  EXPECT_THAT(names, Contains(testing::Pair("156 x 218 mm", false)));
  Job thin = read("jacket.json");
  for (Panel& panel : thin.outside.panels)
    if (panel.name == "spine") panel.area.width = Length::from_mm(1);
  EXPECT_THAT(turned_names(draw_guide(thin, Side::outside)), Not(Contains(testing::Key(HasSubstr("spine")))));
}

TEST(SafeZoneOnGuides, IsTheLiveAreaOfEachPanelAndNoneOnTurnIns) {
  EXPECT_EQ(layer_of(draw_guide(leaflet_job(), Side::outside), "safe-zone").boxes.size(), 3U);
  EXPECT_EQ(layer_of(draw_guide(read("case.json"), Side::outside), "safe-zone").boxes.size(), 5U);
}

}  // namespace
}  // namespace frisket
