#include "logbook/file/part.hpp"

#include <sys/stat.h>
#include <sys/vfs.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <ctime>
#include <filesystem>
#include <random>
#include <string_view>

#include "logbook/file/descriptor.hpp"
#include "logbook/file/disk.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view infix = ".plumule.part-";
constexpr std::size_t drawn_size = 6;
constexpr std::string_view journal_end = "-journal";

std::string drawn() {
  constexpr std::string_view letters = "abcdefghijklmnopqrstuvwxyz0123456789";
  std::random_device device;
  std::uniform_int_distribution<std::size_t> any(0, letters.size() - 1);
  std::string word;
  for (std::size_t i = 0; i < drawn_size; ++i) word += letters[any(device)];
  return word;
}

// The name of the place, cut where no disk would take it with what is added to it.
std::string part_name(const std::string& beside) {
  constexpr std::size_t most = 200;  // bytes, of 255
  std::string name = fs::path(beside).filename().string();
  if (name.size() > most) {
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U) --end;
    name.resize(end);
  }
  return (fs::path(beside).parent_path() / (name + std::string(infix) + drawn())).string();
}

bool is_part_name(std::string_view name) {
  const std::size_t at = name.rfind(infix);
  if (at == std::string_view::npos || name.size() != at + infix.size() + drawn_size) return false;
  return std::all_of(name.end() - drawn_size, name.end(),
                     [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); });
}

enum class Lock { held, taken, unknown };  // unknown: not every disk has locks

Lock hold(int file) {
  struct flock lock = {};
  lock.l_type = F_WRLCK;
  lock.l_whence = SEEK_SET;
  lock.l_start = 0x40000000 + 4096;  // SQLite locks 512 bytes from 0x40000000 on
  lock.l_len = 1;
  if (::fcntl(file, F_OFD_SETLK, &lock) == 0) return Lock::held;
  return errno == EAGAIN || errno == EACCES ? Lock::taken : Lock::unknown;
}

bool still_named(int file, const std::string& path) {
  struct stat held = {};
  struct stat named = {};
  return ::fstat(file, &held) == 0 && ::lstat(path.c_str(), &named) == 0 &&
         held.st_dev == named.st_dev && held.st_ino == named.st_ino;
}

bool of_a_network(int file) {
  constexpr std::uint32_t kinds[] = {0x6969,       // NFS
                                     0x517B,       // SMB
                                     0xFF534D42,   // CIFS
                                     0xFE534D42,   // SMB2
                                     0x65735546,   // FUSE, of which some are a network's
                                     0x01021997,   // 9P
                                     0x00C36400,   // Ceph
                                     0x5346414F};  // AFS
  struct statfs seen = {};
  return ::fstatfs(file, &seen) == 0 &&
         std::find(std::begin(kinds), std::end(kinds), static_cast<std::uint32_t>(seen.f_type)) !=
             std::end(kinds);
}

bool written_today(int file) {
  constexpr std::time_t day = 24 * 60 * 60;
  struct stat seen = {};
  return ::fstat(file, &seen) != 0 || std::time(nullptr) - seen.st_mtime < day;
}

void clear_if_left(const std::string& path) {
  const Descriptor file(path, O_RDWR | O_NOFOLLOW | O_NONBLOCK);
  struct stat seen = {};
  if (!file || ::fstat(file.number(), &seen) != 0 || !S_ISREG(seen.st_mode)) return;
  if (hold(file.number()) != Lock::held || !still_named(file.number(), path)) return;
  if (of_a_network(file.number()) && written_today(file.number())) return;
  ::unlink((path + std::string(journal_end)).c_str());
  ::unlink(path.c_str());
}

}  // namespace

Part::Part(const std::string& beside, unsigned mode) {
  clear_left_parts(folder_of(beside));
  constexpr int tries = 100;
  for (int i = 0; i < tries; ++i) {
    path_ = part_name(beside);
    file_ = std::make_unique<Descriptor>(path_, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW,
                                         (mode & 0777U) | 0600U);
    error_ = errno;
    if (!*file_ && error_ != EEXIST) return;
    // Another command may take it for one that was left, before it is held.
    if (*file_ && hold(number()) != Lock::taken && still_named(number(), path_)) return;
  }
}

Part::operator bool() const { return file_ && *file_; }

int Part::number() const { return file_->number(); }

Part::~Part() {
  if (!*this) return;
  ::unlink((path_ + std::string(journal_end)).c_str());  // it has ended where the part was renamed
  if (still_named(number(), path_)) ::unlink(path_.c_str());
}

void clear_left_parts(const std::string& folder) {
  std::error_code ended;
  for (fs::directory_iterator entry(folder, ended), end; !ended && entry != end;
       entry.increment(ended)) {
    const std::string path = entry->path().string();
    const std::string name = entry->path().filename().string();
    if (is_part_name(name)) {
      clear_if_left(path);
    } else if (name.ends_with(journal_end) &&
               is_part_name(name.substr(0, name.size() - journal_end.size()))) {
      const std::string of = path.substr(0, path.size() - journal_end.size());
      struct stat seen = {};
      if (::lstat(of.c_str(), &seen) != 0) ::unlink(path.c_str());
    }
  }
}

unsigned mode_of_copy(const std::string& of) {
  struct stat seen = {};
  return ::stat(of.c_str(), &seen) == 0 ? (seen.st_mode & 0777U) | 0600U : 0600U;
}

}  // namespace plumule::logbook
