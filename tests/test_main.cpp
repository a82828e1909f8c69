// main() of the test programs that open or draw pages: the imaging library lives as long as they run.
#include <gtest/gtest.h>

#include "frisket/raster.hpp"

int main(int argc, char** argv) {
  testing::InitGoogleTest(&argc, argv);
  const frisket::ImagingLibrary library(argv[0]);
  return RUN_ALL_TESTS();
}
