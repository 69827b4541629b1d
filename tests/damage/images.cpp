#include "damage/images.hpp"

#include <sqlite3.h>

#include "logbook/flat/log.hpp"
#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"

namespace plumule::tests {
namespace {

using logbook::Access;
using logbook::Entry;
using logbook::Logbook;

void import_rows(Keeping& keeping, std::string text) {
  keeping.command("import", [&](Entry& entry) {
    const auto read = [&text](char* into, std::size_t size) {
      const std::size_t some = text.copy(into, size);
      text.erase(0, some);
      return some;
    };
    if (logbook::import_flat_log(entry, read, {}).errors_in_all != 0)
      throw logbook::Unusable("the rows are refused");
  });
}

std::string trial_rows() {
  std::string text =
      "sowing,lot,crop,sown_on,seeds,treatment,trial,block,place,counted_on,emerged,soil_temp_c\n";
  for (int tray = 1; tray <= 8; ++tray)
    for (int day = 10; day < 26; day += 3)
      text += "T" + std::to_string(tray) + ",BEAN-25,bean,2026-04-01,20," +
              (tray % 2 == 0 ? "soaked" : "untreated") + ",SOAK," + std::to_string((tray + 1) / 2) +
              ",bench,2026-04-" + std::to_string(day) + ',' +
              std::to_string((day - 8) * (tray + 6) / 14) + ',' + (day == 10 ? "14.5" : "") + '\n';
  return text;
}

void fill(Keeping& keeping) {
  import_rows(keeping, trial_rows());
  keeping.lot("LEEK-24", "leek");
  for (const char* const label : {"K3", "K4"}) keeping.sow(tray(label));
  keeping.count("K3=7", "2026-04-10", "bo");
  keeping.count("K3=9-1", "2026-04-14");
  keeping.count("K4=3", "2026-04-10");
  keeping.amend("K3=6", "2026-04-10");
  const records::Id k3 = sowing_named(keeping.book, "K3").id;
  keeping.command("note K3", [&](Entry& entry) {
    add_note(entry, {0, records::About::sowing, k3, day("2026-04-11"), "aphids", "bo"});
  });
  keeping.end("K4", records::EndingKind::accident, "2026-04-12", "eaten");
}

struct Files {
  std::string log, journal;
};

// Pages in the journal and in the file, and no commit.
Files stopped(const std::string& path) {
  Keeping keeping(Logbook::open(path, Access::write));
  Entry entry(keeping.book, "ada", "count", keeping.today);
  for (int i = 0; i < 3; ++i)
    record_count(entry, sowing_named(keeping.book, "K3"),
                 {at(i == 0   ? "2026-04-20"
                     : i == 1 ? "2026-04-21"
                              : "2026-04-22"),
                  {records::CountKind::newly, 1},
                  "",
                  0});
  records::Sowing sowing = tray("K9");
  add_sowing(entry, sowing);
  sqlite3_db_cacheflush(keeping.book.store().database().getHandle());
  return {bytes_of(path), bytes_of(path + "-journal")};
}

}  // namespace

Images make_images(const std::string& folder) {
  Images images;
  const std::string path = folder + "/made.db", other = folder + "/other.db";
  {
    Keeping keeping(Logbook::create(path));
    fill(keeping);
    images.older = bytes_of(path);
    keeping.count("K3=12", "2026-04-18");
    keeping.lot("LEEK-25", "leek");
    keeping.sow(tray("K5"));
  }
  images.log = bytes_of(path);
  Files files = stopped(path);
  images.half = files.log;
  images.journal = files.journal;
  {
    Keeping keeping(Logbook::create(other));
    keeping.sow(tray("K3"));
  }
  images.other = bytes_of(other);
  images.other_journal = stopped(other).journal;
  return images;
}

}  // namespace plumule::tests
