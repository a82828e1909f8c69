// Laid before the C library (LD_PRELOAD), this lets one call of the system or for memory fail, to see what
// becomes of a page then. The environment says which:
//   FAULT_KIND     allocation, read, write (writing, syncing, renaming, and creating files)
//   FAULT_AT       which of these fails, from 1, counted in each process and on through its children
//   FAULT_ONWARDS  set: all later ones as well, as on a full disk
//   FAULT_LEAST    allocations of fewer bytes are not counted
//   FAULT_BELOW    calls on files that do not lie below this folder are not counted: they are not frisket's
//   FAULT_ERRNO    of a call of the system
//   FAULT_MARK     a file that is made once a call has failed
#include <fcntl.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>

extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void* __libc_memalign(std::size_t, std::size_t);
}

namespace {

struct Fault {
  enum class Kind { none, allocation, read, write } kind = Kind::none;
  long at = 0;
  bool onwards = false;
  std::size_t least = 0;
  int error = EIO;
  const char* below = "";
  const char* mark = nullptr;
};

long number(const char* name) {
  const char* text = std::getenv(name);
  return text == nullptr ? 0 : std::atol(text);
}

Fault fault_asked_for() {
  const char* kind = std::getenv("FAULT_KIND");
  Fault fault;
  if (kind == nullptr) return fault;
  fault.kind = std::strcmp(kind, "allocation") == 0 ? Fault::Kind::allocation
               : std::strcmp(kind, "read") == 0     ? Fault::Kind::read
                                                    : Fault::Kind::write;
  fault.at = number("FAULT_AT");
  fault.onwards = std::getenv("FAULT_ONWARDS") != nullptr;
  fault.least = static_cast<std::size_t>(number("FAULT_LEAST"));
  if (const long error = number("FAULT_ERRNO"); error != 0) fault.error = static_cast<int>(error);
  if (const char* below = std::getenv("FAULT_BELOW")) fault.below = below;
  fault.mark = std::getenv("FAULT_MARK");
  return fault;
}

std::atomic<long> calls = 0;
std::atomic<bool> ready = false;
Fault fault;

/// Before the program's own start everything works: a loader that fails says nothing about frisket.
__attribute__((constructor)) void begin() {
  fault = fault_asked_for();
  ready = fault.kind != Fault::Kind::none;
}

bool fails(Fault::Kind kind, std::size_t bytes = 0) {
  if (!ready || kind != fault.kind || bytes < fault.least) return false;
  const long call = ++calls;
  if (call < fault.at || (call > fault.at && !fault.onwards)) return false;
  if (fault.mark != nullptr)
    syscall(SYS_close, syscall(SYS_openat, AT_FDCWD, fault.mark, O_CREAT | O_WRONLY | O_CLOEXEC, 0600));
  errno = kind == Fault::Kind::allocation ? ENOMEM : fault.error;
  return true;
}

bool lies_below(const char* path) { return std::strncmp(path, fault.below, std::strlen(fault.below)) == 0; }

/// Whether a call on an open file is to fail.
bool fails_on(Fault::Kind kind, int descriptor) {
  if (!ready || kind != fault.kind || descriptor <= STDERR_FILENO) return false;
  char link[64], path[4096] = {};
  std::snprintf(link, sizeof link, "/proc/self/fd/%d", descriptor);
  return readlink(link, path, sizeof path - 1) > 0 && lies_below(path) && fails(kind);
}

}  // namespace

extern "C" {

void* malloc(std::size_t size) noexcept {
  return fails(Fault::Kind::allocation, size) ? nullptr : __libc_malloc(size);
}
void* calloc(std::size_t count, std::size_t size) noexcept {
  return fails(Fault::Kind::allocation, count * size) ? nullptr : __libc_calloc(count, size);
}
void* realloc(void* old, std::size_t size) noexcept {
  return fails(Fault::Kind::allocation, size) ? nullptr : __libc_realloc(old, size);
}
void* memalign(std::size_t alignment, std::size_t size) noexcept {
  return fails(Fault::Kind::allocation, size) ? nullptr : __libc_memalign(alignment, size);
}
void* aligned_alloc(std::size_t alignment, std::size_t size) noexcept { return memalign(alignment, size); }
int posix_memalign(void** result, std::size_t alignment, std::size_t size) noexcept {
  void* memory = memalign(alignment, size);
  if (memory == nullptr) return ENOMEM;
  *result = memory;
  return 0;
}

ssize_t read(int descriptor, void* bytes, std::size_t count) {
  return fails_on(Fault::Kind::read, descriptor) ? -1 : syscall(SYS_read, descriptor, bytes, count);
}
ssize_t pread(int descriptor, void* bytes, std::size_t count, off_t at) {
  return fails_on(Fault::Kind::read, descriptor) ? -1 : syscall(SYS_pread64, descriptor, bytes, count, at);
}
ssize_t pread64(int descriptor, void* bytes, std::size_t count, off64_t at) {
  return pread(descriptor, bytes, count, at);
}

ssize_t write(int descriptor, const void* bytes, std::size_t count) {
  return fails_on(Fault::Kind::write, descriptor) ? -1 : syscall(SYS_write, descriptor, bytes, count);
}
int fsync(int descriptor) {
  return fails_on(Fault::Kind::write, descriptor) ? -1 : static_cast<int>(syscall(SYS_fsync, descriptor));
}
int rename(const char* from, const char* to) noexcept {
  return fails(Fault::Kind::write) ? -1 : static_cast<int>(syscall(SYS_rename, from, to));
}
int open(const char* path, int flags, ...) {
  // The lock is no result: a disk without locks is served too.
  const bool lock = std::strstr(path, ".lock") != nullptr;
  if ((flags & O_CREAT) != 0 && !lock && fails(Fault::Kind::write)) return -1;
  va_list more;
  va_start(more, flags);
  const unsigned mode = (flags & O_CREAT) != 0 ? va_arg(more, unsigned) : 0;
  va_end(more);
  return static_cast<int>(syscall(SYS_openat, AT_FDCWD, path, flags, mode));
}
}
