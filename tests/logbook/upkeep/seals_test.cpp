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
                   static_cast<std::uint32_t>(i + 1),
                   mark_in(reinterpret_cast<const unsigned char*>(bytes.data()))))
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

struct Stopped {
  std::string log;
  std::string journal;
};

// As a kill leaves both: pages written, the journal not ended.
Stopped stopped_in_the_midst(const std::string& path) {
  Keeping keeping(Logbook::open(path, Access::write));
  keeping.book.store().run("pragma cache_size = 10; pragma cache_spill = 10");
  Entry entry(keeping.book, "ada", "sow", keeping.today);
  for (int i = 0; i < 200; ++i) add_sowing(entry, tray("B" + std::to_string(i)));
  return {bytes_of(path), bytes_of(path + "-journal")};
}

std::string checked(const std::string& path) {
  std::string all;
  try {
    Logbook found = Logbook::open_as_found(path);
    for (const auto& trouble : look_over(found).wrong) all += trouble.fact + '\n';
    for (const auto& leftover : found.leftovers()) all += in_words(leftover) + '\n';
  } catch (const Unusable& error) {
    all = error.what();
  }
  return all;
}

}  // namespace

TEST_SUITE("seals") {
  TEST_CASE("a seal tells each bit of its page, its place and its file") {
    std::vector<unsigned char> bytes(512);
    std::mt19937 random(5);
    for (unsigned char& byte : bytes) byte = static_cast<unsigned char>(random());
    const Mark file = fresh_mark();
    seal(bytes.data(), bytes.size(), 7, file);
    CHECK(is_sealed(bytes.data(), bytes.size(), 7, file));
    CHECK(is_sealed(bytes.data(), bytes.size(), 7, in_next_state(file)));
    CHECK_FALSE(is_sealed(bytes.data(), bytes.size(), 8, file));
    CHECK_FALSE(is_sealed(bytes.data(), bytes.size(), 7, fresh_mark()));
    for (std::size_t bit = 0; bit < bytes.size() * 8; ++bit) {
      bytes[bit / 8] ^= static_cast<unsigned char>(1U << bit % 8);
      CHECK_FALSE(is_sealed(bytes.data(), bytes.size(), 7, file));
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
    lay_mark(path);
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
    const Stopped stopped = stopped_in_the_midst(path);
    const std::string& half_written = stopped.log;
    const std::string& journal = stopped.journal;
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

  TEST_CASE("a page of another logbook is told from the file's own") {
    const Folder folder;
    const std::string path = folder / "a.db", other = folder / "b.db";
    fill(path);
    fill(other);
    const std::string theirs = bytes_of(other);
    const std::string sound = bytes_of(path);
    for (std::size_t i = 1; i * page < sound.size(); ++i) {
      CAPTURE(i);
      write_bytes(path, std::string(sound).replace(i * page, page, theirs, i * page, page));
      CHECK(unsealed(path) == std::vector<std::size_t>{i + 1});
    }
  }

  TEST_CASE("a half-written file is told as that where its journal is lost or hurt") {
    const Folder folder;
    const std::string path = folder / "a.db", copy = folder / "b.db", other = folder / "c.db";
    fill(path);
    fill(other);
    const std::string stood = content(path);
    const Stopped stopped = stopped_in_the_midst(path);
    const std::string& half_written = stopped.log;
    const std::string& journal = stopped.journal;
    const std::string theirs = stopped_in_the_midst(other).journal;
    const std::string stood_at = bytes_of(path);
    REQUIRE(unsealed(path).empty());
    const auto lay = [&](const std::string& beside) {
      for (const auto& entry : fs::directory_iterator(folder.path()))
        if (entry.path().string().starts_with(copy)) fs::remove(entry);
      write_bytes(copy, half_written);
      if (!beside.empty()) write_bytes(copy + "-journal", beside);
    };
    const auto never_read = [&] {
      CHECK(refusal(copy).find(copy) != std::string::npos);
      CHECK(bytes_of(copy) == half_written);
      CHECK(checked(copy).find("stopped in the midst") != std::string::npos);
      // The check put what lay there out of the way, and nothing is read now either.
      CHECK(refusal(copy).find("is not as it was written") != std::string::npos);
      CHECK(bytes_of(copy) == half_written);
    };
    lay("");
    never_read();
    lay(theirs);
    never_read();
    // The journal of another commit, which ended.
    std::string earlier = journal;
    auto* const head = reinterpret_cast<unsigned char*>(earlier.data());
    const Mark state =
        in_next_state(mark_in(reinterpret_cast<const unsigned char*>(stood_at.data())));
    put_stamp({state, in_next_state(state)}, head);
    lay(earlier.replace(0, 28, 28, '\0'));
    never_read();
    for (std::size_t at = 0; at < static_cast<std::size_t>(stamp_at + stamp_size); ++at) {
      CAPTURE(at);
      std::string hurt = journal;
      hurt[at] = static_cast<char>(hurt[at] ^ 0x41);
      lay(hurt);
      never_read();
    }
    lay(journal);
    CHECK(refusal(copy) == "(read)");
    CHECK(content(copy) == stood);
    CHECK(unsealed(copy).empty());
  }

  TEST_CASE("a file that does not say yet that its commit is over is read by the ended journal") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    const std::string stood = content(path);
    std::string bytes = bytes_of(path);
    auto* const first = reinterpret_cast<unsigned char*>(bytes.data());
    CHECK_FALSE(head_in(first).in_the_midst);
    first[midst_at] |= midst_bit;
    write_bytes(path, bytes);
    CHECK(refusal(path) == "(read)");
    CHECK(checked(path).empty());
    // The next command says it.
    { Keeping(Logbook::open(path, Access::write)).count("A1=7", "2026-04-12"); }
    CHECK_FALSE(
        head_in(reinterpret_cast<const unsigned char*>(bytes_of(path).data())).in_the_midst);
    write_bytes(path, bytes);
    fs::remove(path + "-journal");
    CHECK(refusal(path).find("is not as it was written") != std::string::npos);
  }
}
