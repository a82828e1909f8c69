#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace frisket {

/// How text of the overlay is set: the size in overlay pixels and the weight.
struct Type {
  double size = 13;
  bool bold = false;
};

/// Width of one line of UTF-8 text in overlay pixels, from the advance widths of DejaVu Sans 2.37, the family
/// the overlay asks for. Characters outside ASCII count as one em, which is rarely too little.
double text_width(std::string_view text, const Type& type);

/// `text` if it fits `width` overlay pixels, else with an ellipsis for its middle: both ends of a file name
/// tell.
std::string shortened(std::string_view text, const Type& type, double width);

/// `text` in lines of at most `width` overlay pixels, broken at spaces; a longer word is shortened.
std::vector<std::string> wrapped(std::string_view text, const Type& type, double width);

}  // namespace frisket
