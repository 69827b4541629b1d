// A logbook under a second name (a hard link): used where it is known to be finished, else refused.
#include <doctest/doctest.h>
#include <unistd.h>

#include <csignal>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string opening(const std::string& path) {
  try {
    Keeping keeping(Logbook::open(path, Access::write));
    return check(keeping.book).empty() ? "sound" : "damaged";
  } catch (const Unusable& trouble) {
    return trouble.what();
  }
}

// A process that is killed while its transaction stands half in the file.
void stop_in_the_midst(const std::string& path) {
  const pid_t process = start([&]() -> int {
    Keeping keeping(Logbook::open(path, Access::write));
    Store& store = keeping.book.store();
    store.run("pragma cache_size = 1; begin immediate");
    store.run(
        "insert into journal (at, by, command, summary, day) with recursive n(i) as (select 1 "
        "union all select i + 1 from n where i < 3000) select '2026-04-03T07:30:00Z', 'ada', "
        "'count', 'a line that is to fill some pages', '2026-04-03' from n");
    ::raise(SIGKILL);
    return 0;
  });
  REQUIRE(outcome(process) == -9);
}

struct Case {
  Folder folder;
  std::string log = folder / "log.db";
  std::string beside = folder / "second.db";
  std::string copy = folder / "copy.db";
  std::string elsewhere = folder / "away/second.db";

  Case() {
    Keeping keeping(Logbook::create(log));
    keeping.sow(tray("K3"));
    keeping.count("K3=4", "2026-04-10");
    fs::create_directory(folder / "away");
  }
};

}  // namespace

TEST_SUITE("second names") {
  TEST_CASE("that something was rolled back is known to who opened it, once") {
    const Case at;
    CHECK_FALSE(Logbook::open(at.log, Access::read).rolled_back());
    stop_in_the_midst(at.log);
    CHECK(Logbook::open(at.log, Access::read).rolled_back());
    CHECK_FALSE(Logbook::open(at.log, Access::read).rolled_back());
  }

  TEST_CASE("of a finished logbook both names can be used") {
    const Case at;
    REQUIRE(::link(at.log.c_str(), at.beside.c_str()) == 0);
    CHECK(opening(at.beside) == "sound");
    CHECK(opening(at.log) == "sound");
  }

  TEST_CASE("by its second name in the same folder an unfinished one is recognised") {
    const Case at;
    stop_in_the_midst(at.log);
    REQUIRE(::link(at.log.c_str(), at.beside.c_str()) == 0);
    const std::string before = bytes_of(at.log);
    const std::string said = opening(at.beside);
    CHECK(says(said, "is a second name (a hard link) of "));
    CHECK(says(said, "/log.db, by which a command that was stopped left it unfinished"));
    CHECK(bytes_of(at.log) == before);
    CHECK(opening(at.log) == "sound");
    CHECK(opening(at.beside) == "sound");
  }

  TEST_CASE("in another folder nothing tells, so it is refused") {
    const Case at;
    stop_in_the_midst(at.log);
    REQUIRE(::link(at.log.c_str(), at.elsewhere.c_str()) == 0);
    CHECK(says(opening(at.elsewhere), "has a second name (a hard link) in another folder"));
    CHECK(opening(at.log) == "sound");
    CHECK(says(opening(at.elsewhere), "has a second name (a hard link) in another folder"));
    fs::remove(at.log);
    fs::remove(at.log + "-journal");
    CHECK(opening(at.elsewhere) == "sound");  // one name is left
  }

  TEST_CASE("where the journal beside it tells that its transaction was the last it is used") {
    const Case at;
    REQUIRE(::link(at.log.c_str(), at.elsewhere.c_str()) == 0);
    CHECK(opening(at.log) == "sound");
    Keeping(Logbook::open(at.log, Access::write)).count("K3=5", "2026-04-11");
    CHECK(opening(at.log) == "sound");
  }

  TEST_CASE("a copy that nobody has written to may have as many names as it likes") {
    const Case at;
    Keeping keeping(Logbook::open(at.log, Access::read));
    backup(keeping.book, at.copy);
    REQUIRE(::link(at.copy.c_str(), at.elsewhere.c_str()) == 0);
    CHECK_NOTHROW(Logbook::open(at.elsewhere, Access::read));
  }
}
