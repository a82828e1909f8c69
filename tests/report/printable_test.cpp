#include "report/printable.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

TEST(Printable, LeavesOrdinaryTextOfAnyScriptAlone) {
  EXPECT_EQ(printable("Grüße, мир, 紙, 🌊 'quoted' <&>"), "Grüße, мир, 紙, 🌊 'quoted' <&>");
}

TEST(Printable, WritesOutWhatWouldBreakTheLineOrSteerTheTerminal) {
  EXPECT_EQ(printable("a\nb\tc\r"), "a\\nb\\tc\\r");
  EXPECT_EQ(printable("\x1b[2J"), "\\x1b[2J");
  EXPECT_EQ(printable(std::string("a\0b", 3)), "a\\x00b");
  EXPECT_EQ(printable("\xC2\x9B"), "\\x9b");                  // U+009B, a control of one character
  EXPECT_EQ(printable("gnp.\xE2\x80\xAEx"), "gnp.\\u202ex");  // turns the writing direction
}

// Ill-formed sequences after RFC 3629, section 3: lone continuation, overlong form, surrogate, beyond
// U+10FFFF, cut.
TEST(Printable, WritesOutBytesThatAreNotUtf8) {
  EXPECT_EQ(printable("caf\xE9"), "caf\\xe9");
  EXPECT_EQ(printable("\x80"), "\\x80");
  EXPECT_EQ(printable("\xC0\xAF"), "\\xc0\\xaf");
  EXPECT_EQ(printable("\xED\xA0\x80"), "\\xed\\xa0\\x80");
  EXPECT_EQ(printable("\xF4\x90\x80\x80"), "\\xf4\\x90\\x80\\x80");
  EXPECT_EQ(printable("\xE2\x82"), "\\xe2\\x82");
}

}  // namespace
}  // namespace frisket
