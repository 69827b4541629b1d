#include "logbook/wrecks.hpp"

#include <signal.h>
#include <unistd.h>

#include <random>

#include "logbook/file/journal_head.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/sealing.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/stopping.hpp"
#include "logbook/upkeep/migrations.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::tests {
namespace {

namespace fs = std::filesystem;
using logbook::Access;
using logbook::Entry;
using logbook::Ladder;
using logbook::Logbook;

const std::int64_t first = at("2020-01-02T00:00").minutes();

// A file of the first make with the same rows, which opening migrates.
void write_first_make(const std::string& from, const std::string& to) {
  logbook::Store store(to, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  logbook::lay_schema(store, Ladder{{logbook::ladder().steps[0]}});
  logbook::lift_guards(store);
  store.run("pragma foreign_keys = off");
  logbook::Query(store, "attach ? as now", from).run();
  std::vector<std::string> tables;
  {
    logbook::Query find(store, "select name from main.sqlite_master where type = 'table'");
    while (find.next()) tables.push_back(find.text(0));
  }
  for (const std::string& table : tables) {
    std::string columns;
    logbook::Query find(store, "select group_concat(name) from pragma_table_info(?, 'main')",
                        table);
    if (find.next()) columns = find.text(0);
    std::string sql = "insert or replace into main." + table;
    sql.append(" (").append(columns).append(") select ").append(columns);
    store.run(sql + " from now." + table);
  }
}

void fill_in(const std::string& path, int counts) {
  for (int n = 0; n < counts; ++n) log_count(path, "K3", first + n, 1);
}

std::string csv() {
  std::string text = "sowing,sown_on,seeds,counted_on,emerged\n";
  for (int sowing = 1; sowing <= 60; ++sowing)
    for (int day = 10; day < 20; ++day)
      text += "Z" + std::to_string(sowing) + ",2026-04-01,50,2026-04-" + std::to_string(day) + ',' +
              std::to_string(day - 8) + '\n';
  return text;
}

void import_and_pack(const std::string& path) {
  Logbook book = Logbook::open(path, Access::write);
  {
    Entry entry(book, "ada", "import", day("2026-05-01"));
    std::string text = csv();
    const auto read = [&text](char* into, std::size_t size) {
      const std::size_t some = text.copy(into, size);
      text.erase(0, some);
      return some;
    };
    if (logbook::import_flat_log(entry, read, {}).errors_in_all != 0)
      throw logbook::Unusable("the import is refused");
    entry.say("imported");
    entry.commit();
  }
  logbook::pack(book);
}

void do_work(Work work, const std::string& path) {
  if (work == Work::count) log_count(path, "K3", first + 1000, 2);
  if (work == Work::import) import_and_pack(path);
  if (work == Work::migration) Logbook::open(path, Access::read);
}

void copy(const std::string& from, const std::string& to) {
  fs::copy_file(from, to, fs::copy_options::overwrite_existing);
}

void clean(const std::string& folder) {
  for (const auto& entry : fs::directory_iterator(folder)) fs::remove(entry);
}

// The command at work in a fresh copy, stopped by `stop` in its own process.
template <class Run>
std::optional<Wreck> wreck_of(const Ground& ground, const std::string& name, const Run& run) {
  const Folder folder;
  const std::string path = folder / "log.db";
  copy(ground.log, path);
  run(path);
  if (!logbook::rollback_journal(path + "-journal").counts) return std::nullopt;
  return Wreck{&ground, name, bytes_of(path), bytes_of(path + "-journal")};
}

}  // namespace

const char* name_of(Work work) {
  return work == Work::count ? "count" : work == Work::import ? "import" : "migration";
}

void unmark(const std::string& path) {
  std::string bytes = bytes_of(path);
  bytes.replace(logbook::mark_at, logbook::mark_size, logbook::mark_size, '\0');
  auto* const page = reinterpret_cast<unsigned char*>(bytes.data());
  const logbook::Head head = logbook::head_in(page);
  write_bytes(path, bytes);
  if (head.has_seals()) seal_all(path);
}

std::string rows_of(const std::string& path) {
  Logbook book = Logbook::open(path, Access::write);
  return all_of(book);
}

Ground lay_ground(const std::string& folder, Work work) {
  fs::create_directories(folder);
  Ground ground;
  ground.folder = folder;
  ground.log = folder + "/log.db";
  ground.older = folder + "/older.db";
  ground.newer = folder + "/newer.db";
  ground.other = folder + "/other.db";
  for (const std::string& path : {ground.log, ground.other}) {
    Keeping keeping(Logbook::create(path));
    plumule::records::Sowing sowing = tray(path == ground.log ? "K3" : "Q1", "2020-01-01");
    sowing.units = 1'000'000;
    keeping.sow(sowing);
  }
  fill_in(ground.log, 40);
  {
    Logbook book = Logbook::open(ground.log, Access::write);
    logbook::backup(book, ground.older);
  }
  log_count(ground.log, "K3", first + 500, 3);
  log_count(ground.log, "K3", first + 501, 1);
  {
    Logbook book = Logbook::open(ground.log, Access::write);
    logbook::backup(book, ground.newer);
  }
  if (work == Work::migration) {
    fs::remove(ground.log);
    write_first_make(ground.newer, ground.log);
  }
  fs::remove(ground.log + "-journal");
  const auto rows = [&](const std::string& path, bool worked) {
    const Folder place;
    copy(path, place / "log.db");
    if (worked) do_work(work, place / "log.db");
    return rows_of(place / "log.db");
  };
  ground.before = rows(ground.log, false);
  ground.after = rows(ground.log, true);
  ground.older_rows = rows(ground.older, false);
  ground.newer_rows = rows(ground.newer, false);
  ground.other_rows = rows(ground.other, false);
  return ground;
}

std::vector<Wreck> stopped_at_writes(const Ground& ground, Work work, int most) {
  std::vector<Wreck> all;
  // A command of many writes is stopped at some dozens of them, the first twenty among them.
  for (int n = 1, stride = 1;; n += stride) {
    bool ended = false;
    const std::string name = std::string(name_of(work)) + " stopped at write " + std::to_string(n);
    auto wreck = wreck_of(ground, name, [&](const std::string& path) {
      const pid_t process = start([&] {
        stop_at(n);
        do_work(work, path);
        return 0;
      });
      ended = outcome(process) == 0;
    });
    if (wreck) all.push_back(std::move(*wreck));
    if (ended) break;
    if (n > 20) stride = 1 + n / 10;
  }
  std::vector<Wreck> some;
  const auto count = std::min(all.size(), static_cast<std::size_t>(most));
  for (std::size_t i = 0; i < count; ++i) some.push_back(std::move(all[i * all.size() / count]));
  return some;
}

void migrations_stopped(const Ground& ground,
                        const std::function<void(const std::string& path, int write)>& look) {
  bool ended = false;
  for (int n = 1; !ended; n += n > 20 ? 1 + n / 10 : 1) {
    const Folder folder;
    const std::string path = folder / "log.db";
    copy(ground.log, path);
    const pid_t process = start([&] {
      stop_at(n);
      do_work(Work::migration, path);
      return 0;
    });
    ended = outcome(process) == 0;
    look(path, n);
  }
}

std::vector<Wreck> killed(const Ground& ground, Work work, int wanted, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<Wreck> all;
  for (int tries = 0; tries < 60 * wanted && static_cast<int>(all.size()) < wanted; ++tries) {
    const auto wait = static_cast<useconds_t>(random() % 20'000);
    const std::string name = std::string(name_of(work)) + " killed after " + std::to_string(wait);
    auto wreck = wreck_of(ground, name, [&](const std::string& path) {
      const pid_t process = start([&] {
        do_work(work, path);
        return 0;
      });
      ::usleep(wait);
      ::kill(process, SIGKILL);
      outcome(process);
    });
    if (wreck) all.push_back(std::move(*wreck));
  }
  return all;
}

Wreck by_another_program(const Ground& ground) {
  auto wreck = wreck_of(ground, "another program", [&](const std::string& path) {
    outcome(start([&]() -> int {
      SQLite::Database writer(path, SQLite::OPEN_READWRITE);
      writer.exec("pragma cache_size = 1; pragma cache_spill = 1; begin immediate");
      for (int i = 0; i < 300; ++i)
        writer.exec("insert into journal (at, by, command, summary) values ('" +
                    std::string(200, 'x') + "', '', '', '')");
      ::_exit(0);
    }));
  });
  if (!wreck) throw logbook::Unusable("the other program left no journal");
  return *wreck;
}

std::string lay_wreck(const Wreck& wreck, const std::string& folder) {
  clean(folder);
  std::string path = folder + "/log.db";
  write_bytes(path, wreck.log);
  write_bytes(path + "-journal", wreck.journal);
  return path;
}

}  // namespace plumule::tests
