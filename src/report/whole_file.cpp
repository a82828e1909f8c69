#include "report/whole_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <string>
#include <utility>

#include "frisket/report.hpp"

namespace frisket {
namespace {

/// What the system's reason means for the person who waits for the file.
std::string reason(int error) {
  switch (error) {
    case ENOSPC:
    case EDQUOT:
      return "the disk is full; free some space or choose another folder with -o";
    case EFBIG:
      return "the file would be larger than the system allows here; choose another folder with -o";
    case EACCES:
    case EPERM:
    case EROFS:
      return "no permission to write there; choose another folder with -o";
    case ENOENT:
    case ENOTDIR:
      return "its folder does not exist";
    case EISDIR:
    case ENOTEMPTY:
      return "a folder of that name is in the way; move it or choose another folder with -o";
    case ENAMETOOLONG:
      return "the name is too long for this disk; rename the page";
    default:
      return std::strerror(error);
  }
}

[[noreturn]] void fail(const std::filesystem::path& file, int error) {
  throw Error("cannot write " + file.string() + ": " + reason(error));
}

}  // namespace

WholeFile::WholeFile(const std::filesystem::path& target) : target_(target) {
  // A short name of our own, not the target's with an ending: that could be too long for the disk.
  for (int attempt = 0; descriptor_ < 0; ++attempt) {
    path_ = target.parent_path() / (".frisket-" + std::to_string(getpid()) + "-" + std::to_string(attempt));
    descriptor_ = open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor_ < 0 && errno != EEXIST) fail(target_, errno);
  }
}

WholeFile::~WholeFile() {
  if (descriptor_ >= 0) close(descriptor_);
  if (!path_.empty()) unlink(path_.c_str());
}

void WholeFile::write(std::span<const std::uint8_t> bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor_, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) fail(target_, errno);
    bytes = bytes.subspan(static_cast<std::size_t>(written));
  }
}

void WholeFile::write(const std::string& text) {
  write(std::span(reinterpret_cast<const std::uint8_t*>(text.data()), text.size()));
}

void WholeFile::finish() {
  if (fsync(descriptor_) != 0 && errno != EINVAL) fail(target_, errno);  // EINVAL: a disk without fsync
  if (close(std::exchange(descriptor_, -1)) != 0) fail(target_, errno);
  if (rename(path_.c_str(), target_.c_str()) != 0) fail(target_, errno);
  path_.clear();
}

void write_file(const std::filesystem::path& file, std::span<const std::uint8_t> bytes) {
  WholeFile whole(file);
  whole.write(bytes);
  whole.finish();
}

void write_file(const std::filesystem::path& file, const std::string& text) {
  write_file(file, std::span(reinterpret_cast<const std::uint8_t*>(text.data()), text.size()));
}

}  // namespace frisket
