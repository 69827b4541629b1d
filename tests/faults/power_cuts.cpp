// The power fails after each thing that a command does to the disk, and of what was not synced any
// part may be there afterwards. Each time all of the command is in the logbook or none of it, the
// logbook is sound and takes the next command; what was said to be saved is there.
//   faults_power_cuts [DRAWS [SEED [SCENE [COMMAND]]]]    (of each moment so many, 1 unless said)
#include <filesystem>
#include <iostream>

#include "faults/disk.hpp"
#include "faults/power_cut.hpp"
#include "faults/scenes.hpp"
#include "faults/truth.hpp"
#include "logbook/folder.hpp"
#include "logbook/processes.hpp"

using namespace plumule::tests;

namespace {

struct Totals {
  int cases = 0, wrong = 0, undone = 0;
};

void lay(const std::map<std::string, std::string>& files, const std::string& place) {
  std::filesystem::remove_all(place);
  std::filesystem::create_directories(place);
  for (const auto& [name, bytes] : files) write_bytes(place + '/' + name, bytes);
}

std::string version_of(const std::string& place) {
  constexpr std::size_t at = 60;  // bytes into the file: SQLite's user_version
  const std::string log = bytes_of(place + "/log.db");
  return log.size() < at + 4 ? "" : log.substr(at, 4);
}

// A file that was brought up to date, and the copy of it as it was is not there.
std::string lost_copy(const Expected& expected, const std::string& version_before,
                      const std::string& place) {
  for (const auto& [name, rows] : expected.after) {
    if (name.find(".before-") == std::string::npos || expected.before.contains(name)) continue;
    if (std::filesystem::exists(place + "/log.db") && version_of(place) != version_before &&
        !std::filesystem::exists(place + '/' + name))
      return name + " is lost";
  }
  return "";
}

// The folder as the cut left it: sound, whole, and of use.
std::string look(const Scene& scene, const Deal& deal, const Expected& expected, bool done,
                 const std::string& place) {
  std::string trouble = lost_copy(expected, version_of(scene.folder), place);
  if (trouble.empty()) trouble = whole(expected, done, place);
  if (!trouble.empty()) return trouble;
  const bool stands = std::filesystem::exists(place + "/log.db");
  const Answer next = stands ? type_in("lot NEXT --crop leek", place) : deal.run(place);
  if (next.status != 0) return "the next command is refused: " + next.err;
  return "";
}

void cut_deal(const Scene& scene, const Deal& deal, const std::string& place, int draws,
              std::mt19937& random, Totals& totals) {
  const Expected expected = expect(scene, deal, place);
  copy_folder(scene.folder, place);
  Doings doings;
  {
    const Watch watch(place, {}, true);
    deal.run(place);
    doings = watch.doings();
  }
  Disk disk(scene.folder, doings.names);
  const std::size_t moments = doings.deeds.size();
  const std::size_t most = static_cast<std::size_t>(draws) * 150;
  for (std::size_t moment = 0; moment <= moments; ++moment) {
    // Of very many moments these: the first, the last, and one in so many.
    const bool looked =
        moments <= most || moment < 20 || moments - moment < 20 || random() % moments < most;
    std::vector<Survives> ways;
    if (looked) ways = {Survives::nothing, Survives::names_only, Survives::all};
    if (looked) ways.insert(ways.end(), static_cast<std::size_t>(draws), Survives::by_lot);
    for (const Survives way : ways) {
      lay(disk.after_cut(way, random), place);
      if (moment > 0 && !whole(expected, true, place).empty()) ++totals.undone;
      const std::string trouble = look(scene, deal, expected, moment == moments, place);
      ++totals.cases;
      if (trouble.empty()) continue;
      ++totals.wrong;
      std::cerr << scene.name << ", " << deal.name << ": the power fails after " << moment << " of "
                << moments << " deeds, of what is not synced "
                << (way == Survives::nothing      ? "nothing"
                    : way == Survives::names_only ? "only the names"
                    : way == Survives::all        ? "all"
                                                  : "some")
                << " is there: " << trouble << '\n';
    }
    if (moment < moments) disk.take(doings.deeds[moment]);
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int draws = number_typed(argc, argv, 1, 1);
  const int seed = number_typed(argc, argv, 2, 1);
  const std::string only = argc > 3 ? argv[3] : "", command = argc > 4 ? argv[4] : "";
  if (draws < 1 || seed < 1) return fail("faults_power_cuts [DRAWS [SEED [SCENE [COMMAND]]]]");
  std::mt19937 random(static_cast<unsigned>(seed));
  const Folder folder;
  const std::string place = folder / "place";
  Totals totals;
  for (const Scene& scene : lay_scenes(folder.path(), draws > 1)) {
    if (!only.empty() && scene.name != only) continue;
    for (const Deal& deal : scene.deals) {
      if (!deal.writes || deal.name.find(command) == std::string::npos) continue;
      const Totals before = totals;
      cut_deal(scene, deal, place, draws, random, totals);
      std::cout << scene.name << ", " << deal.name << ": " << totals.cases - before.cases
                << " power cuts, " << totals.undone - before.undone << " before it was done, "
                << totals.wrong - before.wrong << " wrong" << std::endl;
    }
  }
  std::cout << totals.cases << " power cuts\n";
  if (totals.undone < totals.cases / 4 || totals.undone == totals.cases)
    return fail("the cuts fell too early or too late to show anything");
  return totals.wrong == 0 ? 0 : fail(std::to_string(totals.wrong) + " of them came out wrong");
}
