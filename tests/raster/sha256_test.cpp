// Against the examples of FIPS 180-4 as NIST publishes them (Secure Hash Standard, example values for
// SHA-256).
#include <gtest/gtest.h>

#include "frisket/raster.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

TEST(Sha256, OfOneBlockAndOfTwo) {
  EXPECT_EQ(text_sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(text_sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

TEST(Sha256, OfAFileThatIsReadInParts) {
  const ScratchFolder folder;
  const std::string content(3'000'000, 'a');  // more than is read at once
  put(folder / "file", content);
  EXPECT_EQ(file_sha256(folder / "file"), text_sha256(content));
}

}  // namespace
}  // namespace frisket
