// Going back to a backup: from every state of the logbook's place, and back again.
#include "logbook/upkeep/restore.hpp"

#include <doctest/doctest.h>
#include <sys/resource.h>

#include <csignal>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/sealing.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

// A logbook of one sowing with two counts, and a backup of it with the first.
struct Case {
  Folder folder;
  std::string path = folder / "log.db";
  std::string copy = folder / "copy.db";

  Case() {
    Keeping keeping(Logbook::create(path));
    keeping.sow(tray("K3"));
    keeping.count("K3=4", "2026-04-10");
    backup(keeping.book, copy);
    keeping.count("K3=6", "2026-04-11");
  }
  Totals totals() const { return Keeping(Logbook::open(path, Access::read)).totals("K3"); }
  // What is said, and nothing may be touched.
  std::string refused(const std::string& from) const {
    const std::string before = bytes_of(path);
    const auto files = folder.files();
    std::string said = "(restored)";
    try {
      restore(from, path);
    } catch (const Unusable& refusal) {
      said = refusal.what();
    }
    CHECK(bytes_of(path) == before);
    CHECK(folder.files() == files);
    return said;
  }
};

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_SUITE("restore") {
  TEST_CASE("there and back") {
    const Case at;
    fs::permissions(at.path, fs::perms(0664));
    const Restored there = restore(at.copy, at.path);
    CHECK(there.sowings == 1);
    CHECK(there.last_entry.has_value());
    CHECK(there.former == at.path + ".before-restore");
    CHECK(there.former_sound);
    CHECK(at.totals() == Totals{4});
    CHECK(fs::status(at.path).permissions() == fs::perms(0664));
    const Restored back = restore(*there.former, at.path);
    CHECK(back.former == at.path + ".before-restore-2");
    CHECK(at.totals() == Totals{4, 6});
    Keeping keeping(Logbook::open(at.path, Access::write));
    CHECK(check(keeping.book).empty());
    CHECK(keeping.count("K3=7", "2026-04-12") == Kept::saved);
    // The backup is a file of its own still.
    CHECK(Keeping(Logbook::open(at.copy, Access::read)).totals("K3") == Totals{4});
  }

  TEST_CASE("where no logbook stands, in a folder that is not there, and through a link") {
    const Case at;
    CHECK_FALSE(restore(at.copy, at.folder / "new/deep/log.db").former.has_value());
    CHECK(Keeping(Logbook::open(at.folder / "new/deep/log.db", Access::read)).totals("K3") ==
          Totals{4});
    fs::create_symlink(at.path, at.folder / "link.db");
    restore(at.copy, at.folder / "link.db");
    CHECK(fs::is_symlink(at.folder / "link.db"));
    CHECK(at.totals() == Totals{4});
  }

  TEST_CASE("onto a damaged file, an emptied one, and one of another program") {
    const Case at;
    for (const std::string& there :
         {bytes_of(at.path).substr(0, 9000), std::string(), std::string("my notes")}) {
      write_bytes(at.path, there);
      const Restored restored = restore(at.copy, at.path);
      CHECK_FALSE(restored.former_sound);
      CHECK(bytes_of(restored.former.value()) == there);
      CHECK(at.totals() == Totals{4});
    }
  }

  TEST_CASE("what is no backup is refused") {
    const Case at;
    CHECK(says(at.refused(at.folder / "none.db"), "There is no backup at "));
    CHECK(says(at.refused(at.path), " is the logbook itself."));
    fs::create_hard_link(at.path, at.folder / "same.db");
    CHECK(says(at.refused(at.folder / "same.db"), " is the logbook itself."));
    write_bytes(at.folder / "x.db", "");
    CHECK(says(at.refused(at.folder / "x.db"), "is empty (0 bytes)"));
    write_bytes(at.folder / "x.db", std::string(5000, 'x'));
    CHECK(says(at.refused(at.folder / "x.db"), "is not a logbook"));
    std::string damaged = bytes_of(at.copy);
    damaged.replace(damaged.size() / 2, 4096, 4096, '\xff');
    write_bytes(at.folder / "x.db", damaged);
    CHECK(says(at.refused(at.folder / "x.db"), "amaged"));
    fs::copy_file(at.copy, at.folder / "newer.db");
    SQLite::Database(at.folder / "newer.db", SQLite::OPEN_READWRITE)
        .exec("pragma user_version = 77");
    seal_all(at.folder / "newer.db");
    CHECK(says(at.refused(at.folder / "newer.db"), "newer plumule"));
    fs::copy_file(at.copy, at.folder / "lacking.db");
    SQLite::Database(at.folder / "lacking.db", SQLite::OPEN_READWRITE)
        .exec("drop trigger count_stays");
    CHECK(says(at.refused(at.folder / "lacking.db"), "is not as it was written"));
    seal_all(at.folder / "lacking.db");
    CHECK(says(at.refused(at.folder / "lacking.db"), "lacks the trigger count_stays"));
    fs::create_directory(at.folder / "folder");
    CHECK_THROWS_AS(restore(at.copy, at.folder / "folder"), Unusable);
  }

  TEST_CASE("a full disk leaves all as it was") {
    const Case at;
    const pid_t process = start([&] {
      std::signal(SIGXFSZ, SIG_IGN);
      const rlimit little{20000, 20000};
      ::setrlimit(RLIMIT_FSIZE, &little);
      return says(at.refused(at.copy), "All is as it was.") ? 0 : 1;
    });
    CHECK(outcome(process) == 0);
    CHECK(at.totals() == Totals{4, 6});
  }

  TEST_CASE("a locked logbook is waited for, then left as it was") {
    const Case at;
    {
      SQLite::Database other(at.path, SQLite::OPEN_READWRITE);
      other.exec("begin immediate");
      CHECK(says(at.refused(at.copy), "is locked"));
      other.exec("rollback");
    }
    CHECK(restore(at.copy, at.path).former.has_value());
  }

  TEST_CASE("who has the former file open loses nothing: the next write is refused") {
    const Case at;
    Keeping open(Logbook::open(at.path, Access::write));
    CHECK(open.count("K3=7", "2026-04-12") == Kept::saved);
    const Restored restored = restore(at.copy, at.path);
    std::string said;
    try {
      open.count("K3=8", "2026-04-13");
    } catch (const Unusable& refusal) {
      said = refusal.what();
    }
    CHECK(says(said, "was replaced by another file, or removed, while this command ran."));
    CHECK(at.totals() == Totals{4});
    CHECK(Keeping(Logbook::open(restored.former.value(), Access::read)).totals("K3") ==
          Totals{4, 6, 7});
  }
}
