// Every state of a path, its own sentence, and the file left as it was.
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/sealing.hpp"
#include "logbook/upkeep/migrations.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

template <class Act>
std::string unusable(const Act& act) {
  try {
    act();
  } catch (const Unusable& error) {
    return error.what();
  }
  return "(usable)";
}

std::string opening(const std::string& path, Access access = Access::write) {
  return unusable([&] { Logbook::open(path, access); });
}

// What is said of the path, which must be as it was afterwards.
std::string left_alone(const std::string& path, Access access = Access::write) {
  const std::string before = bytes_of(path);
  std::string said = opening(path, access);
  CHECK(bytes_of(path) == before);
  return said;
}

void run_sql(const std::string& path, const std::string& sql) {
  SQLite::Database(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE).exec(sql);
}

// As somebody else than root, whom no permission stops.
class Nobody {
 public:
  Nobody() : was_(::geteuid()) {
    if (was_ == 0) REQUIRE(::seteuid(65534) == 0);
  }
  Nobody(const Nobody&) = delete;
  Nobody& operator=(const Nobody&) = delete;
  ~Nobody() {
    if (was_ == 0 && ::seteuid(0) != 0) std::abort();
  }

 private:
  uid_t was_;
};

}  // namespace

TEST_SUITE("opening") {
  TEST_CASE("a new logbook is one file, marked, with its guards, and opens again") {
    const Folder folder;
    const std::string path = folder / "new/deep/plumule.db";
    {
      Keeping keeping(Logbook::create(path));
      CHECK(keeping.book.path() == path);
      keeping.sow(tray("K3"));
      keeping.count("K3=14", "2026-04-10");
      CHECK_FALSE(keeping.book.migration_backup().has_value());
      // 'Plml' in ASCII.
      CHECK(keeping.number("pragma application_id") == 0x506C6D6C);
      CHECK(keeping.number("pragma user_version") == ladder().version());
      CHECK(keeping.number("pragma foreign_keys") == 1);
      CHECK(keeping.number("pragma synchronous") == 2);  // FULL
      CHECK(keeping.number("pragma trusted_schema") == 0);
      CHECK(keeping.number("select count(*) from treatments where label = 'untreated'") == 1);
      CHECK(keeping.number("select count(*) from sqlite_master where type = 'trigger'") > 5);
    }
    // Beside it nothing but its rollback journal, ended by a blank head.
    CHECK(std::distance(fs::directory_iterator(folder / "new/deep"), fs::directory_iterator()) ==
          2);
    CHECK(bytes_of(path + "-journal").substr(0, 28) == std::string(28, '\0'));
    fs::remove(path + "-journal");
    Keeping again(Logbook::open(path, Access::read));
    CHECK(again.totals("K3") == Totals{14});
    CHECK(check(again.book).empty());
    CHECK(unusable([&] { again.sow(tray("K4")); }) ==
          path + " was opened to be read only; nothing can be logged in it.");
  }

  TEST_CASE("no logbook is made where something stands, or cannot be made") {
    const Folder folder;
    write_bytes(folder / "notes.txt", "beans");
    CHECK(unusable([&] { Logbook::create(folder / "notes.txt"); }) ==
          folder / "notes.txt" + " exists already, so no logbook was made there.");
    CHECK(bytes_of(folder / "notes.txt") == "beans");
    CHECK(unusable([&] { Logbook::create(folder.path()); }) ==
          folder.path() + " exists already, so no logbook was made there.");
    CHECK(unusable([&] { Logbook::create(folder / "notes.txt/plumule.db"); }) ==
          "No logbook can be made there. " + folder / "notes.txt" +
              " is a file and no folder, so there is no " + folder / "notes.txt/plumule.db" + '.');
    CHECK(unusable([&] { Logbook::create(""); }) == "A logbook needs a file name.");
    CHECK(folder.files() == 1);
  }

  TEST_CASE("a missing file is not made by opening it") {
    const Folder folder;
    CHECK(opening(folder / "none.db") == "There is no logbook at " + folder / "none.db" + ".");
    CHECK(opening(folder / "no/such/folder.db").rfind("There is no logbook at ", 0) == 0);
    CHECK(folder.files() == 0);
  }

  TEST_CASE("a folder, an empty file, a text, a foreign database") {
    const Folder folder;
    CHECK(opening(folder.path()) == folder.path() + " is a folder, not a logbook.");
    CHECK(opening("/dev/null") == "/dev/null is not a logbook: it is no ordinary file.");
    const std::string path = folder / "x.db";
    write_bytes(path, "");
    CHECK(left_alone(path) == path + " is empty (0 bytes), so it is no logbook.");
    write_bytes(path, "12 beans sown on the third\n");
    CHECK(left_alone(path) ==
          path + " is not a logbook, but some other file, or one that was overwritten.");
    write_bytes(path, std::string(5000, 'x'));
    CHECK(left_alone(path, Access::read) ==
          path + " is not a logbook, but some other file, or one that was overwritten.");
    fs::remove(path);
    run_sql(path, "create table birds (name text)");
    CHECK(left_alone(path) == path + " is a database of another program, not a logbook.");
  }

  TEST_CASE("a newer file and one that was never finished") {
    const Folder folder;
    const std::string path = folder / "x.db";
    Logbook::create(path);
    run_sql(path, "pragma user_version = 99");
    seal_all(path);
    CHECK(left_alone(path) == path +
                                  " was written by a newer plumule (its record is of make 99, this "
                                  "one knows up to " +
                                  std::to_string(ladder().version()) + "). Use that one.");
    run_sql(path, "pragma user_version = 0");
    seal_all(path);
    CHECK(left_alone(path) == path + " is damaged: it says that it was never finished.");
  }

  TEST_CASE("read-only files and folders") {
    const Folder folder;
    const std::string path = folder / "x.db";
    { Keeping(Logbook::create(path)).sow(tray("K3")); }
    fs::permissions(folder.path(), fs::perms::all);
    fs::permissions(path, fs::perms(0444));
    {
      const Nobody nobody;
      CHECK(left_alone(path) == path + " is read-only, so nothing can be logged in it.");
      Keeping reading(Logbook::open(path, Access::read));
      CHECK(sowing_named(reading.book, "K3").units == 20);
    }
    fs::permissions(path, fs::perms(0666));
    fs::permissions(folder.path(), fs::perms(0555));
    {
      const Nobody nobody;
      CHECK(left_alone(path) == folder.path() + " is read-only, so nothing can be logged in " +
                                    path + ": writing needs a second file beside it.");
      Keeping reading(Logbook::open(path, Access::read));
      CHECK(sowing_named(reading.book, "K3").units == 20);
      CHECK(unusable([&] { Logbook::create(folder / "y.db"); }) ==
            "No logbook can be made at " + folder / "y.db" +
                ": its folder cannot be made or written.");
    }
    fs::permissions(path, fs::perms(0000));
    {
      const Nobody nobody;
      CHECK(opening(path, Access::read) == path + " may not be read by this user.");
    }
    fs::permissions(folder.path(), fs::perms(0000));
    {
      const Nobody nobody;
      CHECK(opening(path) == path + " may not be looked at by this user.");
    }
  }

  TEST_CASE("a locked file is waited for, then told") {
    const Folder folder;
    const std::string path = folder / "x.db";
    Logbook::create(path);
    SQLite::Database other(path, SQLite::OPEN_READWRITE);
    Logbook open = Logbook::open(path, Access::write);
    other.exec("begin exclusive");
    // The wait is shortened here; five seconds are the library's own.
    CHECK(busy_wait == std::chrono::seconds(5));
    open.store().wait_at_most(std::chrono::milliseconds(50));
    const std::string locked = path +
                               " is locked: another program has been writing to it for 5 seconds. "
                               "Wait for it or close it, and try again.";
    CHECK(unusable([&] { Entry(open, "ada", "count", day("2026-05-01")); }) == locked);
    other.exec("rollback");
    CHECK_NOTHROW(Entry(open, "ada", "count", day("2026-05-01")));
  }

  TEST_CASE("what a stopped command left half written is rolled back, also for a reader") {
    const Folder folder;
    const std::string path = folder / "x.db";
    { Keeping(Logbook::create(path)).sow(tray("K3")); }
    {
      // A transaction whose pages have reached the file, and its journal: as after a power cut.
      SQLite::Database writer(path, SQLite::OPEN_READWRITE);
      writer.exec("pragma cache_size = 1; pragma cache_spill = 1; begin immediate");
      for (int i = 0; i < 2000; ++i)
        writer.exec("insert into journal (at, by, command, summary) values ('" +
                    std::string(200, 'x') + "', '', '', '')");
      fs::copy_file(path, folder / "cut.db");
      fs::copy_file(path + "-journal", folder / "cut.db-journal");
      writer.exec("rollback");
    }
    REQUIRE(bytes_of(folder / "cut.db") != bytes_of(path));
    Keeping reading(Logbook::open(folder / "cut.db", Access::read));
    CHECK(reading.number("select count(*) from journal") == 1);
    CHECK(check(reading.book).empty());
  }

  TEST_CASE("a file in write-ahead mode is one file again once it was opened") {
    const Folder folder;
    const std::string path = folder / "x.db";
    { Keeping(Logbook::create(path)).sow(tray("K3")); }
    run_sql(path, "pragma journal_mode = wal");
    seal_all(path);
    {
      Keeping keeping(Logbook::open(path, Access::write));
      CHECK(keeping.count("K3=3", "2026-04-08") == Kept::saved);
      CHECK_FALSE(fs::exists(path + "-wal"));
      CHECK_FALSE(fs::exists(path + "-shm"));
    }
    std::filesystem::copy_file(path, folder / "copy.db");
    CHECK(Keeping(Logbook::open(folder / "copy.db", Access::read)).totals("K3") == Totals{3});
  }

  TEST_CASE(
      "an entry that writes nothing leaves no line, one that is not committed leaves nothing") {
    Keeping keeping;
    keeping.command("note", [](Entry&) {});
    keeping.command("note", [](Entry& entry) { (void)entry.id(); });
    CHECK(keeping.number("select count(*) from journal") == 0);
    {
      Entry entry(keeping.book, "ada", "sow", keeping.today);
      add_sowing(entry, tray("K3"));
    }
    CHECK(keeping.number("select count(*) from journal") == 0);
    CHECK(keeping.number("select count(*) from sowings") == 0);
    keeping.sow(tray("K3"));
    CHECK(keeping.number("select count(*) from journal where by = 'ada' and command = 'sow K3' and "
                         "summary = 'did sow K3' and at glob '20*-*-*T*:*:*Z'") == 1);
  }

  TEST_CASE("text that no tool could read, and figures that are none, stay out") {
    Keeping keeping;
    plumule::records::Sowing sowing = tray("K3");
    sowing.medium = "peat \xff\xfe";
    CHECK(said([&] { keeping.sow(sowing); }) ==
          "\"peat ??\" holds characters that are not UTF-8 text.");
    sowing.medium = std::string("a\0b", 3);
    CHECK(said([&] { keeping.sow(sowing); }) ==
          "\"a?b\" holds characters that are not UTF-8 text.");
    CHECK(said([&] {
            Query(keeping.book.store(), "select ?", std::numeric_limits<double>::quiet_NaN());
          }) == "A figure is not a number.");
    CHECK(said([&] {
            Query(keeping.book.store(), "select ?", std::numeric_limits<double>::infinity());
          }) == "A figure is not a number.");
    sowing.medium = "Töpfe, ½ Sand, 土, 🌱";
    CHECK(keeping.sow(sowing) > 0);
    CHECK(sowing_named(keeping.book, "K3").medium == sowing.medium);
  }
}
