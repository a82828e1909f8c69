#include "frisket/finding.hpp"

namespace frisket {

std::string_view severity_name(Severity severity) {
  switch (severity) {
    case Severity::fix:
      return "fix";
    case Severity::review:
      return "review";
    case Severity::note:
      return "note";
  }
  return "";
}

}  // namespace frisket
