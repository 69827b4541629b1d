#include "logbook/store/sql_trouble.hpp"

#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <string_view>
#include <utility>

#include "logbook/file/descriptor.hpp"
#include "logbook/file/temporary.hpp"
#include "logbook/logbook.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

// What the guards say (schema/guards.sql), and the sentence for it.
constexpr std::array<std::pair<std::string_view, std::string_view>, 13> guards = {{
    {"a count before the sowing", "A count cannot come before its sowing."},
    {"something up on the day of sowing", "Nothing can be up on the very day of sowing."},
    {"more up than sown", "More cannot be up than was sown and not found unsprouted."},
    {"a count after the ending", "A count cannot come after its sowing ended."},
    {"a total where sprouts are taken out",
     "Where sprouts are taken out at each look, only new ones are counted."},
    {"fewer seedlings than units", "Each unit that is up has one seedling at least."},
    {"more seedlings than seeds", "Cells cannot give more seedlings than seeds were put in them."},
    {"a total that falls",
     "The total ever up cannot fall; seedlings that died are counted as lost."},
    {"a count is never edited", "A count is not edited in place; a correction keeps what it was."},
    {"a block of another trial", "That block belongs to another trial."},
    {"more assessed than did not come up",
     "More cannot be assessed than were sown and did not come up."},
    {"an assessment is never edited", "An assessment is not edited in place."},
    {"untreated always exists", "The treatment untreated always exists."},
}};

std::string refusal_of(const SQLite::Exception& error) {
  const std::string_view said = error.what();
  for (const auto& [guard, sentence] : guards)
    if (said == guard) return std::string(sentence);
  switch (error.getExtendedErrorCode()) {
    case SQLITE_CONSTRAINT_UNIQUE:
    case SQLITE_CONSTRAINT_PRIMARYKEY:
      return "The logbook has such a record already.";
    case SQLITE_CONSTRAINT_FOREIGNKEY:
      return "The logbook has nothing of that name for this record to belong to.";
    default:
      return "The logbook's own rules refuse this record: one of its figures cannot be.";
  }
}

// What the file may be sound in spite of; returns where it is none of that.
void throw_hindered(const SQLite::Exception& error, const std::string& path, int number) {
  using By = Hindered::By;
  const int extended = error.getExtendedErrorCode();
  if (error.getErrorCode() == SQLITE_NOMEM || extended == SQLITE_IOERR_NOMEM)
    throw Hindered(By::memory, "There is not enough memory to go on with " + path + '.');
  const bool full = error.getErrorCode() == SQLITE_FULL;
  const auto folder = failed_temporary_folder();
  if (folder &&
      (full || error.getErrorCode() == SQLITE_IOERR || error.getErrorCode() == SQLITE_CANTOPEN))
    throw Hindered(
        By::no_temporary,
        folder->empty()
            ? std::string("There is no folder in which temporary files can be made. Name "
                          "one in $TMPDIR.")
            : "A temporary file could not be written in " + *folder + ": " +
                  disk_trouble(full ? ENOSPC : number) +
                  ". Make room there, or name another folder in $TMPDIR.");
  switch (error.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      throw Hindered(
          By::others,
          path +
              " is locked: another program has been writing to it for 5 seconds. Wait for it "
              "or close it, and try again.");
    case SQLITE_FULL:
      throw Hindered(By::full_disk, path + " could not be written: the disk is full.", ENOSPC);
    case SQLITE_CANTOPEN:
      throw Hindered(
          By::no_opening,
          path + " could not be opened. Does its folder exist, and may you write there?");
    case SQLITE_PERM:
    case SQLITE_AUTH:
      throw Hindered(By::no_opening, path + " may not be opened by this user.");
    case SQLITE_IOERR:
      if (extended == SQLITE_IOERR_DATA) return;
      throw Hindered(means_full(number) ? By::full_disk
                     : extended == SQLITE_IOERR_READ || extended == SQLITE_IOERR_CORRUPTFS
                         ? By::reading
                         : By::disk,
                     path + " could not be read or written: " + disk_trouble(number) + '.', number);
    default:
      return;
  }
}

records::Refusal unusable(const SQLite::Exception& error, const std::string& path) {
  switch (error.getErrorCode()) {
    case SQLITE_READONLY:
      if (error.getExtendedErrorCode() == SQLITE_READONLY_ROLLBACK)
        return {path +
                    " was left by a command that was stopped in the midst of writing, and cannot "
                    "be put right read-only. Open it once where it can be written.",
                {}};
      if (error.getExtendedErrorCode() == SQLITE_READONLY_DBMOVED)
        return {
            path +
                " was replaced by another file, or removed, while this command ran. Type it again.",
            {}};
      return {path + " cannot be written: it, or the folder it lies in, is read-only.", {}};
    case SQLITE_NOTADB:
      throw_no_logbook(path);
    case SQLITE_CORRUPT:
    case SQLITE_IOERR:  // a page that was read is not as it was written
      return {
          path +
              " is damaged: a part of it is lost or was overwritten (by the disk, or by a copy cut "
              "short).",
          to_a_backup(path)};
    case SQLITE_ERROR:
    case SQLITE_SCHEMA:
      return {path + " lacks a part that every logbook has, or another program changed it.",
              to_a_backup(path)};
    default:
      return {
          path + " could not be used (SQLite's code " + std::to_string(error.getErrorCode()) + ").",
          {}};
  }
}

// A logbook whose first bytes were overwritten is none; a spreadsheet is.
bool holds_text(const std::string& path) {
  const Descriptor file(path, O_RDONLY);
  std::array<char, 4096> start{};
  const std::size_t size = file ? file.read(start.data(), start.size(), 0) : 0;
  return std::memchr(start.data(), 0, size) == nullptr;
}

}  // namespace

std::vector<records::Hint> to_a_backup(const std::string& path) {
  return {{records::Advice::restore_backup, path}};
}

void throw_altered(const std::string& path) {
  throw Unusable(path +
                     " is not as it was written: a part of it was damaged (by the disk, or by a "
                     "copy cut short), or another program changed it. No figure is taken from it.",
                 {{records::Advice::find_damage, path}});
}

void throw_no_logbook(const std::string& path) {
  throw Unusable(path + " is not a logbook, but some other file, or one that was overwritten.",
                 holds_text(path)
                     ? std::vector<records::Hint>{{records::Advice::name_other_or_take_in}}
                     : to_a_backup(path));
}

bool means_full(int number) { return number == ENOSPC || number == EDQUOT || number == EFBIG; }

std::string disk_trouble(int number) {
  switch (number) {
    case ENOSPC:
      return "the disk is full";
    case EDQUOT:
      return "your share of the disk is used up";
    case EFBIG:
      return "no file may be so large here";
    case EROFS:
      return "the disk is read-only";
    case EACCES:
    case EPERM:
      return "this user may not write there";
    case ENOENT:
    case ENOTDIR:
      return "there is no such folder";
    default:
      return "the disk reports an error";
  }
}

void throw_trouble(const SQLite::Exception& error, const std::string& path, int number) {
  if (error.getErrorCode() == SQLITE_CONSTRAINT) throw records::Refused(refusal_of(error));
  throw_hindered(error, path, number);
  const records::Refusal trouble = unusable(error, path);
  throw Unusable(trouble.fact, trouble.hints);
}

}  // namespace plumule::logbook
