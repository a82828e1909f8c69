#include "cli/output_lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <string>
#include <thread>

namespace frisket {
namespace {

/// The children of a killed run end a moment after it.
constexpr std::chrono::milliseconds patience{1000}, pause{20};

/// Whether the open file is still the one of that name: its last holder may have removed it meanwhile.
bool is_still_there(int descriptor, const std::filesystem::path& file) {
  struct stat opened {
  }, named{};
  return fstat(descriptor, &opened) == 0 && stat(file.c_str(), &named) == 0 &&
         opened.st_dev == named.st_dev && opened.st_ino == named.st_ino;
}

enum class Try { held, taken, again, cannot };

Try try_lock(int descriptor, const std::filesystem::path& file, bool shared) {
  if (flock(descriptor, (shared ? LOCK_SH : LOCK_EX) | LOCK_NB) == 0)
    return is_still_there(descriptor, file) ? Try::held : Try::again;
  return errno == EWOULDBLOCK ? Try::taken : Try::cannot;
}

}  // namespace

OutputLock::OutputLock(const std::filesystem::path& folder, const std::optional<Shard>& part) {
  hold(folder / ".frisket.lock", part.has_value(), folder);
  if (!part) return;
  const std::string name = std::to_string(part->part) + "-of-" + std::to_string(part->of);
  try {
    hold(folder / (".frisket-" + name + ".lock"), false, folder);
  } catch (const Error&) {
    close(held_.front().descriptor);
    throw;
  }
}

void OutputLock::hold(const std::filesystem::path& file, bool shared, const std::filesystem::path& folder) {
  const auto until = std::chrono::steady_clock::now() + patience;
  while (true) {
    const int descriptor = open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
    if (descriptor < 0) return;  // a full disk, say: pages will tell
    const Try tried = try_lock(descriptor, file, shared);
    if (tried == Try::held) return held_.push_back({file, descriptor});
    close(descriptor);
    if (tried == Try::cannot) return;  // a disk without locks
    if (tried == Try::taken && std::chrono::steady_clock::now() > until)
      throw Error(folder.string() +
                  ": another run of frisket is writing into this folder; wait for it, or choose another one "
                  "with -o");
    std::this_thread::sleep_for(pause);
  }
}

OutputLock::~OutputLock() {
  for (const File& file : held_) {
    if (flock(file.descriptor, LOCK_EX | LOCK_NB) == 0) unlink(file.path.c_str());
    close(file.descriptor);
  }
}

void remove_leftovers(const std::filesystem::path& folder) {
  std::error_code error;
  std::vector<std::filesystem::path> leftovers;
  for (std::filesystem::directory_iterator entry(folder, error), end; !error && entry != end;
       entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    if (name.starts_with(".frisket-") && !name.ends_with(".lock")) leftovers.push_back(entry->path());
  }
  for (const std::filesystem::path& file : leftovers) std::filesystem::remove(file, error);
}

}  // namespace frisket
