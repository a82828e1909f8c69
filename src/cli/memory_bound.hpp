#pragma once

#include <cstdint>

namespace frisket {

/// From now on the process may take so much memory more as an inspection of `pixels` can need, and some for
/// the decoder: a small file that unpacks to far more than its page is an error of that page, and never
/// brings the machine down.
void bound_memory_for(std::int64_t pixels);

/// From now on blocks of some megabytes are given back to the system once they are free. The C library would
/// keep them, in a pool a thread, and a page full of stripes took a third more memory for it.
void give_back_large_blocks();

}  // namespace frisket
