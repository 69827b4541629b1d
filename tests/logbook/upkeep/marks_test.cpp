// The mark of a file: its own from the start, unmoved by whatever is written, gained by files of
// before, and what tells a stranger's journal.
#include "logbook/file/mark.hpp"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <unistd.h>

#include <csignal>

#include "logbook/file/journal_head.hpp"
#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/sealing.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

Head head_of(const std::string& path) {
  const std::string bytes = bytes_of(path);
  REQUIRE(bytes.size() >= static_cast<std::size_t>(head_size));
  return head_in(reinterpret_cast<const unsigned char*>(bytes.data()));
}

void unmark(const std::string& path) {
  std::string bytes = bytes_of(path);
  bytes.replace(mark_at, mark_size, mark_size, '\0');
  write_bytes(path, bytes);
}

std::string opening(const std::string& path, Access access = Access::write) {
  try {
    Logbook::open(path, access);
  } catch (const Unusable& error) {
    return error.what();
  }
  return "(usable)";
}

// A journal that counts, of a file in the given states.
std::string journal_of(const Mark& before, const Mark& after) {
  std::string head(512, '\0');
  const unsigned char magic[] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};
  auto* const bytes = reinterpret_cast<unsigned char*>(head.data());
  std::copy(std::begin(magic), std::end(magic), bytes);
  put_big_endian(1, bytes + 16);  // the file had one page: played back it loses the others
  put_big_endian(512, bytes + 20);
  put_big_endian(4096, bytes + 24);
  put_stamp({before, after}, bytes);
  return head;
}

}  // namespace

