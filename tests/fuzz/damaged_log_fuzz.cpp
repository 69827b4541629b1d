// A logbook's file with any bytes of it overwritten, moved, cut or taken from another time, with
// and without the journal of a stopped commit: it is refused in words, or what is read of it is
// what the undamaged one holds (where its pages are sealed, and
// each is not merely of another time: those of a commit that was stopped, and old ones, are whole).
//
// The input is a list of changes to the file rather than the file: four bytes say what and where,
// the fifth how. The first byte of all says which file, and whether it is exported or looked over.
#include <fcntl.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <set>
#include <string>
#include <string_view>

#include "damage/images.hpp"
#include "fuzz/sqlite_memory.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/folder.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "records/refused.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

std::string exported(logbook::Logbook& book) {
  std::string text;
  logbook::export_flat_log(book, [&text](std::string_view some) { text += some; });
  return text;
}

// A disk in memory, where there is one: thousands of files are written to it.
struct Place {
  Place() {
    give_sqlite_its_own_memory();
    if (std::filesystem::is_directory("/dev/shm")) ::setenv("TMPDIR", "/dev/shm", 1);
  }
};

// Of the file that stands there only the pages that are to be others are written.
void lay_pages(const std::string& path, const std::string& wanted) {
  static std::string there;
  const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
  if (file < 0) std::abort();
  const auto size = static_cast<std::size_t>(::lseek(file, 0, SEEK_END));
  there.resize(size);
  bool done = ::pread(file, there.data(), size, 0) == static_cast<ssize_t>(size);
  for (std::size_t at = 0; at < wanted.size(); at += page_size) {
    const std::string_view page = std::string_view(wanted).substr(at, page_size);
    if (at < size && std::string_view(there).substr(at, page_size) == page) continue;
    done = done && ::pwrite(file, page.data(), page.size(), static_cast<off_t>(at)) ==
                       static_cast<ssize_t>(page.size());
  }
  done = done && ::ftruncate(file, static_cast<off_t>(wanted.size())) == 0;
  ::close(file);
  if (!done) std::abort();
}

struct Ground {
  Place place;
  Folder folder;
  Images images = make_images(folder.path());
  std::string path = folder / "log.db";
  std::set<std::string> rows, sheets;  // of the states that a damage may leave

  Ground() {
    for (const std::string* const state : {&images.log, &images.older}) {
      lay(*state, "");
      logbook::Logbook book = logbook::Logbook::open(path, logbook::Access::write);
      rows.insert(all_of(book));
      sheets.insert(exported(book));
    }
  }
  void lay(const std::string& log, const std::string& journal) const {
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
      if (entry.path() != path) std::filesystem::remove(entry.path());
    lay_pages(path, log);
    if (!journal.empty()) write_bytes(path + "-journal", journal);
  }
};

void change(std::string& file, const Images& images, const std::uint8_t* five) {
  if (file.empty()) return;
  const std::size_t at =
      ((std::size_t{five[1]} << 16) + (std::size_t{five[2]} << 8) + five[3]) % file.size();
  const std::size_t page = at / page_size * page_size;
  switch (five[0] % 8) {
    case 0:
    case 1:
      file[at] = static_cast<char>(five[4]);
      break;
    case 2:
      file[at] = static_cast<char>(file[at] ^ (1 << five[4] % 8));
      break;
    case 3:
      file.resize(at);
      break;
    case 4:
      file.replace(at, std::min<std::size_t>(five[4], file.size() - at), five[4],
                   five[4] % 2 ? 'A' : '\0');
      break;
    case 5:  // another page in its place
      if (page + page_size <= file.size() &&
          std::size_t{five[4]} * page_size + page_size <= file.size())
        file.replace(page, page_size, file, five[4] * page_size, page_size);
      break;
    case 6:  // the page of a while ago
      if (page + page_size <= file.size() && page + page_size <= images.older.size())
        file.replace(page, page_size, images.older, page, page_size);
      break;
    default:
      file.erase(at, five[4]);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Ground ground;
  if (size < 6) return 0;
  const bool stopped = (data[0] & 1) != 0;
  std::string log = stopped ? ground.images.half : ground.images.log;
  std::string journal = stopped ? ground.images.journal : "";
  if ((data[0] & 6) == 6) journal = ground.images.other_journal;
  bool pages_whole = stopped || !journal.empty();
  for (std::size_t at = 1; at + 5 <= size && at < 41; at += 5) {
    pages_whole = pages_whole || data[at] % 8 == 6;
    const bool of_journal = !journal.empty() && (data[at] & 8) != 0;
    change(of_journal ? journal : log, ground.images, data + at);
  }
  ground.lay(log, journal);
  std::string rows, sheet;
  bool sound = false;
  try {
    logbook::Logbook book = logbook::Logbook::open(ground.path, logbook::Access::read);
    if (data[0] & 8) {
      sheet = exported(book);
    } else {
      sound = logbook::check(book).empty();
      if (sound && !pages_whole) rows = all_of(book);
    }
  } catch (const logbook::Unusable&) {
  } catch (const records::Refused&) {
  }
  // A journal tells how large its file was: damage to that must not be played back.
  if (std::filesystem::file_size(ground.path) > 2 * ground.images.log.size()) std::abort();
  if (!ground.images.sealed() || pages_whole) return 0;
  if (!sheet.empty() && !ground.sheets.contains(sheet)) std::abort();
  if (sound && !ground.rows.contains(rows)) std::abort();
  return 0;
}
