#include "faults/session.hpp"

#include <stdio_ext.h>
#include <sys/mman.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <stdexcept>

#include "cli/command.hpp"
#include "logbook/folder.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::tests {
namespace {

namespace fs = std::filesystem;

// A file in memory in the place of one of the three standard ones, until the end of its life.
class InPlaceOf {
 public:
  InPlaceOf(int number, const std::string& holds)
      : number_(number), former_(::dup(number)), file_(::memfd_create("standard", MFD_CLOEXEC)) {
    if (::write(file_, holds.data(), holds.size()) != static_cast<ssize_t>(holds.size()) ||
        ::lseek(file_, 0, SEEK_SET) != 0 || ::dup2(file_, number) < 0)
      throw std::runtime_error("no file in memory");
  }
  InPlaceOf(const InPlaceOf&) = delete;
  InPlaceOf& operator=(const InPlaceOf&) = delete;
  ~InPlaceOf() {
    ::dup2(former_, number_);
    ::close(former_);
    ::close(file_);
  }
  std::string text() const {
    std::string all;
    std::array<char, 65536> piece{};
    ssize_t got = 0;
    for (off_t at = 0; (got = ::pread(file_, piece.data(), piece.size(), at)) > 0; at += got)
      all.append(piece.data(), static_cast<std::size_t>(got));
    return all;
  }

 private:
  int number_, former_, file_;
};

bool is_database(const std::string& bytes) { return bytes.starts_with("SQLite format 3"); }

// Reading and checking takes most of the time of a case, and the same file comes again and again.
std::string rows_in(const std::string& path, const std::string& bytes) {
  static std::map<std::string, std::string> known;
  const std::string journal = bytes_of(path + "-journal");
  const bool alone = journal.empty() || journal.front() == '\0';
  if (alone)
    if (const auto found = known.find(bytes); found != known.end()) return found->second;
  logbook::Logbook book = logbook::Logbook::open(path, logbook::Access::write);
  for (const records::Refusal& wrong : logbook::check(book))
    throw std::runtime_error(fs::path(path).filename().string() + " is not sound: " + wrong.fact);
  std::string rows = all_of(book);
  if (known.size() > 200) known.clear();
  if (alone) known[bytes] = rows;
  return rows;
}

}  // namespace

Answer run_command(const std::vector<std::string>& words, const std::string& folder,
                   const std::string& input) {
  std::vector<std::string> typed;
  for (std::string word : words) {
    for (auto at = word.find("{}"); at != std::string::npos; at = word.find("{}"))
      word.replace(at, 2, folder);
    typed.push_back(word);
  }
  std::fflush(nullptr);
  Answer answer;
  const InPlaceOf in(STDIN_FILENO, input), out(STDOUT_FILENO, ""), err(STDERR_FILENO, "");
  __fpurge(stdin);
  std::clearerr(stdin);
  answer.status = cli::run(typed);
  std::fflush(stdout);
  std::clearerr(stdout);
  std::fflush(stderr);
  answer.out = out.text();
  answer.err = err.text();
  return answer;
}

std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words;
  bool quoted = false, open = false;
  for (const char letter : line) {
    if (letter == ' ' && !quoted) {
      open = false;
      continue;
    }
    if (!open) words.emplace_back();
    open = true;
    if (letter == '\'')
      quoted = !quoted;
    else
      words.back() += letter;
  }
  return words;
}

void copy_folder(const std::string& from, const std::string& to) {
  fs::remove_all(to);
  fs::copy(from, to, fs::copy_options::recursive);
}

Holdings holdings_of(const std::string& folder) {
  Holdings found;
  std::vector<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file()) names.push_back(fs::relative(entry.path(), folder).string());
  for (const std::string& name : names) {
    if (name.ends_with("-journal") || name.find(".part-") != std::string::npos) continue;
    const std::string path = folder + '/' + name;
    const std::string bytes = bytes_of(path);
    found[name] = is_database(bytes) ? rows_in(path, bytes) : bytes;
  }
  return found;
}

}  // namespace plumule::tests
