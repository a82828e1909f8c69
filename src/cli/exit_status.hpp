#pragma once

namespace frisket {

/// What the program tells its caller: a contract, see README.md. The enumerators are the exit statuses.
enum class ExitStatus {
  clear = 0,        ///< nothing at or above --fail-on, every check made
  found = 1,        ///< something was found, or a check could not be made
  misused = 2,      ///< the command, the ticket or the output folder is wrong, no pages, a clash of names
  page_failed = 3,  ///< a page could not be inspected; the others were
  interrupted = 130,
};

}  // namespace frisket
