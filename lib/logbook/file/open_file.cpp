#include "logbook/file/open_file.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "logbook/file/disk.hpp"
#include "logbook/file/seal.hpp"

namespace plumule::logbook {
namespace {

// A write-ahead log that nothing tells whose it is, in a file that somebody holds so long: it is at
// work there, and the log is its own.
constexpr std::chrono::milliseconds at_work{1000};

constexpr int refused = SQLITE_IOERR;  // the sentence stands in the report
constexpr int least_page = 512;        // bytes

}  // namespace

OpenFile::OpenFile(sqlite3_file* plain, std::string path, bool read_only)
    : plain_(plain), path_(std::move(path)), read_only_(read_only) {
  sqlite3_int64 size = 1;
  fresh_ = plain_->pMethods->xFileSize(plain_, &size) == SQLITE_OK && size == 0;
  if (fresh_) fresh_mark_ = fresh_mark();
}

int OpenFile::lock(int level) {
  const int code = plain_->pMethods->xLock(plain_, level);
  if (code != SQLITE_OK || level <= held_) return code;
  const int before = held_;
  held_ = level;
  int minded = SQLITE_OK;
  if (before == SQLITE_LOCK_NONE) {
    head_.reset();
    half_written_asked_ = false;
    if (report_ != nullptr) report_->ending = false;
    minded = mind_log();
  } else if (before == SQLITE_LOCK_SHARED && level == SQLITE_LOCK_EXCLUSIVE) {
    // A writer comes by way of RESERVED; straight from SHARED SQLite comes to roll a journal back.
    minded = mind_journal();
  }
  if (minded != SQLITE_OK) unlock(before);
  return minded;
}

int OpenFile::unlock(int level) {
  if (held_ == SQLITE_LOCK_EXCLUSIVE && level < held_) {
    const int trouble = errno;  // of what failed before, which SQLite will ask for
    conclude();
    errno = trouble;
  }
  const int code = plain_->pMethods->xUnlock(plain_, level);
  if (code == SQLITE_OK && level < held_) {
    held_ = level;
    head_.reset();
    turn_.reset();
  }
  return code;
}

bool OpenFile::read_plain(void* into, int size, sqlite3_int64 offset) const {
  return plain_->pMethods->xRead(plain_, into, size, offset) == SQLITE_OK;
}

// SQLite reads page 1, or whether it changed, each time it has locked the file: the mark is read
// along with it.
int OpenFile::read(void* into, int size, sqlite3_int64 offset) {
  const bool locked = held_ != SQLITE_LOCK_NONE;
  constexpr int version_size = 16;  // bytes from the counter on
  unsigned char bytes[head_size];
  if (locked && offset == counter_at && size == version_size &&
      read_plain(bytes, sizeof bytes, 0)) {
    see(bytes);
    if (is_half_written()) return SQLITE_IOERR_DATA;
    std::memcpy(into, bytes + counter_at, version_size);
    return SQLITE_OK;
  }
  if (stopped_by_seal()) return SQLITE_IOERR_DATA;
  const int code = plain_->pMethods->xRead(plain_, into, size, offset);
  // Of a disk that fails SQLite would say that the file is damaged.
  if (code == SQLITE_IOERR_CORRUPTFS) return SQLITE_IOERR_READ;
  if (!locked || code != SQLITE_OK || size < least_page) return code;
  const auto* const page = static_cast<const unsigned char*>(into);
  if (offset == 0) {
    see(page);
    if (is_half_written()) return SQLITE_IOERR_DATA;
  }
  return heed_seal(page, size, offset) ? SQLITE_OK : SQLITE_IOERR_DATA;
}

bool OpenFile::heed_seal(const unsigned char* page, int size, sqlite3_int64 offset) {
  if (!head().to_be_sealed) return true;
  const auto number = static_cast<std::uint32_t>(offset / size + 1);
  if (head().has_seals() && is_sealed(page, static_cast<std::size_t>(size), number, head().mark))
    return true;
  if (never_written(page, size, offset)) return true;
  if (report_ == nullptr) return false;
  report_->unsealed.insert(number);
  return report_->seals == Seals::noted;
}

// A page that the transaction under way took and gave up again before it was ever written: a hole.
bool OpenFile::never_written(const unsigned char* page, int size, sqlite3_int64 offset) const {
  return turn_ && offset >= turn_->size &&
         std::all_of(page, page + size, [](unsigned char byte) { return byte == 0; });
}

// A stopped command left the file half written, and what would put it right is not beside it.
bool OpenFile::is_half_written() {
  if (held_ != SQLITE_LOCK_SHARED || half_written_asked_) return false;
  half_written_asked_ = true;
  if (!head().in_the_midst || report_ == nullptr) return false;
  const auto ended = stamp_of_ended(path_ + "-journal");
  if (ended && (ended->before == head().mark || ended->after == head().mark)) return false;
  report_->half_written = true;
  return report_->seals == Seals::heeded;
}

// SQLite may pass over an error that a page of little weight brings: nothing more comes after it.
bool OpenFile::stopped_by_seal() const {
  return report_ != nullptr && report_->seals == Seals::heeded && report_->altered();
}

void OpenFile::see(const unsigned char* page) {
  head_ = head_in(page);
  marked_ = !head_->mark.none();
}

const Head& OpenFile::head() {
  if (!head_) {
    unsigned char bytes[head_size] = {};
    if (!read_plain(bytes, sizeof bytes, 0)) std::memset(bytes, 0, sizeof bytes);
    see(bytes);
  }
  return *head_;
}

int OpenFile::write(const void* from, int size, sqlite3_int64 offset) {
  if (stopped_by_seal()) return SQLITE_IOERR_DATA;
  if (size < least_page) return plain_->pMethods->xWrite(plain_, from, size, offset);
  auto* const page = static_cast<unsigned char*>(const_cast<void*>(from));
  if (offset == 0) return write_first(page, size);
  if (const int code = announce(); code != SQLITE_OK) return code;
  sealed_unasked_ = sealed_unasked_ || fresh_;
  if (fresh_ || head().has_seals())
    seal(page, static_cast<std::size_t>(size), static_cast<std::uint32_t>(offset / size + 1),
         fresh_ ? fresh_mark_ : head().mark);
  return plain_->pMethods->xWrite(plain_, page, size, offset);
}

// SQLite's own copy is as the page is to stand when the journal has ended; until then the file has
// it with the word that it is in the midst.
int OpenFile::write_first(unsigned char* page, int size) {
  put_mark(mark_to_write(page), page);
  const Head written = head_in(page);
  // The pages that came to a new file before its first one would have lost their ends.
  if (!written.has_seals() && sealed_unasked_) return SQLITE_INTERNAL;
  if (written.has_seals()) seal(page, static_cast<std::size_t>(size), 1, written.mark);
  const bool announcing = turn_ && turn_->announces;
  if (announcing) page[midst_at] |= midst_bit;
  const int code = plain_->pMethods->xWrite(plain_, page, size, 0);
  if (announcing) page[midst_at] &= static_cast<unsigned char>(~midst_bit);
  if (code != SQLITE_OK) return code;
  if (announcing) turn_->announced = true;
  fresh_ = false;
  see(page);
  return SQLITE_OK;
}

// Before a transaction changes any page the file says that it is in the midst.
int OpenFile::announce() {
  if (!turn_ || !turn_->announces || turn_->announced) return SQLITE_OK;
  const int code = write_midst(midst_bit);
  if (code == SQLITE_OK) turn_->announced = true;
  return code;
}

// The transaction is over when its journal has ended. The file need not say so durably: after a
// power cut the journal still does.
void OpenFile::conclude() {
  if (turn_ && turn_->announced && has_ended(path_ + "-journal")) write_midst(0);
}

int OpenFile::write_midst(unsigned char bit) {
  unsigned char byte = 0;
  if (!read_plain(&byte, 1, midst_at)) return SQLITE_IOERR_READ;
  byte = static_cast<unsigned char>((byte & ~midst_bit) | bit);
  return plain_->pMethods->xWrite(plain_, &byte, 1, midst_at);
}

void OpenFile::journal_ends() {
  if (report_ != nullptr && turn_ && head().mark == turn_->marks.after &&
      !(turn_->marks.after == turn_->marks.before))
    report_->ending = true;
}

Mark OpenFile::mark_to_write(const unsigned char* page) {
  if (fresh_) return fresh_mark_;
  const Mark mark = mark_in(page);
  if (turn_)
    return big_endian(page + counter_at) == turn_->counter ? turn_->marks.before
                                                           : turn_->marks.after;
  return mark.none() ? head().mark : mark;
}

const unsigned char* OpenFile::stamped(const unsigned char* journal_head, int size) {
  const Head& now = head();
  const Mark mark = fresh_ ? fresh_mark_ : now.mark;
  sqlite3_int64 end = 0;
  plain_->pMethods->xFileSize(plain_, &end);
  turn_ = Turn{now.counter,
               {mark, fresh_ || mark.none() ? mark : in_next_state(mark)},
               end,
               now.to_be_sealed && now.has_seals()};
  if (report_ != nullptr) report_->ending = false;
  page_.assign(journal_head, journal_head + size);
  put_stamp(turn_->marks, page_.data());
  return page_.data();
}

int OpenFile::mark_in_place() {
  if (held_ != SQLITE_LOCK_EXCLUSIVE || turn_) return SQLITE_MISUSE;
  unsigned char bytes[head_size];
  if (!read_plain(bytes, sizeof bytes, 0)) return SQLITE_IOERR_READ;
  const Head now = head_in(bytes);
  // Sealed files have a mark from the start: one that lost it is for who finds out what was done.
  if (!now.database || now.write_ahead || !now.mark.none() || now.to_be_sealed) return SQLITE_OK;
  constexpr int version_valid_for = 92;  // bytes into the file: the counter when its size was told
  if (big_endian(bytes + version_valid_for) == now.counter)
    put_big_endian(now.counter + 1, bytes + version_valid_for);
  put_big_endian(now.counter + 1, bytes + counter_at);
  put_mark(fresh_mark(), bytes);
  const int code = plain_->pMethods->xWrite(plain_, bytes + counter_at,
                                            version_valid_for + 4 - counter_at, counter_at);
  if (code != SQLITE_OK) return code;
  see(bytes);
  return plain_->pMethods->xSync(plain_, SQLITE_SYNC_FULL);
}

// Another file stands at the path now: what lies beside it is that one's, which may be at work.
bool OpenFile::moved() const {
  int moved = 0;
  return plain_->pMethods->xFileControl(plain_, SQLITE_FCNTL_HAS_MOVED, &moved) == SQLITE_OK &&
         moved != 0;
}

int OpenFile::mind_journal() {
  if (!can_be_opened(path_ + "-journal")) return SQLITE_CANTOPEN;
  const Journal journal = rollback_journal(path_ + "-journal");
  const bool needed = head().in_the_midst;
  if (!journal.counts)
    return needed && !has_ended(path_ + "-journal") && !moved() ? refuse_journal() : SQLITE_OK;
  if (moved()) return SQLITE_READONLY_DBMOVED;
  const Belongs whose = belongs(journal, head().mark);
  if (head().to_be_sealed && journal.hurt) return refuse_journal();
  if (needed && (whose != Belongs::here || !journal.stamp)) return refuse_journal();
  if (whose != Belongs::elsewhere && grows_by(journal)) return refuse_journal();
  switch (whose) {
    case Belongs::here:
      if ((head().to_be_sealed && journal.page_size != head().page_size) ||
          !is_whole(path_ + "-journal", head()))
        return refuse_journal();
      // Rolled back the file is in the state in which the transaction found it.
      if (journal.stamp)
        turn_ = Turn{head().counter,
                     {journal.stamp->before, journal.stamp->before},
                     0,
                     head().to_be_sealed && head().has_seals(),
                     needed};
      if (report_ != nullptr) report_->rolled_back = true;
      return SQLITE_OK;
    case Belongs::elsewhere:
      return set_aside_here("-journal");
    case Belongs::unclear:
      return copy_as_found_here("-journal");
  }
  return SQLITE_OK;
}

// Rolled back the file would have pages that are neither in it nor in the journal: its size there
// is not what was written.
bool OpenFile::grows_by(const Journal& journal) const {
  sqlite3_int64 size = 0;
  return journal.page_size != 0 && plain_->pMethods->xFileSize(plain_, &size) == SQLITE_OK &&
         journal.pages >
             static_cast<std::uint64_t>(size) / journal.page_size + journal.most_records;
}

int OpenFile::refuse_journal() {
  if (report_ != nullptr && report_->seals == Seals::noted) {
    report_->half_written = report_->half_written || head().in_the_midst;
    return set_aside_here("-journal", Leftover::What::hurt);
  }
  if (report_ != nullptr) report_->beyond_repair = true;
  return refuse("The journal beside " + name() +
                ", by which it is to be put right after a command that was stopped in the midst of "
                "writing, is damaged or of another file. All is as it was.");
}

// Of a logbook's own making there is no write-ahead log: another program's lies there, which is at
// work or was stopped, or it is of another file.
int OpenFile::mind_log() {
  if (log_minded_ || !holds_anything(path_ + "-wal")) return SQLITE_OK;
  const Journal log = write_ahead_log(path_ + "-wal");
  const Belongs whose = log.counts ? belongs(log, head().mark) : Belongs::here;
  if (whose == Belongs::here) {
    if (!log.counts || !head().to_be_sealed || report_ == nullptr) return SQLITE_OK;
    report_->foreign_log = true;
    return report_->seals == Seals::noted ? SQLITE_OK : SQLITE_IOERR_DATA;
  }
  if (moved()) return SQLITE_READONLY_DBMOVED;
  if (read_only_)
    return refuse(name() + " has " + name() +
                  "-wal beside it, which may be of another file. Open it once where both can be "
                  "written.");
  // Who works with the log holds the file, too: only where nobody does may it be touched.
  const int alone = plain_->pMethods->xLock(plain_, SQLITE_LOCK_EXCLUSIVE);
  int code = alone;
  if (alone == SQLITE_OK)
    code = whose == Belongs::elsewhere ? set_aside_here("-wal") : copy_as_found_here("-wal");
  else if (alone == SQLITE_BUSY && whose == Belongs::unclear && waited_out())
    code = SQLITE_OK;
  plain_->pMethods->xUnlock(plain_, SQLITE_LOCK_SHARED);
  if (code == SQLITE_OK) log_minded_ = true;
  return code;
}

bool OpenFile::waited_out() {
  const auto now = std::chrono::steady_clock::now();
  if (!waiting_since_) waiting_since_ = now;
  return now - *waiting_since_ >= at_work;
}

int OpenFile::set_aside_here(const std::string& end, Leftover::What why) {
  const auto kept = set_aside(path_, end);
  if (!kept)
    return refuse(name() + end +
                  " was left by a command that worked on another file, and it cannot "
                  "be given another name. Move it to another folder, and try again.");
  tell(why, *kept);
  return SQLITE_OK;
}

int OpenFile::copy_as_found_here(const std::string& end) {
  sqlite3_int64 size = 0;
  if (plain_->pMethods->xFileSize(plain_, &size) != SQLITE_OK) return SQLITE_IOERR_FSTAT;
  const auto kept = copy_as_found(path_, end, size, [&](void* into, int some, std::int64_t offset) {
    return read_plain(into, some, offset);
  });
  if (!kept)
    return refuse(name() +
                  " was left by a command that was stopped in the midst of writing. It and " +
                  name() + end +
                  " are to be copied before it is put right, and could not be: is "
                  "there room on the disk, and may you write in the folder? All is as it was.");
  tell(Leftover::What::as_found, *kept);
  return SQLITE_OK;
}

int OpenFile::refuse(const std::string& sentence) {
  if (report_ != nullptr) report_->refusal = sentence;
  return refused;
}

void OpenFile::tell(Leftover::What what, const std::string& kept) {
  if (report_ != nullptr)
    report_->leftovers.push_back({what, name(), name() + kept.substr(path_.size())});
}

// As the caller names it, where that is the file and no link to it.
std::string OpenFile::name() const {
  std::error_code trouble;
  if (report_ != nullptr &&
      std::filesystem::absolute(report_->path, trouble).lexically_normal() == path_)
    return report_->path;
  return path_;
}

}  // namespace plumule::logbook
