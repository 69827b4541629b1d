// What keeps a sound logbook from being used is told as what it is, and never as damage.
#include <doctest/doctest.h>
#include <sys/resource.h>

#include <csignal>
#include <memory>
#include <new>
#include <vector>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "support/rounds.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

struct Case {
  Folder folder;
  std::string path = folder / "log.db";

  Case() {
    Keeping keeping(Logbook::create(path));
    keeping.sow(tray("K3"));
    keeping.count("K3=4", "2026-04-10");
  }
};

// In a process of its own, in which no file may grow beyond `most` bytes.
template <class Act>
std::string with_small_files(rlim_t most, const Act& act) {
  const Folder folder;
  const std::string answer = folder / "answer";
  const pid_t process = start([&] {
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit little{most, most};
    ::setrlimit(RLIMIT_FSIZE, &little);
    std::string said = "(nothing)";
    try {
      act();
    } catch (const std::exception& trouble) {
      said = trouble.what();
    }
    write_bytes(answer, said);
    return 0;
  });
  CHECK(outcome(process) == 0);
  return bytes_of(answer);
}

}  // namespace

TEST_SUITE("hindered") {
  TEST_CASE("check of a locked logbook says that it is locked") {
    const Case at;
    Logbook logbook = Logbook::open(at.path, Access::read);
    logbook.store().wait_at_most(std::chrono::milliseconds(10));
    SQLite::Database other(at.path, SQLite::OPEN_READWRITE);
    other.exec("begin exclusive");
    std::string told;
    try {
      check(logbook);
    } catch (const Hindered& trouble) {
      told = trouble.what();
    }
    CHECK(says(told, "is locked"));
    other.exec("rollback");
    CHECK(check(logbook).empty());
  }

  // A sanitizer ends the process where memory is short.
  TEST_CASE("check says that memory is short, and finds no damage for it" *
            doctest::skip(sanitized)) {
    const Case at;
    int short_of_it = 0;
    for (std::size_t left = 0; left < 8; ++left) {
      const pid_t process = start([&] {
        Logbook logbook = Logbook::open(at.path, Access::read);
        std::vector<std::unique_ptr<char[]>> held;
        held.reserve(1'000'000);
        const rlimit little{std::size_t{1} << 28, RLIM_INFINITY};
        ::setrlimit(RLIMIT_AS, &little);
        for (const std::size_t piece : {std::size_t{65536}, std::size_t{2048}, std::size_t{64}}) {
          try {
            for (;;) held.push_back(std::make_unique<char[]>(piece));
          } catch (const std::bad_alloc&) {
          }
        }
        for (std::size_t i = 0; i < left * 4; ++i) held[i].reset();
        try {
          return check(logbook).empty() ? 0 : 1;
        } catch (const Hindered& trouble) {
          return trouble.by() == Hindered::By::memory ? 2 : 3;
        } catch (const std::bad_alloc&) {
          return 2;
        }
      });
      const int how = outcome(process);
      CHECK((how == 0 || how == 2));
      short_of_it += how == 2 ? 1 : 0;
    }
    CHECK(short_of_it > 0);
  }

  TEST_CASE("a copy that does not fit is named, and not the logbook") {
    const Case at;
    const std::string to = at.folder / "copy.db";
    const std::string said = with_small_files(20000, [&] {
      Logbook logbook = Logbook::open(at.path, Access::read);
      backup(logbook, to);
    });
    CHECK(said == "No copy could be put at " + to + ": no file may be so large here.");
    CHECK_FALSE(std::filesystem::exists(to));
  }

  TEST_CASE("where a temporary file does not fit its folder is named") {
    const Case at;
    const std::string said = with_small_files(100'000, [&] {
      Logbook logbook = Logbook::open(at.path, Access::read);
      Store& store = logbook.store();
      store.run("pragma temp_store = file; pragma temp.cache_size = 2");
      store.run(
          "create temp table long as with recursive n(i) as (select 1 union all select i + 1 from "
          "n where i < 20000) select i, hex(zeroblob(100)) from n");
    });
    CHECK(says(said, "A temporary file could not be written in "));
    CHECK(says(said,
               ": no file may be so large here. Make room there, or name another folder in "
               "$TMPDIR."));
    CHECK_FALSE(says(said, "log.db"));
  }
}
