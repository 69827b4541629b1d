// Files in the making: who may read them, and what a killed command left of them.
#include "logbook/file/part.hpp"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <algorithm>
#include <csignal>
#include <vector>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/upkeep/restore.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

unsigned mode_of(const std::string& path) {
  struct stat seen = {};
  return ::stat(path.c_str(), &seen) == 0 ? seen.st_mode & 0777U : 0U;
}

std::vector<std::string> names_in(const std::string& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

// A process that makes a part, and is killed with it in its hands.
void leave_a_part(const std::string& beside) {
  const pid_t process = start([&]() -> int {
    const Part part(beside, 0644);
    write_bytes(part.path() + "-journal", "half");
    ::raise(SIGKILL);
    return 0;
  });
  REQUIRE(outcome(process) == -9);
}

}  // namespace

TEST_SUITE("parts") {
  TEST_CASE("a copy is for nobody but those who may use the logbook, at no moment for more") {
    const Folder folder;
    const mode_t mask = ::umask(022);
    const std::string log = folder / "log.db";
    {
      Keeping keeping(Logbook::create(log));
      CHECK(mode_of(log) == 0644U);
      keeping.sow(tray("K3"));
      fs::permissions(log, fs::perms(0600));
      CHECK(mode_of_copy(log) == 0600U);
      CHECK(mode_of(Part(log, mode_of_copy(log)).path()) == 0600U);
      backup(keeping.book, folder / "copy.db");
      CHECK(mode_of(folder / "copy.db") == 0600U);
    }
    const Restored restored = restore(folder / "copy.db", log);
    CHECK(mode_of(log) == 0600U);
    CHECK(mode_of(*restored.former) == 0600U);
    restore(folder / "copy.db", folder / "fresh.db");
    CHECK(mode_of(folder / "fresh.db") == 0600U);
    CHECK(mode_of(Part(folder / "any", 0666).path()) == 0644U);  // the umask narrows it
    ::umask(mask);
  }

  TEST_CASE("what a killed command left is cleared by the next one that makes a part there") {
    const Folder folder;
    leave_a_part(folder / "other.db");
    CHECK(names_in(folder.path()).size() == 2);
    Keeping keeping(Logbook::create(folder / "log.db"));
    CHECK(names_in(folder.path()) == std::vector<std::string>{"log.db"});
    keeping.sow(tray("K3"));
    leave_a_part(folder / "log.db");
    backup(keeping.book, folder / "copy.db");
    CHECK(names_in(folder.path()) ==
          std::vector<std::string>{"copy.db", "log.db", "log.db-journal"});
  }

  TEST_CASE("one that is being made, or that is none of ours, is left alone") {
    const Folder folder;
    const Part held(folder / "log.db", 0600);
    write_bytes(folder / "log.db.part-1", "a file of somebody's");
    write_bytes(folder / "log.db.plumule.part-ABCDEF", "likewise");
    fs::create_directory(folder / "log.db.plumule.part-abcdef");
    clear_left_parts(folder.path());
    CHECK(names_in(folder.path()).size() == 4);
    CHECK(fs::exists(held.path()));
  }

  TEST_CASE("a name as long as a disk takes leaves room for the part's") {
    const Folder folder;
    const Part part(folder / std::string(255, 'a'), 0600);
    CHECK(part);
    const Part none(folder / "no/such/place", 0600);
    CHECK_FALSE(none);
    CHECK(none.error() == ENOENT);
  }

  TEST_CASE("a logbook that is filled before it bears its name is whole or never was") {
    const Folder folder;
    const std::string path = folder / "log.db";
    const pid_t process = start([&]() -> int {
      Logbook::create_filled(path, [](Logbook&) { ::raise(SIGKILL); });
      return 0;
    });
    CHECK(outcome(process) == -9);
    CHECK_FALSE(fs::exists(path));
    Logbook::create_filled(path, [](Logbook& logbook) {
      Entry entry(logbook, "ada", "sow", day("2026-05-01"));
      add_sowing(entry, tray("K3"));
      entry.commit();
    });
    CHECK(names_in(folder.path()) == std::vector<std::string>{"log.db"});
    Logbook logbook = Logbook::open(path, Access::read);
    CHECK(sowing_named(logbook, "K3").units == 20);
    CHECK(check(logbook).empty());
  }
}
