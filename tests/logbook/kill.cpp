// A process that logs counts is killed at random moments: every count that it said it had saved is
// there, nothing is half written, and the file is sound.
//   logbook_kill [ROUNDS [SEED]]      (25 unless said; the long form is 500)
#include <signal.h>
#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <random>

#include "logbook/folder.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

const std::int64_t first = at("2020-01-02T00:00").minutes();

// Logs count after count, now and then amending the last; says on `out` how many are saved.
[[noreturn]] void log_on(const std::string& path, std::int64_t from, int out) {
  for (std::int64_t n = from;; ++n) {
    log_count(path, "K3", first + n, 1);
    if (n % 4 == 3) {
      // Rewrites the rows after the amended one, in one transaction.
      Logbook book = Logbook::open(path, Access::write);
      Entry entry(book, "killed", "amend K3", day("2030-01-01"));
      const auto sowing = sowing_named(book, "K3");
      amend_count(entry, sowing, plumule::records::Moment::from_minutes(first + n - 2, true),
                  plumule::records::Entered{plumule::records::CountKind::newly, 2});
      entry.commit();
    }
    const std::int64_t saved = n + 1;
    if (::write(out, &saved, sizeof saved) != sizeof saved) std::exit(97);
  }
}

// One round; the number of counts that the logbook must hold at least is carried along.
std::string round(const std::string& path, std::int64_t& acknowledged, std::mt19937& random) {
  int ends[2];
  if (::pipe(ends) != 0) return "no pipe";
  const std::int64_t from =
      Keeping(Logbook::open(path, Access::read)).number("select count(*) from counts");
  const pid_t process = start([&]() -> int { log_on(path, from, ends[1]); });
  ::close(ends[1]);
  ::usleep(static_cast<useconds_t>(1000 + random() % 120'000));
  ::kill(process, SIGKILL);
  if (outcome(process) != -SIGKILL) return "the process ended by itself";
  std::int64_t saved = 0;
  while (::read(ends[0], &saved, sizeof saved) == sizeof saved) acknowledged = saved;
  ::close(ends[0]);
  Keeping keeping(Logbook::open(path, Access::write));
  const std::int64_t counts = keeping.number("select count(*) from counts");
  if (counts < acknowledged)
    return "lost: " + std::to_string(acknowledged) + " were acknowledged, " +
           std::to_string(counts) + " are there";
  if (counts > acknowledged + 1 && counts > from + 1) return "more than were made";
  if (keeping.number("select count(*) from journal where command = 'count K3'") != counts)
    return "a count without its line in the journal, or a line without its count";
  if (keeping.number("select count(*) from journal where command = 'amend K3'") !=
      keeping.number("select count(*) from changes"))
    return "an amendment without its ledger, or the other way";
  for (const plumule::records::Refusal& wrong : check(keeping.book)) return wrong.fact;
  return {};
}

int kill_rounds(int rounds, unsigned seed) {
  const Folder folder;
  const std::string path = folder / "plumule.db";
  {
    Keeping keeping(Logbook::create(path));
    plumule::records::Sowing sowing = tray("K3", "2020-01-01");
    sowing.units = 1'000'000;
    keeping.sow(sowing);
  }
  std::mt19937 random(seed);
  std::int64_t acknowledged = 0;
  for (int i = 0; i < rounds; ++i) {
    const std::string trouble = round(path, acknowledged, random);
    if (!trouble.empty())
      return fail("round " + std::to_string(i) + ", seed " + std::to_string(seed) + ": " + trouble);
  }
  std::cout << rounds << " kills, " << acknowledged << " counts acknowledged: all there\n";
  if (acknowledged < rounds / 5) return fail("too few counts were made to show anything");
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const int rounds = number_typed(argc, argv, 1, 25);
  const int seed = number_typed(argc, argv, 2, 1);
  if (rounds < 1) return fail("logbook_kill [ROUNDS [SEED]]");
  return kill_rounds(rounds, static_cast<unsigned>(seed));
}
