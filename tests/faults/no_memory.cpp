// Each allocation that a command makes, in the library or in SQLite, fails; or that one and all
// large ones after it. Whatever comes of it: no signal, all of the command is in the logbook or
// none of it, the logbook is sound, nothing is called damaged, and the same command works
// afterwards.
//   faults_no_memory [STRIDE [SCENE [COMMAND]]]   (every allocation with 1; else one in so many)
#include <algorithm>
#include <iostream>

#include "faults/memory.hpp"
#include "faults/scenes.hpp"
#include "faults/truth.hpp"
#include "logbook/folder.hpp"
#include "logbook/processes.hpp"

using namespace plumule::tests;

namespace {

struct Totals {
  int cases = 0, refused = 0, wrong = 0;
};

void try_deal(const Scene& scene, const Deal& deal, const std::string& place, int stride,
              Totals& totals) {
  const Expected expected = expect(scene, deal, place);
  copy_folder(scene.folder, place);
  fail_allocation(0);
  deal.run(place);
  const int all = allocations();
  const int step = std::max(stride, stride * all / 2000);
  for (int at = 1 + stride / 2; at <= all; at += step)
    for (const std::size_t lasting : {std::size_t{0}, std::size_t{1024}}) {
      copy_folder(scene.folder, place);
      std::cerr << std::flush;
      fail_allocation(at, lasting);
      const Answer answer = deal.run(place);
      allocations();
      ++totals.cases;
      totals.refused += answer.status == 3 ? 1 : 0;
      std::string trouble = first_untruth(deal, expected, answer, place);
      if (trouble.empty()) trouble = works_again(deal, expected, answer, place);
      if (trouble.empty()) continue;
      ++totals.wrong;
      std::cerr << scene.name << ", " << deal.name << ": allocation " << at << " of " << all
                << " fails" << (lasting > 0 ? ", and all large ones after it" : "") << ": "
                << trouble << '\n';
    }
}

}  // namespace

int main(int argc, char** argv) {
  take_over_memory();
  const int stride = number_typed(argc, argv, 1, 1);
  const std::string only = argc > 2 ? argv[2] : "", command = argc > 3 ? argv[3] : "";
  if (stride < 1) return fail("faults_no_memory [STRIDE [SCENE [COMMAND]]]");
  const Folder folder;
  const std::string place = folder / "place";
  Totals totals;
  for (const Scene& scene : lay_scenes(folder.path(), stride == 1)) {
    if (!only.empty() && scene.name != only) continue;
    for (const Deal& deal : scene.deals) {
      if (deal.name.find(command) == std::string::npos) continue;
      const Totals before = totals;
      try_deal(scene, deal, place, stride, totals);
      std::cout << scene.name << ", " << deal.name << ": " << totals.cases - before.cases
                << " allocations failed, " << totals.refused - before.refused << " refusals, "
                << totals.wrong - before.wrong << " wrong" << std::endl;
    }
  }
  std::cout << totals.cases << " failed allocations, " << totals.refused << " refusals\n";
  if (totals.refused < totals.cases / 10) return fail("too few were met to show anything");
  return totals.wrong == 0 ? 0 : fail(std::to_string(totals.wrong) + " of them came out wrong");
}
