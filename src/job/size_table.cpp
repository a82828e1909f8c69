#include "job/size_table.hpp"

#include <algorithm>
#include <cctype>
#include <map>

#include "job/pwg_names.hpp"

namespace frisket {
namespace {

constexpr const char* common_practice = "common practice, no source";

void add(std::vector<TableSize>& table, std::string name, double width, double height, Unit unit,
         std::string source) {
  const Size size{make_length(width, unit), make_length(height, unit)};
  table.push_back({{std::move(name), size, std::move(source)}, unit});
}

/// ISO 216's rule: the next size has the short side for its long side, and half the long side, less half a
/// millimetre where that is odd. (Rounding the formula 2^(1/4 - n/2) instead gives A2 a long side of 595.)
void add_halved(std::vector<TableSize>& table, const std::string& letters, int width, int height, int last,
                const std::string& source) {
  for (int number = 0; number <= last; ++number) {
    add(table, letters + std::to_string(number), width, height, Unit::millimetre, source);
    const int half = height / 2;
    height = width;
    width = half;
  }
}

void add_metric(std::vector<TableSize>& table) {
  add_halved(table, "A", 841, 1189, 10, "ISO 216");
  add_halved(table, "B", 1000, 1414, 10, "ISO 216");
  add_halved(table, "C", 917, 1297, 10, "ISO 269");
  add_halved(table, "JIS B", 1030, 1456, 10, "JIS P 0138");
  add_halved(table, "RA", 860, 1220, 4, "ISO 217");
  add_halved(table, "SRA", 900, 1280, 4, "ISO 217");
  add(table, "2A0", 1189, 1682, Unit::millimetre, "PWG 5101.1");
  add(table, "DL", 110, 220, Unit::millimetre, "ISO 269");
  add(table, "C6/C5", 114, 229, Unit::millimetre, "PWG 5101.1");
  add(table, "1/3 A4", 99, 210, Unit::millimetre, "GOST 5773");
  add(table, "hagaki", 100, 148, Unit::millimetre, "PWG 5101.1");
}

void add_inch(std::vector<TableSize>& table) {
  const auto inch = [&](std::string name, double width, double height, std::string source) {
    add(table, std::move(name), width, height, Unit::inch, std::move(source));
  };
  inch("letter", 8.5, 11, "ASME Y14.1");
  inch("legal", 8.5, 14, "PWG 5101.1");
  inch("tabloid", 11, 17, "ASME Y14.1");
  inch("executive", 7.25, 10.5, "PWG 5101.1");
  inch("statement", 5.5, 8.5, "PWG 5101.1");
  inch("ANSI C", 17, 22, "ASME Y14.1");
  inch("ANSI D", 22, 34, "ASME Y14.1");
  inch("ANSI E", 34, 44, "ASME Y14.1");
  inch("ANSI F", 28, 40, "ASME Y14.1");
  inch("Arch A", 9, 12, "PWG 5101.1");
  inch("Arch B", 12, 18, "PWG 5101.1");
  inch("Arch C", 18, 24, "PWG 5101.1");
  inch("Arch D", 24, 36, "PWG 5101.1");
  inch("Arch E", 36, 48, "PWG 5101.1");
  inch("envelope #10", 4.125, 9.5, "PWG 5101.1");
  inch("envelope monarch", 3.875, 7.5, "PWG 5101.1");
  inch("envelope A2", 4.375, 5.75, "PWG 5101.1");
}

void add_cards(std::vector<TableSize>& table) {
  add(table, "business card US", 2, 3.5, Unit::inch, common_practice);
  add(table, "business card EU", 55, 85, Unit::millimetre, common_practice);
  add(table, "business card JP", 55, 91, Unit::millimetre, common_practice);
  add(table, "ID-1", 53.98, 85.60, Unit::millimetre, "ISO/IEC 7810");
  add(table, "ID-2", 74, 105, Unit::millimetre, "ISO/IEC 7810");
  add(table, "ID-3", 88, 125, Unit::millimetre, "ISO/IEC 7810");
  add(table, "ID-000", 15, 25, Unit::millimetre, "ISO/IEC 7810");
}

/// Width and height are read from the name itself: that is what makes it self-describing. A disc's two
/// numbers are its hole and its diameter; its page is the square round it.
TableSize pwg_size(std::string_view name) {
  const std::string_view numbers = name.substr(name.rfind('_') + 1);
  const std::size_t cross = numbers.find('x');
  const Unit unit = parse_unit(numbers.substr(numbers.size() - 2));
  const Length second = parse_length(numbers.substr(cross + 1), unit);
  const Length first = name.starts_with("disc_") ? second : parse_length(numbers.substr(0, cross), unit);
  return {{std::string(name), {first, second}, "PWG 5101.1"}, unit};
}

bool same_size(const Size& a, const Size& b) {
  const Length hair = Length::from_mm(0.001);
  return abs(a.width - b.width) < hair && abs(a.height - b.height) < hair;
}

std::vector<TableSize> make_table() {
  std::vector<TableSize> table;
  add_metric(table);
  add_inch(table);
  add_cards(table);
  const std::size_t familiar = table.size();
  for (const std::string_view name : pwg_names()) {
    TableSize size = pwg_size(name);
    const auto same = [&](const TableSize& known) { return same_size(known.named.size, size.named.size); };
    if (std::ranges::none_of(table.begin(), table.begin() + static_cast<std::ptrdiff_t>(familiar), same))
      table.push_back(std::move(size));
  }
  return table;
}

/// Letters and digits in lower case, with full stops; '#' is kept because "#10" is not "10".
std::string plain(std::string_view name) {
  std::string text;
  for (const char c : name)
    if (const auto byte = static_cast<unsigned char>(c);
        std::string_view(" -_/").find(c) == std::string_view::npos)
      text.push_back(static_cast<char>(std::tolower(byte)));
  return text;
}

struct OtherName {
  const char *name, *table_name;
};
constexpr OtherName other_names[]{{"ANSI A", "letter"},           {"ANSI B", "tabloid"},
                                  {"ledger", "tabloid"},          {"US letter", "letter"},
                                  {"invoice", "statement"},       {"#10", "envelope #10"},
                                  {"monarch", "envelope monarch"}};

/// Takes `word` off the end of `name`, whatever its case, where it stands alone.
bool take_last_word(std::string_view& name, std::string_view word) {
  while (name.ends_with(' ')) name.remove_suffix(1);
  if (name.size() <= word.size()) return false;
  const std::size_t start = name.size() - word.size();
  const auto same = [](char a, char b) { return std::tolower(static_cast<unsigned char>(a)) == b; };
  if (name[start - 1] != ' ' || !std::ranges::equal(name.substr(start), word, same)) return false;
  name = name.substr(0, start);
  return true;
}

std::map<std::string, TableSize> make_index() {
  std::map<std::string, TableSize> index;
  for (const TableSize& size : size_table()) index.emplace(plain(size.named.name), size);
  for (const OtherName& other : other_names)
    index.emplace(plain(other.name), index.at(plain(other.table_name)));
  for (const std::string_view name : pwg_names()) index.emplace(plain(name), pwg_size(name));
  return index;
}

}  // namespace

const std::vector<TableSize>& size_table() {
  static const std::vector<TableSize> table = make_table();
  return table;
}

const TableSize* find_table_size(std::string_view name) {
  static const std::map<std::string, TableSize> index = make_index();
  const auto found = index.find(plain(name));
  return found == index.end() ? nullptr : &found->second;
}

LyingName split_lie(std::string_view name) {
  LyingName lying{name};
  lying.landscape = take_last_word(lying.name, "landscape");
  lying.portrait = !lying.landscape && take_last_word(lying.name, "portrait");
  return lying;
}

}  // namespace frisket
