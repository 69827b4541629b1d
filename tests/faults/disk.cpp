#include "faults/disk.hpp"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>

namespace plumule::tests {
namespace {

Watch* now = nullptr;

// Which open descriptors are files of the folder, and which are the folder itself.
enum class Kind : unsigned char { other, file, folder };
struct Opened {
  Kind kind = Kind::other;
  int file = 0;
};
constexpr std::size_t most_descriptors = 1024;
std::array<Opened, most_descriptors> opened;

Opened opened_as(int descriptor) {
  const auto at = static_cast<std::size_t>(descriptor);
  return now != nullptr && descriptor >= 0 && at < most_descriptors ? opened[at] : Opened{};
}

int raw_open(const char* path, int flags, mode_t mode) {
  return static_cast<int>(::syscall(SYS_openat, AT_FDCWD, path, flags, mode));
}

bool stands(const char* path) { return ::syscall(SYS_faccessat, AT_FDCWD, path, F_OK) == 0; }

// -1 with the errno set where the disk refuses; `act` is the system's own call.
template <class Act>
auto unless_refused(Ask ask, const Act& act) -> decltype(act()) {
  if (const int error = now->refusal(ask)) {
    errno = error;
    return -1;
  }
  return act();
}

int open_watched(const char* path, int flags, mode_t mode) {
  if (now == nullptr || !now->holds(path)) return raw_open(path, flags, mode);
  return unless_refused(Ask::open, [&] {
    const bool fresh = (flags & O_CREAT) != 0 && !stands(path);
    const int descriptor = raw_open(path, flags, mode);
    if (descriptor < 0 || static_cast<std::size_t>(descriptor) >= most_descriptors)
      return descriptor;
    struct stat seen = {};
    ::fstat(descriptor, &seen);
    Opened& entry = opened[static_cast<std::size_t>(descriptor)];
    entry = {S_ISDIR(seen.st_mode) ? Kind::folder : Kind::file, 0};
    if (entry.kind == Kind::folder) return descriptor;
    entry.file = now->file_of(descriptor, fresh);
    if (fresh)
      now->keep({.what = Deed::What::make, .file = entry.file, .name = now->name_in(path)});
    if (!fresh && (flags & O_TRUNC) != 0) now->keep({.what = Deed::What::cut, .file = entry.file});
    return descriptor;
  });
}

// `write` is the system's call, which puts so many of the bytes there.
template <class Write>
ssize_t write_watched(const Opened& entry, const void* from, std::size_t size, off_t at,
                      const Write& write) {
  const auto put = [&](std::size_t some) {
    const ssize_t done = write(some);
    if (done > 0)
      now->keep({.what = Deed::What::write,
                 .file = entry.file,
                 .at = at,
                 .bytes = {static_cast<const char*>(from), static_cast<std::size_t>(done)}});
    return done;
  };
  const int error = now->refusal(Ask::write);
  if (error == 0) return put(size);
  if (now->half() && size > 1) put(size / 2);
  errno = error;
  return -1;
}

}  // namespace

const char* word_for(Ask ask) {
  constexpr std::array words = {"open", "read", "write", "cut", "sync", "lock", "name", "remove"};
  return words[static_cast<std::size_t>(ask)];
}

Watch::Watch(const std::string& folder, Fault fault, bool keep_deeds)
    : folder_(folder + '/'), fault_(fault), keep_deeds_(keep_deeds) {
  if (DIR* const listing = ::opendir(folder.c_str())) {
    while (const dirent* const entry = ::readdir(listing))
      if (entry->d_type == DT_REG) {
        doings_.names.emplace_back(entry->d_name);
        numbers_.push_back(entry->d_ino);
      }
    ::closedir(listing);
  }
  opened.fill({});
  now = this;
}

Watch::~Watch() { now = nullptr; }

bool Watch::holds(const std::string& path) const {
  return path.starts_with(folder_) || path + '/' == folder_;
}

std::string Watch::name_in(const std::string& path) const { return path.substr(folder_.size()); }

int Watch::refusal(Ask ask) {
  doings_.asked.push_back(ask);
  const bool here = static_cast<int>(doings_.asked.size()) == fault_.at;
  if (here) {
    doings_.failed = true;
    failing_ = ask;
    return fault_.error;
  }
  if (!doings_.failed || fault_.lasts == Fault::Lasts::once) return 0;
  return fault_.lasts == Fault::Lasts::all || ask == failing_ ? fault_.error : 0;
}

void Watch::keep(Deed deed) {
  if (keep_deeds_) doings_.deeds.push_back(std::move(deed));
}

int Watch::file_of(int descriptor, bool fresh) {
  struct stat seen = {};
  ::fstat(descriptor, &seen);
  // The system gives the number of a removed file to a new one.
  if (fresh) std::replace(numbers_.begin(), numbers_.end(), seen.st_ino, std::uint64_t{0});
  const auto found = std::find(numbers_.begin(), numbers_.end(), seen.st_ino);
  if (found != numbers_.end()) return static_cast<int>(found - numbers_.begin());
  numbers_.push_back(seen.st_ino);
  return static_cast<int>(numbers_.size()) - 1;
}

namespace {

std::string name_kept(const char* path) { return now->name_in(path); }

int rename_watched(const char* from, const char* to, unsigned flags) {
  const auto raw = [&] {
    return static_cast<int>(::syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, flags));
  };
  if (now == nullptr || !now->holds(to)) return raw();
  return unless_refused(Ask::name, [&] {
    const int done = raw();
    if (done == 0)
      now->keep({.what = Deed::What::rename, .name = name_kept(to), .former = name_kept(from)});
    return done;
  });
}

int remove_watched(int folder, const char* path, int flags) {
  const auto raw = [&] { return static_cast<int>(::syscall(SYS_unlinkat, folder, path, flags)); };
  if (now == nullptr || folder != AT_FDCWD || !now->holds(path)) return raw();
  return unless_refused(Ask::remove, [&] {
    const int done = raw();
    if (done == 0) now->keep({.what = Deed::What::remove, .name = name_kept(path)});
    return done;
  });
}

int sync_watched(int descriptor, long call) {
  const Opened entry = opened_as(descriptor);
  const auto raw = [&] { return static_cast<int>(::syscall(call, descriptor)); };
  if (entry.kind == Kind::other) return raw();
  return unless_refused(Ask::sync, [&] {
    const auto what = entry.kind == Kind::folder ? Deed::What::sync_folder : Deed::What::sync;
    now->keep({.what = what, .file = entry.file});
    return 0;  // what is remembered is all that a power cut here can show
  });
}

int cut_watched(int descriptor, off_t size) {
  const Opened entry = opened_as(descriptor);
  const auto raw = [&] { return static_cast<int>(::syscall(SYS_ftruncate, descriptor, size)); };
  if (entry.kind == Kind::other) return raw();
  return unless_refused(Ask::cut, [&] {
    const int done = raw();
    if (done == 0) now->keep({.what = Deed::What::cut, .file = entry.file, .at = size});
    return done;
  });
}

int control_watched(int descriptor, int command, void* argument) {
  const auto raw = [&] {
    return static_cast<int>(::syscall(SYS_fcntl, descriptor, command, argument));
  };
  const bool locks = (command == F_SETLK || command == F_OFD_SETLK) &&
                     opened_as(descriptor).kind == Kind::file &&
                     static_cast<const struct flock*>(argument)->l_type != F_UNLCK;
  if (locks) return unless_refused(Ask::lock, raw);
  const int done = raw();
  if ((command == F_DUPFD || command == F_DUPFD_CLOEXEC) && done >= 0 &&
      static_cast<std::size_t>(done) < most_descriptors)
    opened[static_cast<std::size_t>(done)] = opened_as(descriptor);
  return done;
}

ssize_t read_watched(int descriptor, const auto& raw) {
  if (opened_as(descriptor).kind != Kind::file) return raw();
  return unless_refused(Ask::read, raw);
}

// Streams of the C library call the system past these functions: one of a watched file is given
// them to call.
ssize_t stream_read(void* cookie, char* into, std::size_t size) {
  return ::read(static_cast<int>(reinterpret_cast<std::intptr_t>(cookie)), into, size);
}
ssize_t stream_write(void* cookie, const char* from, std::size_t size) {
  const ssize_t put =
      ::write(static_cast<int>(reinterpret_cast<std::intptr_t>(cookie)), from, size);
  return put < 0 ? 0 : put;
}
int stream_close(void* cookie) {
  return ::close(static_cast<int>(reinterpret_cast<std::intptr_t>(cookie)));
}

std::FILE* stream_of(int descriptor, const char* mode) {
  return ::fopencookie(reinterpret_cast<void*>(static_cast<std::intptr_t>(descriptor)), mode,
                       {stream_read, stream_write, nullptr, stream_close});
}

mode_t mode_of(int flags, va_list& rest) {
  return (flags & O_CREAT) != 0 ? static_cast<mode_t>(va_arg(rest, int)) : 0;
}

}  // namespace
}  // namespace plumule::tests

