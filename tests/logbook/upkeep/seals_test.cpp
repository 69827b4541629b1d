// Every page of a logbook is sealed as it is written, and no figure is read from one whose seal is
// broken: by the disk, by another program, in the file or in the journal beside it.
#include "logbook/file/seal.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <random>
#include <vector>

#include "logbook/file/journal_head.hpp"
#include "logbook/file/mark.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/folder.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/sealing.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "support/rounds.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t page = 4096;

void fill(const std::string& path) {
  Keeping keeping(Logbook::create(path));
  keeping.lot("X7");
  for (int i = 1; i <= 25; ++i) {
    const std::string label = "A" + std::to_string(i);
    keeping.sow(tray(label));
    keeping.count(label + "=3", "2026-04-08", "ben");
    keeping.count(label + "=5-1", "2026-04-10");
    keeping.amend(label + "=4", "2026-04-08");
  }
}

// Numbers of the pages whose seal does not hold.
std::vector<std::size_t> unsealed(const std::string& path) {
  const std::string bytes = bytes_of(path);
  REQUIRE(bytes.size() % page == 0);
  std::vector<std::size_t> numbers;
  for (std::size_t i = 0; i * page < bytes.size(); ++i)
    if (!is_sealed(reinterpret_cast<const unsigned char*>(bytes.data()) + i * page, page,
                   static_cast<std::uint32_t>(i + 1)))
      numbers.push_back(i + 1);
  return numbers;
}

// All that stands in the file, as plain SQL gives it; by SQLite alone.
std::string content(const std::string& path) {
  SQLite::Database plain(path, SQLite::OPEN_READONLY);
  std::string all;
  SQLite::Statement tables(plain, "select name from sqlite_master where type = 'table' order by 1");
  while (tables.executeStep()) {
    SQLite::Statement rows(plain, "select * from " + tables.getColumn(0).getString());
    while (rows.executeStep())
      for (int i = 0; i < rows.getColumnCount(); ++i) all += rows.getColumn(i).getString() + '|';
  }
  return all;
}

// What commands show of the figures.
std::string figures(const std::string& path) {
  Keeping keeping(Logbook::open(path, Access::read));
  std::string all;
  export_flat_log(keeping.book, [&all](std::string_view text) { all += text; });
  return all;
}

std::string refusal(const std::string& path) {
  try {
    figures(path);
    return "(read)";
  } catch (const Unusable& error) {
    return error.what();
  }
}

}  // namespace

