#include "raster/loader_messages.hpp"

#include <algorithm>
#include <mutex>

#include <vips/vips8>

namespace frisket {
namespace {

std::mutex kept_mutex;  // decoders warn from worker threads
std::vector<std::string> kept;

/// Printable, on one line, of a bounded length.
std::string clean(std::string_view raw) {
  constexpr std::size_t longest = 1000;
  std::string line;
  for (const char c : raw) {
    const bool blank = static_cast<unsigned char>(c) <= ' ' || c == 0x7f;
    if (!blank)
      line += c;
    else if (!line.empty() && line.back() != ' ')
      line += ' ';
  }
  while (!line.empty() && line.back() == ' ') line.pop_back();
  if (line.size() > longest) line = line.substr(0, longest) + "…";
  return line;
}

void keep(const char*, GLogLevelFlags level, const char* message, void*) {
  if ((level & (G_LOG_LEVEL_ERROR | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING)) == 0 || message == nullptr)
    return;
  constexpr std::size_t most = 100;  // a damaged file can warn once a row
  const std::string line = clean(message);
  const std::lock_guard lock(kept_mutex);
  if (kept.size() < most && std::find(kept.begin(), kept.end(), line) == kept.end()) kept.push_back(line);
}

}  // namespace

void capture_log() { g_log_set_default_handler(keep, nullptr); }

void forget_messages() {
  vips_error_clear();
  const std::lock_guard lock(kept_mutex);
  kept.clear();
}

std::vector<std::string> kept_warnings() {
  const std::lock_guard lock(kept_mutex);
  return kept;
}

std::string error_text() { return clean(vips_error_buffer()); }

}  // namespace frisket
