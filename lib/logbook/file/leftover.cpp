#include "logbook/file/leftover.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>

#include "logbook/file/descriptor.hpp"
#include "logbook/file/disk.hpp"
#include "logbook/file/journal_head.hpp"

namespace plumule::logbook {
namespace {

bool write_copy(const std::string& from, const std::string& to, std::int64_t size,
                const ReadFile& read) {
  struct stat seen = {};
  const mode_t mode = ::stat(from.c_str(), &seen) == 0 ? seen.st_mode & 0777 : 0600;
  const Descriptor copy(to, O_WRONLY | O_CREAT | O_EXCL, mode);
  if (!copy) return false;
  std::string piece;
  for (std::int64_t at = 0; at < size; at += static_cast<std::int64_t>(piece.size())) {
    piece.resize(static_cast<std::size_t>(std::min(size - at, std::int64_t{1} << 20)));
    if (!read(piece.data(), static_cast<int>(piece.size()), at) || !copy.write(piece)) return false;
  }
  return ::fsync(copy.number()) == 0;
}

}  // namespace

std::string in_words(const Leftover& leftover) {
  if (leftover.what == Leftover::What::set_aside)
    return "The journal beside " + leftover.logbook +
           " was left there by a command that worked on another file. It was not used, and is "
           "kept: " +
           leftover.kept + '.';
  if (leftover.what == Leftover::What::hurt)
    return "The journal beside " + leftover.logbook +
           ", by which it was to be put right, is damaged or of another file. It was not used, and "
           "is kept: " +
           leftover.kept + '.';
  return leftover.logbook +
         " was left by a command that was stopped in the midst of writing, and nothing tells "
         "whether the journal beside it is its own. It was put right by it; copies of both as they "
         "were are kept: " +
         leftover.kept + ", and its journal.";
}

std::optional<std::string> set_aside(const std::string& path, const std::string& end) {
  std::string kept = free_name(path + end + ".stray");
  if (!rename_new(path + end, kept)) return std::nullopt;
  return kept;
}

std::optional<Leftovers> clear_the_place(const std::string& path) {
  Leftovers found;
  for (const std::string end : journal_ends) {
    // One that has ended holds nothing, and the new file's first commit takes it over.
    const bool counts =
        end == "-wal" ? holds_anything(path + end) : rollback_journal(path + end).counts;
    if (!counts) continue;
    const auto kept = set_aside(path, end);
    if (!kept) return std::nullopt;
    found.push_back({Leftover::What::set_aside, path, *kept});
  }
  return found;
}

std::optional<std::string> copy_as_found(const std::string& path, const std::string& end,
                                         std::int64_t size, const ReadFile& read) {
  std::string kept = free_name_with_journals(path + ".as-found");
  if (write_copy(path, kept, size, read) && copy_new(path + end, kept + end) &&
      sync_folder_of(kept))
    return kept;
  ::unlink(kept.c_str());
  ::unlink((kept + end).c_str());
  return std::nullopt;
}

}  // namespace plumule::logbook
