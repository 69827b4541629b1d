#include "logbook/upkeep/opening.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

#include "logbook/file/disk.hpp"
#include "logbook/file/layer.hpp"
#include "logbook/file/mark.hpp"
#include "logbook/file/odd_path.hpp"
#include "logbook/file/part.hpp"
#include "logbook/file/second_name.hpp"
#include "logbook/store/one_moment.hpp"
#include "logbook/store/sql_trouble.hpp"

namespace plumule::logbook {
namespace {

namespace fs = std::filesystem;

bool may(const std::string& path, int how) {
  return ::faccessat(AT_FDCWD, path.c_str(), how, AT_EACCESS) == 0;
}

// What stands at the path, as far as the file system tells.
struct Looked {
  bool can_write = false;
  nlink_t names = 1;
};
Looked look_at(const std::string& path, Access access) {
  struct stat seen = {};
  if (::stat(path.c_str(), &seen) != 0) {
    if (const auto odd = odd_on_the_way(path)) throw Unusable(*odd);
    if (errno == EACCES) throw Unusable(path + " may not be looked at by this user.");
    throw Unusable("There is no logbook at " + path + '.', {{records::Advice::make_logbook}});
  }
  if (S_ISDIR(seen.st_mode))
    throw Unusable(path + " is a folder, not a logbook.", {{records::Advice::name_file_in_folder}});
  if (!S_ISREG(seen.st_mode)) throw Unusable(path + " is not a logbook: it is no ordinary file.");
  if (seen.st_size == 0)
    throw Unusable(path + " is empty (0 bytes), so it is no logbook.",
                   {{records::Advice::restore_backup, path}, {records::Advice::make_logbook_anew}});
  constexpr auto least_database = 512;  // bytes: SQLite takes a byte or two for an empty database
  if (seen.st_size < least_database) throw_no_logbook(path);
  if (!may(path, R_OK)) throw Unusable(path + " may not be read by this user.");
  const bool file = may(path, W_OK);
  if (access == Access::write && !file)
    throw Unusable(path + " is read-only, so nothing can be logged in it.");
  if (access == Access::write)
    if (const auto odd = no_journal_beside(path)) throw Unusable(*odd);
  const bool folder = file && may(folder_of(path), W_OK);
  if (access == Access::write && !folder)
    throw Unusable(folder_of(path) + " is read-only, so nothing can be logged in " + path +
                   ": writing needs a second file beside it.");
  return {folder, seen.st_nlink};
}

void recognise(const std::string& path, const Marks& marks, const Ladder& ladder) {
  if (marks.application != application_id)
    throw Unusable(
        path + " is a database of another program, not a logbook.",
        {{records::Advice::name_other_or_make}, {records::Advice::restore_backup, path}});
  if (marks.version > ladder.version())
    throw Unusable(path + " was written by a newer plumule (its record is of make " +
                       std::to_string(marks.version) + ", this one knows up to " +
                       std::to_string(ladder.version()) + "). Use that one.",
                   to_a_backup(path));
  if (marks.version < 1)
    throw Unusable(path + " is damaged: it says that it was never finished.", to_a_backup(path));
}

// The rollback journal stays beside the file and is ended by writing over its head: as durable as
// its removal (once the head is synced nothing can take the last count back), and without the two
// changes of the folder that cost most of a commit. One that a large import left is cut short.
// Another program may have left the file in write-ahead mode, in which a copy of the file alone is
// not all of it: this brings it back; where that one is still at work the file stays as it is.
void keep_journal(Store& store) {
  store.database().tryExec("pragma journal_mode = persist; pragma journal_size_limit = 1048576");
}

// A logbook of before bears no mark. Where others are at work in it, a later command marks it.
void gain_mark(Store& store) {
  sqlite3* const database = store.database().getHandle();
  if (is_marked(database)) return;
  store.wait_at_most(std::chrono::milliseconds(0));
  if (store.database().tryExec("begin exclusive") == SQLite::OK) {
    mark_in_place(database);
    store.database().tryExec("commit");
  }
  store.wait_at_most(busy_wait);
}

// What was found beside the file is told also where it cannot be used after all.
template <class Open>
void telling_leftovers(Store& store, const Open& open) {
  try {
    open();
  } catch (const Unusable& trouble) {
    std::string sentence = trouble.what();
    std::vector<records::Hint> hints = trouble.hints();
    for (const Leftover& leftover : store.leftovers()) {
      sentence += ' ' + in_words(leftover);
      if (leftover.what == Leftover::What::as_found)
        hints.push_back({records::Advice::restore_if_wrong, leftover.logbook});
    }
    throw Unusable(sentence, std::move(hints));
  }
}

// Read in one transaction together with the schema, which the first statement after would read:
// each transaction of its own locks the file and looks for a journal left behind.
Marks marks_with_schema(Store& store) {
  const OneMoment moment(store);
  const Marks marks = read_marks(store);
  if (marks.application == application_id) Query(store, "select 1 from journal");
  return marks;
}

[[noreturn]] void throw_unmade(const std::string& path, const std::string& why) {
  throw Unusable("No logbook can be made at " + path + ": " + why + '.');
}

void make_folder(const std::string& path) {
  std::error_code trouble;
  fs::create_directories(folder_of(path), trouble);
  if (trouble || !may(folder_of(path), W_OK))
    throw_unmade(path, "its folder cannot be made or written");
}

}  // namespace

Leftovers create_file(const std::string& path, const std::function<void(Logbook&)>& fill) {
  const std::string stands = path + " exists already, so no logbook was made there.";
  if (path.empty()) throw Unusable("A logbook needs a file name.");
  if (const auto odd = odd_place(path)) throw Unusable("No logbook can be made there. " + *odd);
  std::error_code ignored;
  if (fs::exists(fs::symlink_status(path, ignored))) throw Unusable(stands);
  make_folder(path);
  // Made whole under another name: a stop on the way leaves no half-made logbook.
  constexpr mode_t usual = 0644;  // SQLite's own; the umask narrows it
  const Part part(path, usual);
  if (!part) throw_unmade(path, disk_trouble(part.error()));
  try {
    Store store(part.path(), SQLite::OPEN_READWRITE);
    store.run("pragma synchronous = off");
    lay_schema(store, ladder());
  } catch (const Hindered& trouble) {
    throw_unmade(path, disk_trouble(trouble.number()));
  } catch (const Unusable&) {
    throw_unmade(path, "the disk refuses it");
  }
  if (fill) {
    Logbook logbook = Logbook::open(part.path(), Access::write);
    fill(logbook);
  }
  std::optional<Leftovers> leftovers = clear_the_place(path);
  if (!leftovers) throw_unmade(path, "the disk refuses it");
  if (!sync_file(part.path())) throw_unmade(path, disk_trouble(errno));
  if (!rename_new(part.path(), path)) throw Unusable(stands);
  return std::move(*leftovers);
}

std::unique_ptr<Store> create_store(const std::string& path) {
  const Leftovers leftovers = create_file(path, {});
  try {
    auto store = open_store(path, Access::write, ladder());
    store->leftovers().insert(store->leftovers().begin(), leftovers.begin(), leftovers.end());
    return store;
  } catch (const Unusable& trouble) {
    throw Stands(true, trouble);
  }
}

Opened open_as_it_is(const std::string& path, Access access, const Ladder& ladder, Seals seals) {
  Opened opened;
  const Looked looked = look_at(path, access);
  opened.can_write = looked.can_write;
  // Also for reading: only so can what a stopped command left behind be rolled back.
  opened.store = std::make_unique<Store>(
      path, opened.can_write ? SQLite::OPEN_READWRITE : SQLite::OPEN_READONLY, seals);
  if (looked.names > 1)
    refuse_if_unfinished_elsewhere(opened.store->database().getHandle(), path, looked.names);
  telling_leftovers(*opened.store, [&] {
    opened.marks = marks_with_schema(*opened.store);
    recognise(path, opened.marks, ladder);
  });
  return opened;
}

std::unique_ptr<Store> open_store(const std::string& path, Access access, const Ladder& ladder,
                                  Seals seals) {
  std::optional<std::string> older;  // where the file lies that was migrated
  Leftovers found;
  for (;;) {
    Opened opened = open_as_it_is(path, access, ladder, seals);
    Store& store = *opened.store;
    telling_leftovers(store, [&] {
      if (opened.can_write) {
        keep_journal(store);
        gain_mark(store);
      }
      if (opened.marks.version >= ladder.version() || store.altered()) return;
      if (!opened.can_write)
        throw Unusable(path +
                       " is of an older make and read-only, so it cannot be brought up to "
                       "date. Make it and its folder writable, or copy it to where they are.");
      older = migrate(store, ladder);
    });
    found.insert(found.end(), store.leftovers().begin(), store.leftovers().end());
    if (opened.marks.version < ladder.version() && !store.altered()) continue;  // it was replaced
    store.leftovers() = std::move(found);
    store.migration_backup = std::move(older);
    store.writable = access == Access::write;
    return std::move(opened.store);
  }
}

}  // namespace plumule::logbook
