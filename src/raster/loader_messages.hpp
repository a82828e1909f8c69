#pragma once

#include <string>
#include <vector>

namespace frisket {

// libvips and the decoders under it warn through GLib's log, and explain a failure in one error text for the
// whole process. Neither may reach a terminal, and neither is fit to be read as it is.

/// From now on messages of the log are kept, not printed.
void capture_log();
/// Forgets what was kept so far, in the log and in libvips' error text.
void forget_messages();
/// The warnings since then, each one clean line, once, in order.
std::vector<std::string> kept_warnings();
/// libvips' error text since then, as one clean line; empty where there is none.
std::string error_text();

}  // namespace frisket
