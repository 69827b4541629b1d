#include "logbook/file/disk.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>

#include "logbook/file/descriptor.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

bool stands(const std::string& path) {
  std::error_code ignored;
  return fs::exists(fs::symlink_status(path, ignored));
}

}  // namespace

std::string folder_of(const std::string& path) {
  const fs::path folder = fs::path(path).parent_path();
  return folder.empty() ? "." : folder.string();
}

bool holds_anything(const std::string& path) {
  struct stat seen = {};
  return ::stat(path.c_str(), &seen) == 0 && seen.st_size > 0;
}

std::string free_name(const std::string& wanted) {
  std::string name = wanted;
  for (int i = 2; stands(name); ++i) name = wanted + '-' + std::to_string(i);
  return name;
}

std::string free_name_with_journals(const std::string& wanted) {
  std::string name = wanted;
  for (int i = 2; stands(name) || stands(name + "-journal") || stands(name + "-wal"); ++i)
    name = wanted + '-' + std::to_string(i);
  return name;
}

bool sync_file(const std::string& path) {
  const Descriptor file(path, O_RDONLY);
  return file && ::fsync(file.number()) == 0;
}

bool sync_folder_of(const std::string& path) {
  const Descriptor folder(folder_of(path), O_RDONLY | O_DIRECTORY);
  return !folder || ::fsync(folder.number()) == 0;
}

bool rename_new(const std::string& from, const std::string& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) != 0) {
    // Not every file system can refuse to replace.
    if (errno != EINVAL || stands(to)) return false;
    if (std::rename(from.c_str(), to.c_str()) != 0) return false;
  }
  sync_folder_of(to);
  return true;
}

bool take_name(const std::string& finished, const std::string& name) {
  return sync_file(finished) && rename_new(finished, name);
}

bool replace_file(const std::string& finished, const std::string& name) {
  if (!sync_file(finished) || !sync_folder_of(finished)) return false;
  if (std::rename(finished.c_str(), name.c_str()) != 0) return false;
  sync_folder_of(name);
  return true;
}

bool copy_new(const std::string& from, const std::string& to) {
  const Descriptor source(from, O_RDONLY);
  struct stat seen = {};
  if (!source || ::fstat(source.number(), &seen) != 0) return false;
  const Descriptor copy(to, O_WRONLY | O_CREAT | O_EXCL, seen.st_mode & 0777);
  if (!copy) return false;
  std::string piece(std::size_t{1} << 16, '\0');
  ssize_t got = 0;
  while ((got = ::read(source.number(), piece.data(), piece.size())) > 0)
    if (!copy.write({piece.data(), static_cast<std::size_t>(got)})) break;
  if (got == 0 && ::fsync(copy.number()) == 0) return true;
  ::unlink(to.c_str());
  return false;
}

}  // namespace plumule::logbook
