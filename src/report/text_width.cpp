#include "report/text_width.hpp"

#include <algorithm>
#include <array>

#include "report/printable.hpp"

namespace frisket {
namespace {

// Advance widths of U+0020 to U+007E in thousandths of an em, read from the hmtx table of DejaVu Sans 2.37.
constexpr std::array<int, 95> book_widths{
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635,  611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};
constexpr std::array<int, 95> bold_widths{
    348, 456,  521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415,  380, 365, 696, 696,  696,
    696, 696,  696, 696, 696, 696,  696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830,  683,
    683, 821,  837, 372, 372, 775,  637, 995, 837, 850, 733, 850, 770, 720,  682, 812, 774, 1103, 771,
    724, 725,  457, 365, 457, 838,  500, 500, 675, 716, 593, 716, 678, 435,  716, 712, 343, 343,  665,
    343, 1042, 712, 687, 716, 716,  493, 595, 478, 712, 652, 924, 645, 652,  582, 712, 365, 712,  838};

int advance_of(const Character& character, bool bold) {
  if (!character.point || *character.point < 0x20 || *character.point > 0x7E) return 1000;
  const std::size_t index = *character.point - 0x20;
  return bold ? bold_widths[index] : book_widths[index];
}

std::vector<std::string_view> characters_of(std::string_view text) {
  std::vector<std::string_view> characters;
  while (!text.empty()) {
    characters.push_back(first_character(text).bytes);
    text.remove_prefix(characters.back().size());
  }
  return characters;
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    if (!word.empty()) words.push_back(word);
    text.remove_prefix(std::min(text.size(), word.size() + 1));
  }
  return words;
}

}  // namespace

double text_width(std::string_view text, const Type& type) {
  int thousandths = 0;
  for (const std::string_view character : characters_of(text))
    thousandths += advance_of(first_character(character), type.bold);
  return type.size * thousandths / 1000.0;
}

std::string shortened(std::string_view text, const Type& type, double width) {
  if (text_width(text, type) <= width) return std::string(text);
  const std::vector<std::string_view> characters = characters_of(text);
  int thousandths = advance_of(first_character("…"), type.bold);
  std::size_t from_start = 0, from_end = 0;  // characters kept of each end, taken in turn while they fit
  const auto fits_with = [&](std::string_view character) {
    thousandths += advance_of(first_character(character), type.bold);
    return type.size * thousandths / 1000.0 <= width;
  };
  while (fits_with(characters[from_start])) {
    ++from_start;
    if (!fits_with(characters[characters.size() - 1 - from_end])) break;
    ++from_end;
  }
  std::string kept;
  for (std::size_t i = 0; i < from_start; ++i) kept += characters[i];
  kept += "…";
  for (std::size_t i = characters.size() - from_end; i < characters.size(); ++i) kept += characters[i];
  return kept;
}

std::vector<std::string> wrapped(std::string_view text, const Type& type, double width) {
  std::vector<std::string> lines;
  for (const std::string_view word : words_of(text)) {
    const std::string longer = lines.empty() ? std::string(word) : lines.back() + " " + std::string(word);
    if (!lines.empty() && text_width(longer, type) <= width)
      lines.back() = longer;
    else
      lines.push_back(shortened(word, type, width));
  }
  return lines;
}

}  // namespace frisket
