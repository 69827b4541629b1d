#include "logbook/file/odd_path.hpp"

#include <sys/stat.h>

#include <cerrno>
#include <filesystem>

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t longest_name = 200;  // bytes; of the 255 that a disk takes copies need some
constexpr std::size_t longest_path = 500;  // bytes; SQLite takes 512, with the end of the journal's

std::string too_long(const std::string& path) {
  return "The name " + path + " is longer than a disk takes.";
}

// Of a link that cannot be followed to its end.
std::string broken_link(const std::string& path, int why) {
  if (why == ELOOP) return path + " is a link that leads back to itself, and to no file.";
  std::error_code ignored;
  const std::string to = fs::read_symlink(path, ignored).string();
  return path + " is a link to " + to +
         (why == EACCES ? ", where this user may not look." : ", and nothing is there.");
}

std::size_t whole_length(const std::string& path) {
  std::error_code trouble;
  const fs::path whole = fs::absolute(path, trouble);
  return trouble ? path.size() : whole.string().size();
}

}  // namespace

std::optional<std::string> odd_on_the_way(const std::string& path) {
  fs::path way;
  const fs::path all(path);
  for (auto step = all.begin(); step != all.end(); ++step) {
    way /= *step;
    const std::string here = way.string();
    struct stat seen = {};
    if (::lstat(here.c_str(), &seen) != 0) {
      if (errno == ENAMETOOLONG) return too_long(here);
      return std::nullopt;
    }
    if (S_ISLNK(seen.st_mode) && ::stat(here.c_str(), &seen) != 0) return broken_link(here, errno);
    if (std::next(step) != all.end() && !S_ISDIR(seen.st_mode))
      return std::string(here).append(" is a file and no folder, so there is no ").append(path) +
             '.';
  }
  return std::nullopt;
}

std::optional<std::string> odd_place(const std::string& path) {
  if (auto odd = odd_on_the_way(path)) return odd;
  if (fs::path(path).filename().string().size() > longest_name)
    return "The name " + path + " is too long: " + std::to_string(longest_name) +
           " letters are the most (and fewer where they have accents or are not Latin).";
  if (whole_length(path) > longest_path)
    return "The way to " + path + " is too long: with all its folders " +
           std::to_string(longest_path) + " letters are the most.";
  return std::nullopt;
}

std::optional<std::string> no_journal_beside(const std::string& path) {
  constexpr std::size_t disk_takes = 255, ending = 8;  // bytes: "-journal"
  std::error_code trouble;
  const fs::path real = fs::canonical(path, trouble);
  if (trouble || (real.filename().string().size() + ending <= disk_takes &&
                  real.string().size() <= longest_path))
    return std::nullopt;
  return "The name " + path +
         " is too long: a second file is needed beside it, whose name is longer by 8 letters. Give "
         "it a shorter name, or a folder nearer to the root.";
}

}  // namespace plumule::logbook
