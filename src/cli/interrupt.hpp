#pragma once

namespace frisket {

/// From here on the first Ctrl-C is noted instead of ending the program, so that finished pages are kept and
/// no file is left half-written; a second one ends it at once.
void catch_interrupts();
/// In a child process: Ctrl-C is left to the parent, which passes it on as SIGTERM.
void take_interrupts_from_parent();
/// True once Ctrl-C was pressed.
bool interrupted();

}  // namespace frisket
