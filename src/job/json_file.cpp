#include "job/json_file.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <set>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using nlohmann::json;

/// Far more than any ticket needs, and little enough to read at once.
constexpr std::size_t most_bytes = 1'000'000;
constexpr int most_levels = 64;

std::string read_text(const std::filesystem::path& file) {
  if (std::filesystem::is_directory(file)) throw Error(file.string() + ": is a folder; expected a JSON file");
  // A pipe could keep the run waiting for ever, and a ticket may name any path as its printer.
  if (std::filesystem::exists(file) && !std::filesystem::is_regular_file(file))
    throw Error(file.string() + ": is a pipe or a device; expected a JSON file");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw Error(file.string() + ": cannot be opened: " + std::strerror(errno));
  std::string text(most_bytes + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (stream.bad()) throw Error(file.string() + ": cannot be read");
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (text.size() > most_bytes) throw Error(file.string() + ": is larger than 1 MB; this is no ticket");
  return text;
}

/// Watches the parser: nesting stays shallow and no key comes twice, where the last would win in silence.
class Watch {
 public:
  explicit Watch(std::string file) : file_(std::move(file)) {}

  bool operator()(int depth, json::parse_event_t event, const json& parsed) {
    if (depth > most_levels)
      throw Error(file_ + ": is nested deeper than " + std::to_string(most_levels) + " levels");
    if (event == json::parse_event_t::object_start) keys_.emplace_back();
    if (event == json::parse_event_t::object_end) keys_.pop_back();
    if (event == json::parse_event_t::key && !keys_.back().insert(parsed.get<std::string>()).second)
      throw Error(file_ + ": " + parsed.dump() + " is given twice; keep one of them");
    return true;
  }

 private:
  std::string file_;
  std::vector<std::set<std::string>> keys_;
};

/// The commonest slip in a file written by hand, which the parser tells by what it missed after the comma.
std::string comma_hint(const std::string& reason) {
  const bool object = reason.ends_with("unexpected '}'; expected string literal");
  const bool list = reason.ends_with("unexpected ']'; expected '[', '{', or a literal");
  return object || list ? "; take out the comma before it" : "";
}

/// "line 3, column 5: …" out of the parser's own message. It repeats all of the word it stumbled over, which
/// may be a comment as long as the file: the end of that is enough.
std::string place_and_reason(std::string message) {
  const std::size_t line = message.find("line ");
  message.erase(0, line == std::string::npos ? message.find("] ") + 2 : line);
  constexpr std::string_view quote = "last read: '";
  constexpr std::size_t most_quoted = 40;
  const std::size_t open = message.find(quote),
                    close = std::min(message.rfind("'; expected"), message.rfind('\''));
  if (open == std::string::npos || close - (open + quote.size()) <= most_quoted) return message;
  std::size_t keep = close - most_quoted;
  while ((static_cast<unsigned char>(message[keep]) & 0xC0) == 0x80) ++keep;  // not inside a UTF-8 letter
  return message.replace(open + quote.size(), keep - (open + quote.size()), "…");
}

}  // namespace

json read_json_object(const std::filesystem::path& file) {
  const std::string text = read_text(file);
  if (text.empty()) throw Error(file.string() + ": is empty; expected a JSON object");
  json value;
  try {
    value = json::parse(text, Watch(file.string()), true, true);
  } catch (const json::exception& error) {
    const std::string reason = place_and_reason(error.what());
    throw Error(file.string() + ": no valid JSON: " + reason + comma_hint(reason));
  }
  if (!value.is_object())
    throw Error(file.string() + ": holds " + (value.is_array() ? "an array" : "a single value") +
                "; expected a JSON object, { … }");
  return value;
}

}  // namespace frisket
