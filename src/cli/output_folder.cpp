#include "cli/output_folder.hpp"

#include <stdlib.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <string>

#include "frisket/error.hpp"

namespace frisket {
namespace {

[[noreturn]] void fail(const std::filesystem::path& folder, const std::string& reason) {
  throw Error(folder.string() + ": cannot write into this folder: " + reason +
              "; choose another one with -o");
}

}  // namespace

void prepare_output_folder(const std::filesystem::path& folder) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  std::error_code unseen;
  if (!std::filesystem::is_directory(folder, unseen)) fail(folder, error ? error.message() : "it is a file");
  // Trying it is the only sure test: access() knows nothing of read-only or special file systems for root.
  std::string trial = (folder / ".frisket-XXXXXX").string();
  const int descriptor = mkstemp(trial.data());
  if (descriptor < 0 && errno != ENOSPC && errno != EDQUOT) fail(folder, std::strerror(errno));
  if (descriptor < 0) return;
  close(descriptor);
  unlink(trial.c_str());
}

}  // namespace frisket
