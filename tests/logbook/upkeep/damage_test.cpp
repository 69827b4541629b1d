// A damaged file: whatever bytes are wrong, it is opened or refused in words, never a crash, and
// what `check` says is no more than words either. Seeds are printed where something fails.
#include <doctest/doctest.h>

#include <random>

#include "logbook/folder.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "support/rounds.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

void fill(const std::string& path) {
  Keeping keeping(Logbook::create(path));
  keeping.lot("X7");
  for (int tray_number = 1; tray_number <= 30; ++tray_number) {
    const std::string label = "A" + std::to_string(tray_number);
    keeping.sow(tray(label));
    keeping.count(label + "=3", "2026-04-08", "ben");
    keeping.count(label + "=5-1", "2026-04-10");
    keeping.amend(label + "=4", "2026-04-08");
  }
}

// Reads all there is and writes a little; true where nothing was amiss.
bool use(const std::string& path) {
  try {
    Keeping keeping(Logbook::open(path, Access::write));
    const auto wrong = check(keeping.book);
    histories(keeping.book, {});
    journal(keeping.book, 1000);
    lots(keeping.book);
    keeping.count("A1+1", "2026-04-12");
    undo(keeping.book, "ada");
    undo(keeping.book, "ada");
    return wrong.empty();
  } catch (const Unusable& error) {
    CHECK(std::string(error.what()).size() > 10);
  } catch (const plumule::records::Refused& error) {
    CHECK(std::string(error.what()).size() > 10);
  }
  return false;
}

}  // namespace

TEST_SUITE("damage") {
  TEST_CASE("the sound file passes") {
    const Folder folder;
    fill(folder / "a.db");
    CHECK(use(folder / "a.db"));
  }

  TEST_CASE("changed bytes never crash") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    const std::string sound = bytes_of(path);
    std::size_t noticed = 0;
    for (unsigned seed = 1; seed <= rounds(120U); ++seed) {
      CAPTURE(seed);
      std::mt19937 random(seed);
      std::string damaged = sound;
      const std::size_t spots = 1 + random() % 20;
      for (std::size_t i = 0; i < spots; ++i)
        damaged[random() % damaged.size()] = static_cast<char>(random() & 0xFF);
      write_bytes(folder / "b.db", damaged);
      if (!use(folder / "b.db")) ++noticed;
      std::filesystem::remove(folder / "b.db-journal");
    }
    // Much of a file is empty space, but not most of it.
    CHECK(noticed > rounds(30U));
  }

  TEST_CASE("a page of noise never crashes") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    const std::string sound = bytes_of(path);
    for (std::size_t page = 0; page * 4096 < sound.size(); ++page) {
      CAPTURE(page);
      std::mt19937 random(static_cast<unsigned>(page) + 7);
      std::string damaged = sound;
      for (std::size_t i = page * 4096; i < (page + 1) * 4096; ++i)
        damaged[i] = static_cast<char>(random() & 0xFF);
      write_bytes(folder / "b.db", damaged);
      CHECK_FALSE(use(folder / "b.db"));
      std::filesystem::remove(folder / "b.db-journal");
    }
  }

  TEST_CASE("a shortened file is noticed") {
    const Folder folder;
    const std::string path = folder / "a.db";
    fill(path);
    const std::string sound = bytes_of(path);
    for (std::size_t length = 1; length < sound.size(); length += 3001) {
      CAPTURE(length);
      write_bytes(folder / "b.db", sound.substr(0, length));
      CHECK_FALSE(use(folder / "b.db"));
      std::filesystem::remove(folder / "b.db-journal");
    }
  }
}
