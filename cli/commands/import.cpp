// A flat log from a spreadsheet, all of it or nothing.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/importing.hpp"
#include "cli/opening.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("FILE", "the flat log as CSV; - for standard input", 1, 1);
  options.flag("dry-run", "say what it would add, and add nothing");
  options.flag("ignore-columns", "pass over columns that are not known; never one with counts");
  options.choice("dates", "ORDER", {"dmy", "mdy"},
                 "of 4/5/2026: the day first, or the month, in the whole sheet");
}

// An open file; closed at the end, unless it is standard input. What comes from a pipe or a
// keyboard is gathered in a temporary file first, so that the logbook is not locked while it is
// waited for.
class Source {
 public:
  explicit Source(const std::string& path) : path_(path) {
    if (path != "-") handle_ = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (handle_ < 0)
      throw records::Refused(errno == EACCES ? path + " may not be read: look at its permissions."
                                             : "There is no file " + path + " that could be read.");
  }
  Source(const Source&) = delete;
  Source& operator=(const Source&) = delete;
  ~Source() {
    if (handle_ > STDIN_FILENO) ::close(handle_);
  }

  void gather() {
    struct stat seen = {};
    if (::fstat(handle_, &seen) != 0 || S_ISREG(seen.st_mode)) return;
    const std::string full = path_ + " could not be kept in a temporary file; is the disk full?";
    std::FILE* const kept = std::tmpfile();
    if (kept == nullptr) throw records::Refused(full);
    const int copy = ::fcntl(::fileno(kept), F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
    bool whole = copy >= 0;
    std::array<char, 64 * 1024> block{};
    while (const std::size_t got = read(block.data(), block.size()))
      whole = whole && std::fwrite(block.data(), 1, got, kept) == got;
    whole = std::fclose(kept) == 0 && whole && ::lseek(copy, 0, SEEK_SET) == 0;
    if (handle_ > STDIN_FILENO) ::close(handle_);
    handle_ = copy;
    if (!whole) throw records::Refused(full);
  }

  std::size_t read(char* into, std::size_t size) const {
    ssize_t got = 0;
    do got = ::read(handle_, into, size);
    while (got < 0 && errno == EINTR);
    if (got < 0)
      throw records::Refused(errno == EISDIR ? path_ + " is a folder, and no flat log."
                                             : path_ + " could not be read to its end.");
    return static_cast<std::size_t>(got);
  }

 private:
  std::string path_;
  int handle_ = STDIN_FILENO;
};

// From so many new counts on, the file is rewritten without slack.
constexpr std::int64_t worth_packing = 500'000;

int run(Context& context, const Arguments& arguments) {
  const std::string& path = arguments.words()[0];
  const bool dry = arguments.flag("dry-run");
  Source source(path);
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  source.gather();
  logbook::Entry entry = begin(logbook, context);
  logbook::ImportOptions options = import_options();
  options.ignore_columns = arguments.flag("ignore-columns");
  if (const auto order = arguments.text("dates"))
    options.dates =
        *order == "dmy" ? logbook::DateOrder::day_first : logbook::DateOrder::month_first;
  const logbook::ImportSummary summary = logbook::import_flat_log(
      entry, [&](char* into, std::size_t size) { return source.read(into, size); }, options);
  const std::string added = new_things(summary);
  const auto answer = [&] {
    Json all{{"dry_run", dry}};
    all.update(to_json(summary));
    print_json(context, all);
  };
  if (summary.errors_in_all > 0) {
    context.json ? answer() : show_errors(context, summary);
    throw records::Refused(fmt::format("{} of {} wrong.", number_of(summary.errors_in_all, "value"),
                                       path == "-" ? "the input" : path));
  }
  if (!dry) {
    entry.say("Imported " + (added.empty() ? "nothing new" : added) +
              (path == "-" ? "" : " from " + path));
    entry.commit();
    if (summary.counts_new >= worth_packing) logbook::pack(logbook);
  }
  if (context.json) {  // once it is true
    answer();
    return 0;
  }
  if (summary.rows == 0) {
    context.screen.paragraph(
        "The first row names the columns, and no row follows: there is nothing to take in.");
    return 0;
  }
  context.screen.paragraph(added.empty()
                               ? "Nothing new: all of it stands in the logbook already."
                               : fmt::format("{} {}, from {}.", dry ? "Would add" : "Added", added,
                                             number_of(summary.rows, "row")));
  remark_on(context, summary, !added.empty());
  return 0;
}

}  // namespace

extern const Command import_command;
const Command import_command{
    .name = "import",
    .group = Group::mind,
    .summary = "take a spreadsheet in",
    .about =
        "Takes a flat log (CSV, one row a count; the columns sowing, sown_on, counted_on and "
        "emerged or newly_emerged will do) into the logbook: all of it, or nothing where a row is "
        "wrong. The same file twice adds nothing the second time.",
    .example = "plumule import flat-log.csv --dry-run",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
