#pragma once

#include <string_view>

namespace frisket {

// Style and script of the report, src/report/html/, as the build found them.
extern const std::string_view report_css, report_js;
/// Their SHA-256, 64 hexadecimal digits: the report allows itself these two and nothing else.
extern const std::string_view report_css_sha256, report_js_sha256;

}  // namespace frisket
