#include "report/html_document.hpp"

#include <array>
#include <cstdint>
#include <vector>

#include "frisket/version.hpp"
#include "report/base64.hpp"
#include "report/html_assets.hpp"
#include "report/html_text.hpp"

namespace frisket {
namespace {

int digit(char c) { return c <= '9' ? c - '0' : c - 'a' + 10; }

/// As a policy names what it allows: 'sha256-BASE64'.
std::string allowed(std::string_view sha256) {
  std::array<std::uint8_t, 32> bytes{};
  for (std::size_t i = 0; i < bytes.size(); ++i)
    bytes[i] = static_cast<std::uint8_t>(digit(sha256[2 * i]) * 16 + digit(sha256[2 * i + 1]));
  return "'sha256-" + base64(bytes) + "'";
}

std::string pages_text(int count) { return count == 1 ? "1 page" : std::to_string(count) + " pages"; }

/// The run in words; empty for one page, whose own verdict stands just below.
std::string run_words(const HtmlCounts& counts) {
  if (counts.pages() < 2) return "";
  std::vector<std::string> parts;
  if (counts.fix) parts.push_back(std::to_string(counts.fix) + " to mend before printing");
  if (counts.review) parts.push_back(std::to_string(counts.review) + " to be looked at");
  if (counts.not_assessed) parts.push_back(std::to_string(counts.not_assessed) + " not wholly checked");
  if (counts.failed) parts.push_back(std::to_string(counts.failed) + " could not be inspected");
  if (counts.good) parts.push_back(std::to_string(counts.good) + " with nothing to mend");
  std::string text = pages_text(counts.pages()) + ": ";
  for (std::size_t i = 0; i < parts.size(); ++i) text += (i ? ", " : "") + parts[i];
  return text + ".";
}

}  // namespace

void HtmlCounts::add(std::string_view verdict) {
  int& count = verdict == "fix"            ? fix
               : verdict == "review"       ? review
               : verdict == "not-assessed" ? not_assessed
               : verdict == "failed"       ? failed
                                           : good;
  ++count;
}

std::string html_opening(const std::string& title, const HtmlCounts& counts) {
  const std::string shown = title.empty() ? "Report on the pages" : title;
  std::string html = "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
  html +=
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src " +
      allowed(report_css_sha256) + "; script-src " + allowed(report_js_sha256) +
      "; base-uri 'none'; form-action 'none'\">\n";
  html += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  html += html_element("title", shown + " – page report");
  html += "<style>" + std::string(report_css) + "</style>\n</head>\n<body>\n<header>\n";
  html += "<p class=\"what\">Page report before printing</p>\n" + html_element("h1", shown);
  if (const std::string words = run_words(counts); !words.empty())
    html += html_element("p", words, "class=\"verdict\"");
  return html + "</header>\n<main>\n";
}

std::string html_closing() {
  return "</main>\n<footer><p>Made by frisket " + std::string(version) +
         ". It sees pixels only: read the text, and ask the printer what the job's limits are.</p></footer>\n"
         "<script>" +
         std::string(report_js) + "</script>\n</body>\n</html>\n";
}

}  // namespace frisket
