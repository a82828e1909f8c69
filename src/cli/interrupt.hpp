#pragma once

namespace frisket {

/// From here on the first Ctrl-C is noted instead of ending the program, so that finished pages are kept and
/// no file is left half-written; a second one ends it at once.
void catch_interrupts();
/// True once Ctrl-C was pressed.
bool interrupted();

}  // namespace frisket