// In place of the C library's. Declared there with attributes and names that these need not have.
#pragma GCC diagnostic ignored "-Wmissing-declarations"
#pragma GCC diagnostic ignored "-Wnonnull-compare"
using namespace plumule::tests;

extern "C" {

int open(const char* path, int flags, ...) {
  va_list rest;
  va_start(rest, flags);
  const int descriptor = open_watched(path, flags, mode_of(flags, rest));
  va_end(rest);
  return descriptor;
}
int open64(const char* path, int flags, ...) {
  va_list rest;
  va_start(rest, flags);
  const int descriptor = open_watched(path, flags, mode_of(flags, rest));
  va_end(rest);
  return descriptor;
}
int close(int descriptor) {
  if (descriptor >= 0 && static_cast<std::size_t>(descriptor) < most_descriptors)
    opened[static_cast<std::size_t>(descriptor)] = {};
  return static_cast<int>(::syscall(SYS_close, descriptor));
}
ssize_t read(int descriptor, void* into, size_t size) {
  return read_watched(descriptor, [&] { return ::syscall(SYS_read, descriptor, into, size); });
}
ssize_t pread(int descriptor, void* into, size_t size, off_t at) {
  return read_watched(descriptor,
                      [&] { return ::syscall(SYS_pread64, descriptor, into, size, at); });
}
ssize_t pread64(int descriptor, void* into, size_t size, off64_t at) {
  return read_watched(descriptor,
                      [&] { return ::syscall(SYS_pread64, descriptor, into, size, at); });
}
ssize_t write(int descriptor, const void* from, size_t size) {
  const Opened entry = opened_as(descriptor);
  if (entry.kind != Kind::file) return ::syscall(SYS_write, descriptor, from, size);
  return write_watched(entry, from, size, ::lseek(descriptor, 0, SEEK_CUR),
                       [&](size_t some) { return ::syscall(SYS_write, descriptor, from, some); });
}
ssize_t pwrite64(int descriptor, const void* from, size_t size, off64_t at) {
  const Opened entry = opened_as(descriptor);
  const auto raw = [&](size_t some) { return ::syscall(SYS_pwrite64, descriptor, from, some, at); };
  return entry.kind == Kind::file ? write_watched(entry, from, size, at, raw) : raw(size);
}
ssize_t pwrite(int descriptor, const void* from, size_t size, off_t at) {
  return ::pwrite64(descriptor, from, size, at);
}
int fsync(int descriptor) { return sync_watched(descriptor, SYS_fsync); }
int fdatasync(int descriptor) { return sync_watched(descriptor, SYS_fdatasync); }
int ftruncate(int descriptor, off_t size) noexcept { return cut_watched(descriptor, size); }
int ftruncate64(int descriptor, off64_t size) noexcept { return cut_watched(descriptor, size); }
int fcntl(int descriptor, int command, ...) {
  va_list rest;
  va_start(rest, command);
  void* const argument = va_arg(rest, void*);
  va_end(rest);
  return control_watched(descriptor, command, argument);
}
int fcntl64(int descriptor, int command, ...) {
  va_list rest;
  va_start(rest, command);
  void* const argument = va_arg(rest, void*);
  va_end(rest);
  return control_watched(descriptor, command, argument);
}
int rename(const char* from, const char* to) noexcept { return rename_watched(from, to, 0); }
int renameat2(int, const char* from, int, const char* to, unsigned flags) noexcept {
  return rename_watched(from, to, flags);
}
int link(const char* from, const char* to) noexcept {
  const auto raw = [&] {
    return static_cast<int>(::syscall(SYS_linkat, AT_FDCWD, from, AT_FDCWD, to, 0));
  };
  if (now == nullptr || !now->holds(to)) return raw();
  return unless_refused(Ask::name, [&] {
    const int done = raw();
    if (done == 0)
      now->keep({.what = Deed::What::link, .name = name_kept(to), .former = name_kept(from)});
    return done;
  });
}
int unlink(const char* path) noexcept { return remove_watched(AT_FDCWD, path, 0); }
int unlinkat(int folder, const char* path, int flags) noexcept {
  return remove_watched(folder, path, flags);
}
int remove(const char* path) noexcept {
  const int done = remove_watched(AT_FDCWD, path, 0);
  return done != 0 && errno == EISDIR ? remove_watched(AT_FDCWD, path, AT_REMOVEDIR) : done;
}
int mkstemp(char* pattern) {
  static int made = 0;
  const std::string name(pattern);
  for (;;) {
    char ending[16];
    std::snprintf(ending, sizeof ending, "%06d", ++made % 1'000'000);
    (name.substr(0, name.size() - 6) + ending).copy(pattern, name.size());
    const int descriptor = ::open(pattern, O_RDWR | O_CREAT | O_EXCL, 0600);
    if (descriptor >= 0 || errno != EEXIST) return descriptor;
  }
}
std::FILE* fdopen(int descriptor, const char* mode) noexcept { return stream_of(descriptor, mode); }
}
