// Each call of the disk that a command makes fails once, in each way in which it can; or that call
// and all later ones of its sort; or everything from there on. Whatever comes of it: all of the
// command is in the logbook or none of it, the logbook is sound, what is said is true, and the same
// command works when the disk works again.
//   faults_every_fault [STRIDE [SCENE [COMMAND]]]   (every call unless said; with a stride of 1 on
//                                                  large logs as well, where one in many does)
#include <cerrno>
#include <cstring>
#include <iostream>

#include "faults/disk.hpp"
#include "faults/scenes.hpp"
#include "faults/truth.hpp"
#include "logbook/folder.hpp"
#include "logbook/processes.hpp"

using namespace plumule::tests;

namespace {

std::vector<int> errors_of(Ask ask) {
  switch (ask) {
    case Ask::open:
      return {EIO, EMFILE};
    case Ask::write:
    case Ask::name:
      return {EIO, ENOSPC};
    case Ask::lock:
      return {EIO, EAGAIN};
    case Ask::read:
    case Ask::cut:
    case Ask::sync:
    case Ask::remove:
      return {EIO};
  }
  return {};
}

std::vector<Fault> faults_at(int call, Ask ask) {
  std::vector<Fault> all;
  for (const int error : errors_of(ask))
    for (const auto lasts : {Fault::Lasts::once, Fault::Lasts::this_ask, Fault::Lasts::all}) {
      all.push_back({call, error, false, lasts});
      if (ask == Ask::write) all.push_back({call, error, true, lasts});
    }
  return all;
}

std::string in_words(const Fault& fault, Ask ask) {
  std::string text = "call " + std::to_string(fault.at) + " (" + word_for(ask) + ") fails with ";
  text += ::strerror(fault.error);
  if (fault.half) text += ", half written";
  if (fault.lasts == Fault::Lasts::this_ask) text += ", and each of its sort after it";
  if (fault.lasts == Fault::Lasts::all) text += ", and all after it";
  return text;
}

struct Totals {
  int cases = 0, refused = 0, wrong = 0;
};

void try_deal(const Scene& scene, const Deal& deal, const std::string& place, int stride,
              Totals& totals) {
  const Expected expected = expect(scene, deal, place);
  std::vector<Ask> asks;
  {
    copy_folder(scene.folder, place);
    const Watch watch(place);
    deal.run(place);
    asks = watch.doings().asked;
  }
  const auto calls = static_cast<int>(asks.size());
  const int step = std::max(stride, calls / 150);
  for (int call = 1; call <= calls; call += call < 40 ? stride : step) {
    const Ask ask = asks[static_cast<std::size_t>(call) - 1];
    for (const Fault& fault : faults_at(call, ask)) {
      copy_folder(scene.folder, place);
      Answer answer;
      {
        const Watch watch(place, fault);
        answer = deal.run(place);
      }
      ++totals.cases;
      totals.refused += answer.status == 3 ? 1 : 0;
      std::string trouble = first_untruth(deal, expected, answer, place);
      if (trouble.empty()) trouble = works_again(deal, expected, answer, place);
      if (trouble.empty()) continue;
      ++totals.wrong;
      std::cerr << scene.name << ", " << deal.name << ": " << in_words(fault, ask) << ": "
                << trouble << '\n';
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int stride = number_typed(argc, argv, 1, 1);
  const std::string only = argc > 2 ? argv[2] : "", command = argc > 3 ? argv[3] : "";
  if (stride < 1) return fail("faults_every_fault [STRIDE [SCENE]]");
  const Folder folder;
  const std::string place = folder / "place";
  Totals totals;
  for (const Scene& scene : lay_scenes(folder.path(), stride == 1)) {
    if (!only.empty() && scene.name != only) continue;
    for (const Deal& deal : scene.deals) {
      if (!command.empty() && deal.name.find(command) == std::string::npos) continue;
      const Totals before = totals;
      try_deal(scene, deal, place, stride, totals);
      std::cout << scene.name << ", " << deal.name << ": " << totals.cases - before.cases
                << " faults, " << totals.refused - before.refused << " refusals, "
                << totals.wrong - before.wrong << " wrong" << std::endl;
    }
  }
  std::cout << totals.cases << " faults, " << totals.refused << " of them refusals\n";
  if (totals.refused < totals.cases / 10) return fail("too few faults were met to show anything");
  return totals.wrong == 0 ? 0 : fail(std::to_string(totals.wrong) + " of them came out wrong");
}
