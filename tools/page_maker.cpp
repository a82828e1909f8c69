// Renders an SVG page, drawn in millimetres, to a PNG that knows its resolution.
#include <cstdio>
#include <exception>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vips/vips8>

namespace {

struct Order {
  std::string svg, png;
  double dpi = 300;
};

Order read_order(int count, char** words) {
  Order order;
  for (int i = 1; i < count; ++i) {
    if (std::string_view(words[i]) == "--dpi" && i + 1 < count) {
      order.dpi = std::stod(words[++i]);
    } else {
      (order.svg.empty() ? order.svg : order.png) = words[i];
    }
  }
  if (order.png.empty() || !(order.dpi > 0))
    throw std::runtime_error("usage: page_maker IN.svg OUT.png [--dpi N]");
  return order;
}

/// Opened by file name, not from memory, so that pictures are found beside or below the SVG.
void render(const Order& order) {
  const double per_mm = order.dpi / 25.4;
  vips::VImage page = vips::VImage::svgload(order.svg.c_str(), vips::VImage::option()->set("dpi", order.dpi));
  page = page.flatten(vips::VImage::option()->set("background", std::vector<double>{255, 255, 255}))
             .copy(vips::VImage::option()->set("xres", per_mm)->set("yres", per_mm));
  page.pngsave(order.png.c_str(), vips::VImage::option()->set("compression", 3));
}

}  // namespace

int main(int count, char** words) try {
  if (VIPS_INIT(words[0]) != 0) throw std::runtime_error("libvips did not start");
  render(read_order(count, words));
  vips_shutdown();
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "page_maker: %s\n", error.what());
  return 1;
}