TEST_SUITE("marks") {
  TEST_CASE("a new file has a mark, a copy of it another, and no transaction moves it") {
    const Folder folder;
    const std::string path = folder / "a.db";
    Keeping keeping(Logbook::create(path));
    const Mark first = head_of(path).mark;
    CHECK_FALSE(first.none());
    backup(keeping.book, folder / "b.db");
    const Mark copy = head_of(folder / "b.db").mark;
    CHECK_FALSE(copy.none());
    CHECK(copy.file != first.file);

    keeping.sow(tray("K3"));
    const Mark second = head_of(path).mark;
    CHECK(second.file == first.file);
    CHECK(second.state != first.state);
    // A rebuild in place writes page 1 anew, without a mark.
    pack(keeping.book);
    CHECK(head_of(path).mark.file == first.file);
    keeping.count("K3=4", "2026-04-10");
    CHECK(head_of(path).mark.file == first.file);
    // A transaction that fails leaves the state as it is.
    const Mark third = head_of(path).mark;
    {
      Entry entry(keeping.book, "ada", "sow", keeping.today);
      add_sowing(entry, tray("K4"));
    }
    CHECK(head_of(path).mark == third);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a file of before gains its mark in place, and nothing else in it changes") {
    const Folder folder;
    const std::string path = folder / "a.db";
    lay_older(path, 3);
    const std::string before = bytes_of(path);
    {
      SQLite::Database other(path, SQLite::OPEN_READONLY);
      CHECK(other.execAndGet("select count(*) from sowings").getInt() == 1);
      // Not while somebody reads; it is brought up to date all the same.
      other.exec("begin");
      other.execAndGet("select count(*) from sowings");
      Logbook book = Logbook::open(path, Access::read);
      CHECK(bytes_of(book.migration_backup().value()) == before);
      other.exec("commit");
    }
    write_bytes(path, before);
    const std::string kept = Logbook::open(path, Access::read).migration_backup().value();
    std::string after = bytes_of(kept);
    CHECK_FALSE(head_of(kept).mark.none());
    // The change counter moves, so that whoever has the page in memory reads it anew.
    CHECK(head_of(kept).counter ==
          big_endian(reinterpret_cast<const unsigned char*>(before.data()) + counter_at) + 1);
    for (const int at : {mark_at, counter_at, 92})
      after.replace(static_cast<std::size_t>(at), at == mark_at ? mark_size : 4,
                    before.substr(static_cast<std::size_t>(at), at == mark_at ? mark_size : 4));
    CHECK(after == before);
    CHECK(SQLite::Database(kept).execAndGet("pragma integrity_check").getString() == "ok");
    const Mark gained = head_of(path).mark;
    Logbook::open(path, Access::write);
    CHECK(head_of(path).mark == gained);
  }

  TEST_CASE("whose a journal is") {
    const Mark here = fresh_mark();
    const Mark next = in_next_state(here);
    const Mark later = in_next_state(next);
    const Mark other = fresh_mark();
    CHECK(next.file == here.file);
    const auto stamped = [](const Mark& before, const Mark& after) {
      Journal journal;
      journal.stamp = Stamp{before, after};
      return journal;
    };
    CHECK(belongs(stamped(here, next), here) == Belongs::here);
    CHECK(belongs(stamped(here, next), next) == Belongs::here);
    CHECK(belongs(stamped(here, next), later) == Belongs::elsewhere);
    CHECK(belongs(stamped(here, next), other) == Belongs::elsewhere);
    CHECK(belongs(stamped(here, next), Mark{}) == Belongs::elsewhere);
    CHECK(belongs(stamped(Mark{}, Mark{}), Mark{}) == Belongs::unclear);
    CHECK(belongs(stamped(Mark{}, Mark{}), here) == Belongs::elsewhere);
    const auto page_one = [](const Mark& mark) {
      Journal journal;
      journal.page_one = mark;
      return journal;
    };
    CHECK(belongs(page_one(here), here) == Belongs::here);
    CHECK(belongs(page_one(other), here) == Belongs::elsewhere);
    CHECK(belongs(page_one(Mark{}), here) == Belongs::elsewhere);
    CHECK(belongs(page_one(here), Mark{}) == Belongs::unclear);
    CHECK(belongs(Journal{}, here) == Belongs::unclear);
  }

  TEST_CASE("a journal without a page would still cut the file; a stranger's does not") {
    const Folder folder;
    const std::string path = folder / "a.db";
    { Keeping(Logbook::create(path)).sow(tray("K3")); }
    const std::string stranger = journal_of(fresh_mark(), fresh_mark());
    write_bytes(path + "-journal", stranger);
    {
      Keeping keeping(Logbook::open(path, Access::read));
      REQUIRE(keeping.book.leftovers().size() == 1);
      CHECK(keeping.book.leftovers()[0].kept == path + "-journal.stray");
      CHECK(check(keeping.book).empty());
    }
    CHECK(bytes_of(path + "-journal.stray") == stranger);
    // The next one gets another name.
    write_bytes(path + "-journal", stranger);
    CHECK(Logbook::open(path, Access::write).leftovers().at(0).kept == path + "-journal.stray-2");
    // One with the file's own mark is played back, as SQLite would: here the file is cut by it.
    const Mark own = head_of(path).mark;
    write_bytes(path + "-journal", journal_of(own, in_next_state(own)));
    CHECK(opening(path).find("is damaged") != std::string::npos);
    CHECK(fs::file_size(path) == 4096);
  }

  TEST_CASE("no journal makes the file larger than what stands in both") {
    const Folder folder;
    const std::string path = folder / "a.db";
    lay_older(path, 3);
    const std::string before = bytes_of(path);
    std::string journal = journal_of({}, {});
    std::fill_n(journal.begin() + stamp_at, stamp_size, '\0');  // another program's
    put_big_endian(0x40000000, reinterpret_cast<unsigned char*>(journal.data()) + 16);
    write_bytes(path + "-journal", journal);
    CHECK(opening(path).find("The journal beside " + path) == 0);
    CHECK(bytes_of(path) == before);
    CHECK(bytes_of(path + "-journal") == journal);
  }

  TEST_CASE("where both cannot be copied nothing is played back") {
    const Folder folder;
    const std::string path = folder / "a.db";
    { Keeping(Logbook::create(path)).sow(tray("K3")); }
    unmark(path);
    const std::string before = bytes_of(path);
    const std::string journal = journal_of(Mark{}, Mark{});
    write_bytes(path + "-journal", journal);
    // No file may grow beyond half of it: as on a full disk.
    const pid_t process = start([&] {
      std::signal(SIGXFSZ, SIG_IGN);
      const rlimit half{before.size() / 2, before.size() / 2};
      ::setrlimit(RLIMIT_FSIZE, &half);
      return opening(path).find("All is as it was.") != std::string::npos ? 0 : 1;
    });
    CHECK(outcome(process) == 0);
    CHECK(bytes_of(path) == before);
    CHECK(bytes_of(path + "-journal") == journal);
    CHECK(folder.files() == 1);
  }

  TEST_CASE("a write-ahead log of another file is set aside, the file's own is taken in") {
    const Folder folder;
    const std::string path = folder / "a.db";
    { Keeping(Logbook::create(path)).sow(tray("K3")); }
    fs::copy_file(path, folder / "backup.db");
    // As another program leaves it that was stopped: rows in the log, page 1 among them.
    fs::copy_file(path, folder / "at-work.db");
    std::string own_log;
    {
      SQLite::Database writer(folder / "at-work.db", SQLite::OPEN_READWRITE);
      writer.exec("pragma journal_mode = wal; create table more (a); insert into more values (1)");
      own_log = bytes_of(folder / "at-work.db-wal");
      fs::copy_file(folder / "at-work.db", folder / "stopped.db");
    }
    write_bytes(folder / "stopped.db-wal", own_log);
    // What it holds no logbook wrote: it is for `check` to say what it is.
    CHECK(opening(folder / "stopped.db").find("is not as it was written") != std::string::npos);
    CHECK(bytes_of(folder / "stopped.db-wal") == own_log);
    {
      Keeping keeping(Logbook::open_as_found(folder / "stopped.db"));
      CHECK(keeping.book.leftovers().empty());
      CHECK(keeping.number("select count(*) from more") == 1);
    }
    // The same log beside a backup that bears a mark of its own.
    Keeping source(Logbook::open(folder / "backup.db", Access::write));
    backup(source.book, folder / "c.db");
    write_bytes(folder / "c.db-wal", own_log);
    Keeping keeping(Logbook::open(folder / "c.db", Access::write));
    REQUIRE(keeping.book.leftovers().size() == 1);
    CHECK(bytes_of(keeping.book.leftovers()[0].kept) == own_log);
    CHECK(check(keeping.book).empty());
  }
}
