// The flat log out again: one row a count, for a spreadsheet or another logbook.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <utility>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/file/disk.hpp"
#include "logbook/file/odd_path.hpp"
#include "logbook/file/part.hpp"
#include "logbook/flat/log.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("FILE", "where to; standard output if none is given, or -", 0, 1);
  options.flag("replace", "FILE may stand there already");
  options.flag("damaged", "save what can be read of a damaged logbook; figures may be false");
}

// A logbook is never written over, whatever it is called: it would be gone for good.
bool is_database(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::array<char, 15> head{};
  file.read(head.data(), head.size());
  return std::string_view(head.data(), head.size()) == "SQLite format 3";
}

// A file under a name of its own beside its place; gone again unless it was moved there.
class PartFile {
 public:
  // For nobody but those who may use the logbook, whose record it holds.
  PartFile(const std::string& beside, const std::string& log)
      : part_(beside, logbook::mode_of_copy(log)), name_(part_.path()) {
    if (part_) file_ = ::fdopen(::fcntl(part_.number(), F_DUPFD_CLOEXEC, STDERR_FILENO + 1), "wb");
  }
  PartFile(const PartFile&) = delete;
  PartFile& operator=(const PartFile&) = delete;
  ~PartFile() {
    if (file_ != nullptr) std::fclose(file_);
  }
  bool opened() const { return file_ != nullptr; }
  void write(std::string_view text) {
    whole_ = whole_ && std::fwrite(text.data(), 1, text.size(), file_) == text.size();
  }
  bool move_to(const std::string& path, bool replace) {
    whole_ = std::fclose(std::exchange(file_, nullptr)) == 0 && whole_;
    if (!whole_) return false;
    return replace ? logbook::replace_file(name_, path) : logbook::take_name(name_, path);
  }

 private:
  logbook::Part part_;
  std::string name_;
  std::FILE* file_ = nullptr;
  bool whole_ = true;
};

std::vector<std::string> write_file(logbook::Logbook& logbook, const std::string& path,
                                    bool replace) {
  PartFile part(path, logbook.path());
  if (!part.opened())
    throw logbook::Unusable(
        path + " could not be written: is there such a folder, and may you write there?");
  std::vector<std::string> left_out =
      logbook::export_flat_log(logbook, [&](std::string_view text) { part.write(text); });
  if (!part.move_to(path, replace))
    throw logbook::Unusable(path + " could not be written whole: is the disk full?");
  return left_out;
}

// To a pipe, whose other end may be slow, only what has been read to its end: nobody who writes
// waits for a pager.
std::vector<std::string> write_out(const Context& context, logbook::Logbook& logbook) {
  const auto print = [&context](std::string_view text) { context.screen.pass_on(text); };
  struct stat seen = {};
  if (::fstat(STDOUT_FILENO, &seen) == 0 && S_ISREG(seen.st_mode))
    return logbook::export_flat_log(logbook, print);
  const auto refuse_unless = [](bool kept_whole) {
    if (!kept_whole)
      throw logbook::Unusable(
          "The flat log could not be kept in a temporary file; is the disk full?");
  };
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> kept(std::tmpfile(), std::fclose);
  refuse_unless(kept != nullptr);
  bool whole = true;
  std::vector<std::string> left_out = logbook::export_flat_log(logbook, [&](std::string_view text) {
    whole = whole && std::fwrite(text.data(), 1, text.size(), kept.get()) == text.size();
  });
  refuse_unless(whole && std::fflush(kept.get()) == 0 && std::fseek(kept.get(), 0, SEEK_SET) == 0);
  std::array<char, 64 * 1024> block{};
  while (const std::size_t got = std::fread(block.data(), 1, block.size(), kept.get()))
    print({block.data(), got});
  refuse_unless(std::ferror(kept.get()) == 0);
  return left_out;
}

int run(Context& context, const Arguments& arguments) {
  const std::string path = arguments.words().empty() ? "-" : arguments.words()[0];
  if (path == "-" && context.json)
    throw WrongUsage(
        "The flat log goes to standard output: name a file to have the answer as JSON.");
  logbook::Logbook logbook = arguments.flag("damaged")
                                 ? logbook::Logbook::open_as_found(context.log)
                                 : open_logbook(context, logbook::Access::read);
  std::error_code ignored;
  if (const auto odd = logbook::odd_on_the_way(path); odd && path != "-")
    throw logbook::Unusable("Nothing can be exported there. " + *odd);
  if (path != "-" && !arguments.flag("replace") && std::filesystem::exists(path, ignored))
    throw logbook::Unusable(path + " is there already. --replace puts the new one in its place.");
  if (path != "-" && is_database(path))
    throw logbook::Unusable(path +
                            " is a logbook or another database, and would be lost. Name "
                            "another file.");
  const std::vector<std::string> left_out =
      path == "-" ? write_out(context, logbook)
                  : write_file(logbook, path, arguments.flag("replace"));
  if (path != "-") made(context, "The file was written all the same: " + path + '.');
  if (context.json)
    print_json(context, {{"file", path}, {"left_out", left_out}});
  else if (path != "-")
    context.screen.line("Exported to " + path);
  if (arguments.flag("damaged"))
    context.screen.remark(
        "Saved from a logbook that may be damaged: look over each figure before you trust it.");
  if (!left_out.empty())
    context.screen.remark("The flat log does not carry " + listed(left_out) +
                          "; the logbook and its backup do.");
  return 0;
}

}  // namespace

extern const Command export_command;
const Command export_command{
    .name = "export",
    .group = Group::mind,
    .summary = "a spreadsheet out",
    .about =
        "Writes the flat log: lots, treatments, trials, sowings, current counts and endings, one "
        "row a count. What that form does not carry (corrections, notes, stock, the journal) stays "
        "in the logbook, and is said.",
    .example = "plumule export /tmp/season.csv",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
