// Many processes write counts into one logbook at once: none is refused, none is lost.
//   logbook_crowd [PROCESSES [COUNTS EACH]]      (8 and 20 unless said; the long form is 8 250)
#include <iostream>
#include <vector>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/processes.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

int crowd(int processes, int each) {
  const Folder folder;
  const std::string path = folder / "plumule.db";
  {
    Keeping keeping(Logbook::create(path));
    plumule::records::Sowing sowing = tray("SHARED", "2020-01-01");
    sowing.units = 1'000'000;
    keeping.sow(sowing);
    for (int i = 0; i < processes; ++i) {
      sowing.label = "OWN" + std::to_string(i);
      keeping.sow(sowing);
    }
  }
  const std::int64_t first = at("2020-01-02T00:00").minutes();
  std::vector<pid_t> running;
  running.reserve(static_cast<std::size_t>(processes));
  for (int i = 0; i < processes; ++i)
    running.push_back(start([&] {
      // Half of them into one tray, in between each other's, half into a tray of its own.
      for (int k = 0; k < each; ++k)
        log_count(path, k % 2 == 0 ? "SHARED" : "OWN" + std::to_string(i),
                  first + std::int64_t{k} * processes + i, 1);
      return 0;
    }));
  int refused = 0;
  for (const pid_t process : running)
    if (outcome(process) != 0) ++refused;
  if (refused > 0) return fail(std::to_string(refused) + " processes were refused");
  Keeping keeping(Logbook::open(path, Access::read));
  const std::int64_t all = std::int64_t{processes} * each;
  if (keeping.number("select count(*) from counts") != all) return fail("counts were lost");
  if (keeping.number("select count(*) from journal") != all + processes + 1)
    return fail("journal lines were lost");
  const std::int64_t shared = std::int64_t{processes} * ((each + 1) / 2);
  if (keeping.totals("SHARED").back() != shared) return fail("the shared tray's total is wrong");
  for (const plumule::records::Refusal& wrong : check(keeping.book)) return fail(wrong.fact);
  std::cout << processes << " processes, " << all << " counts: none refused, none lost\n";
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const int processes = number_typed(argc, argv, 1, 8);
  const int each = number_typed(argc, argv, 2, 20);
  if (processes < 1 || each < 1) return fail("logbook_crowd [PROCESSES [COUNTS EACH]]");
  return crowd(processes, each);
}
