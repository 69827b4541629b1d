// A damaged logbook in the hands of each command: no signal, no hang, and every command either
// refuses or gives the very figures of the undamaged one.
//   damage_figures [DRAWN [FIRST]]    (so many drawn by number, from the first number on; without
//                                     them each damage meets three of the commands by turns)
#include <signal.h>
#include <unistd.h>

#include <cstring>
#include <filesystem>
#include <iostream>

#include "damage/kinds.hpp"
#include "faults/session.hpp"
#include "logbook/folder.hpp"
#include "logbook/processes.hpp"

using namespace plumule::tests;

namespace {

constexpr const char* questions[] = {"check",           "summary --json",          "export",
                                     "amend K3 --json", "compare SOAK --json",     "today --json",
                                     "undo --list",     "note K3 --json",          "lot --json",
                                     "count K3+1",      "viability BEAN-25 --json"};

std::string at_work;  // what is being tried, for the last words of a killed test

extern "C" void last_words(int signal) {
  const char* const why = signal == SIGALRM ? "it hangs: " : "a signal: ";
  if (::write(STDERR_FILENO, why, std::strlen(why)) < 0 ||
      ::write(STDERR_FILENO, at_work.c_str(), at_work.size()) < 0 ||
      ::write(STDERR_FILENO, "\n", 1) < 0)
    ::_exit(98);
  ::_exit(97);
}

Answer ask(const std::string& question, const std::string& folder) {
  std::vector<std::string> words = words_of(question);
  words.insert(words.end(), {"--log", "{}/log.db", "--today", "2026-05-20", "--who", "ada"});
  return run_command(words, folder);
}

void lay(const Damaged& damaged, const std::string& folder) {
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    std::filesystem::remove(entry.path());
  write_bytes(folder + "/log.db", damaged.log);
  if (!damaged.journal.empty()) write_bytes(folder + "/log.db-journal", damaged.journal);
}

// The answers of sound files that this damage may leave: as it was, and as it was before.
using Answers = std::vector<std::vector<std::string>>;

std::vector<std::string> answers_of(const Damaged& sound, const std::string& folder) {
  std::vector<std::string> answers;
  for (const char* const question : questions) {
    lay(sound, folder);
    const Answer answer = ask(question, folder);
    if (answer.status != 0) throw std::runtime_error(question + answer.out + answer.err);
    answers.push_back(answer.out);
  }
  return answers;
}

struct Totals {
  int questions = 0, refused = 0, right = 0;
  int mixed = 0;   // the same, of pages that are each whole
  int other = 0;   // other figures than the undamaged file's
  int unsaid = 0;  // "Something went wrong inside", or a refusal without a word
};

void try_damage(const Damaged& damaged, const Answers& sound, const std::string& folder,
                const std::vector<std::size_t>& asked, Totals& totals) {
  for (const std::size_t i : asked) {
    at_work = damaged.what + ", " + questions[i];
    lay(damaged, folder);
    ::alarm(60);
    const Answer answer = ask(questions[i], folder);
    ::alarm(0);
    ++totals.questions;
    const std::string all = answer.out + answer.err;
    const auto told = [&](int& kind, const char* what) {
      if (++kind <= 200) std::cerr << at_work << ": " << what << ": " << all.substr(0, 300) << '\n';
    };
    if (answer.status != 0) {
      ++totals.refused;
      if (all.empty() || all.find("Something went wrong") != std::string::npos)
        told(totals.unsaid, "nothing that helps is said");
      continue;
    }
    bool right = false;
    for (const auto& answers : sound) right = right || answers[i] == answer.out;
    if (right)
      ++totals.right;
    else
      told(damaged.pages_whole ? totals.mixed : totals.other,
           "other figures than the undamaged one's");
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int drawn = number_typed(argc, argv, 1, 60);
  const int first = number_typed(argc, argv, 2, 1);
  if (drawn < 1 || first < 1) return fail("damage_figures [DRAWN [FIRST]]");
  for (const int signal : {SIGSEGV, SIGBUS, SIGFPE, SIGABRT, SIGALRM}) ::signal(signal, last_words);
  const Folder folder, place;
  const Images images = make_images(folder.path());
  const Answers sound = {answers_of({"", images.log}, place.path()),
                         answers_of({"", images.older}, place.path())};
  Totals totals;
  std::size_t cases = 0;
  const auto try_one = [&](const Damaged& damaged) {
    constexpr std::size_t all = std::size(questions);
    std::vector<std::size_t> asked(argc > 1 ? all : 3);
    for (std::size_t i = 0; i < asked.size(); ++i) asked[i] = (3 * cases + i) % all;
    try_damage(damaged, sound, place.path(), asked, totals);
    ++cases;
  };
  for (const Damaged& damaged : each_damage(images)) try_one(damaged);
  for (int i = 0; i < drawn; ++i)
    try_one(drawn_damage(images, static_cast<std::uint32_t>(first + i)));
  std::cout << cases << " damaged logbooks, " << totals.questions << " commands: " << totals.refused
            << " refused, " << totals.right << " right, " << totals.other << " with other figures, "
            << totals.mixed << " with those of another time or file, " << totals.unsaid
            << " without a word that helps\n";
  if (totals.refused < totals.questions / 4 || totals.right < totals.questions / 20)
    return fail("too little was damaged, or too much, to show anything");
  // A file whose pages bear no checksum cannot tell.
  const bool wrong = totals.unsaid > 0 || (images.sealed() && totals.other > 0);
  return wrong ? fail("a damaged logbook was taken for a sound one") : 0;
}