TEST_SUITE("seals") {
  TEST_CASE("a seal tells each bit of its page, and its place") {
    std::vector<unsigned char> bytes(512);
    std::mt19937 random(5);
    for (unsigned char& byte : bytes) byte = static_cast<unsigned char>(random());
    seal(bytes.data(), bytes.size(), 7);
    CHECK(is_sealed(bytes.data(), bytes.size(), 7));
    CHECK_FALSE(is_sealed(bytes.data(), bytes.size(), 8));
    for (std::size_t bit = 0; bit < bytes.size() * 8; ++bit) {
      bytes[bit / 8] ^= static_cast<unsigned char>(1U << bit % 8);
      CHECK_FALSE(is_sealed(bytes.data(), bytes.size(), 7));
      bytes[bit / 8] ^= static_cast<unsigned char>(1U << bit % 8);
    }
  }

  TEST_CASE("whatever is written, every page is sealed, and SQLite alone reads the file") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    CHECK(unsealed(path).empty());
    {
      Keeping keeping(Logbook::open(path, Access::write));
      undo(keeping.book, "ada");
      pack(keeping.book);
      keeping.count("A1=6", "2026-04-12");
      // Rolled back, by the command and by SQLite, with pages written and put back.
      {
        Entry entry(keeping.book, "ada", "sow", keeping.today);
        for (int i = 0; i < 3000; ++i) add_sowing(entry, tray("B" + std::to_string(i)));
      }
      backup(keeping.book, folder / "b.db");
    }
    CHECK(unsealed(path).empty());
    CHECK(unsealed(folder / "b.db").empty());
    CHECK(content(path).size() > 1000);
    SQLite::Database plain(path, SQLite::OPEN_READONLY);
    CHECK(plain.execAndGet("pragma integrity_check").getString() == "ok");
  }

  TEST_CASE("a file of before is sealed when it is brought up to date, and kept byte for byte") {
    const Folder folder;
    const std::string path = folder / "a.db";
    lay_older(path, 3);
    // Marked, as the make before this one left it.
    REQUIRE(lay_mark(path));
    const std::string before = bytes_of(path);
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write);
    Keeping keeping(Logbook::open(path, Access::write));
    REQUIRE(keeping.book.migration_backup().has_value());
    CHECK(bytes_of(*keeping.book.migration_backup()) == before);
    CHECK(unsealed(path).empty());
    CHECK(keeping.number("select count(*) from sowings where label = 'K3'") == 1);
    CHECK(fs::status(path).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
    // Lines of before keep no tally and are not faulted.
    CHECK(keeping.number("select count(*) from journal where digest is null") == 1);
    keeping.count("K3=4", "2026-04-10");
    CHECK(check(keeping.book).empty());
    // Whoever worked in it when it was replaced loses nothing in the file that was put away.
    CHECK(fs::hard_link_count(path) == 1);
  }

  TEST_CASE("no figure is taken from a changed page, and check finds it") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    fs::remove(path + "-journal");
    const std::string sound = bytes_of(path);
    const std::string stood = content(path);
    const std::string shown = figures(path);
    int told_apart = 0;
    for (unsigned seed = 1; seed <= rounds(300U); ++seed) {
      CAPTURE(seed);
      std::mt19937 random(seed);
      std::string damaged = sound;
      const std::size_t place = random() % damaged.size();
      damaged[place] = static_cast<char>(damaged[place] ^ (1 << random() % 8));
      const std::string copy = folder / "b.db";
      write_bytes(copy, damaged);
      fs::remove(copy + "-journal");
      const std::string said = refusal(copy);
      if (said == "(read)") CHECK(figures(copy) == shown);
      bool called_sound = false;
      try {
        Logbook found = Logbook::open_as_found(copy);
        called_sound = look_over(found).wrong.empty();
      } catch (const Unusable&) {
        ++told_apart;
      }
      // Sound it may be called only where the byte lay in no page that is in use.
      if (called_sound) CHECK(content(copy) == stood);
    }
    CHECK(told_apart < static_cast<int>(rounds(60U)));
  }

  TEST_CASE("pages in each other's places are told, and an earlier page's seal is still its own") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    std::string swapped = bytes_of(path);
    const std::string third = swapped.substr(2 * page, page);
    swapped.replace(2 * page, page, swapped.substr(3 * page, page));
    swapped.replace(3 * page, page, third);
    write_bytes(path, swapped);
    CHECK(unsealed(path) == std::vector<std::size_t>{3, 4});
    Logbook found = Logbook::open_as_found(path);
    CHECK_FALSE(look_over(found).wrong.empty());
  }

  TEST_CASE("a journal with a changed byte in a page puts nothing back") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    const std::string stood = content(path);
    std::string journal;
    std::string half_written;
    {
      // As a kill leaves both: pages written, the journal not ended.
      Keeping keeping(Logbook::open(path, Access::write));
      keeping.book.store().run("pragma cache_size = 10; pragma cache_spill = 10");
      Entry entry(keeping.book, "ada", "sow", keeping.today);
      for (int i = 0; i < 200; ++i) add_sowing(entry, tray("B" + std::to_string(i)));
      journal = bytes_of(path + "-journal");
      half_written = bytes_of(path);
    }
    REQUIRE(journal.size() > 3 * page);
    const std::string copy = folder / "b.db";
    const auto lay = [&](const std::string& beside) {
      write_bytes(copy, half_written);
      write_bytes(copy + "-journal", beside);
    };
    lay(journal);
    CHECK(refusal(copy) == "(read)");
    CHECK(content(copy) == stood);

    std::mt19937 random(3);
    const std::size_t head = 4096;  // a sector, of which only the start is used
    int refused = 0;
    for (unsigned i = 0; i < rounds(40U); ++i) {
      CAPTURE(i);
      std::string changed = journal;
      const std::size_t place = head + random() % (2 * page);
      changed[place] = static_cast<char>(changed[place] ^ 16);
      lay(changed);
      const std::string said = refusal(copy);
      if (said == "(read)") {
        CHECK(content(copy) == stood);
        continue;
      }
      ++refused;
      CHECK(said.find("The journal beside") == 0);
      CHECK(bytes_of(copy) == half_written);
      CHECK(bytes_of(copy + "-journal") == changed);
    }
    CHECK(refused > static_cast<int>(rounds(30U)));
    // Cut short, and with another number of pages promised.
    lay(journal.substr(0, head + page + 8));
    CHECK(refusal(copy).find("The journal beside") == 0);
    std::string fewer = journal;
    fewer[11] = static_cast<char>(fewer[11] - 1);
    lay(fewer);
    CHECK(refusal(copy).find("The journal beside") == 0);
  }
}
