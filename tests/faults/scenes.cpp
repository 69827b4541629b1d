#include "faults/scenes.hpp"

#include <filesystem>
#include <stdexcept>

#include "logbook/folder.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "logbook/wrecks.hpp"

namespace plumule::tests {
namespace {

namespace fs = std::filesystem;

constexpr const char* tray_commands[] = {
    "init",
    "lot BEAN --crop bean --year 2025 --seeds 400",
    "sow A1 --lot BEAN --seeds 50 --on 2026-04-03 --place bench",
    "count A1=10 --on 2026-04-10",
    "count A1=20-2 --on 2026-04-14",
    "temp A1=15 --on 2026-04-14",
    "note A1 aphids --on 2026-04-14",
};
constexpr const char* trial_commands[] = {
    "init",
    "lot BEAN --crop bean --year 2025 --seeds 400",
    "sow --trial SOAK --lot BEAN --soak 0 --soak 8 --blocks 3 --seeds 20 --draw 7 --on 2026-04-03 "
    "--labels T --until 2026-05-30",
    "count T1=4 T2=3 T3=8 T4=2 T5=5 T6=6 --on 2026-04-12",
    "count T1=9-1 T2=7 T3=12-3 T4=4 T5=9 T6=8..9 --on 2026-04-20",
    "count T1=3 --on 2026-04-25 --doubtful --why smudged",
    "end T4 --accident 'knocked over' --on 2026-04-28",
    "temp bench=12 --place --on 2026-04-20",
};

void lay(const std::string& folder, const auto& commands) {
  fs::create_directories(folder);
  for (const char* const line : commands)
    if (const Answer answer = type_in(line, folder); answer.status != 0)
      throw std::runtime_error(std::string(line) + ": " + answer.err);
}

// What other commands take: a sheet, and a backup of a moment ago.
void lay_beside(const std::string& folder) {
  write_bytes(folder + "/sheet.csv",
              "sowing,sown_on,seeds,counted_on,emerged\n"
              "N1,2026-04-01,30,2026-04-10,7\nN1,2026-04-01,30,2026-04-12,9\n"
              "N2,2026-04-01,30,2026-04-10,3\nN3,2026-04-02,30,,\n");
  if (fs::exists(folder + "/log.db") && type_in("backup {}/copy.db", folder).status != 0)
    throw std::runtime_error("no backup");
}

std::string large_sheet(int sowings) {
  std::string text = "sowing,sown_on,seeds,counted_on,emerged\n";
  for (int sowing = 1; sowing <= sowings; ++sowing)
    for (int day = 10; day < 30; ++day)
      text += "Z" + std::to_string(sowing) + ",2026-04-01,50,2026-04-" + std::to_string(day) + ',' +
              std::to_string(day - 8) + "\n";
  return text;
}

Deal packing() {
  return {"pack (of a large import)", [](const std::string& folder) {
            Answer answer;
            try {
              logbook::Logbook book =
                  logbook::Logbook::open(folder + "/log.db", logbook::Access::write);
              logbook::pack(book);
              answer.status = 0;
            } catch (const logbook::Unusable& trouble) {
              answer = {3, "", std::string(trouble.what()) + " Nothing saved."};
            }
            return answer;
          }};
}

}  // namespace

Answer type_in(const std::string& line, const std::string& folder, const std::string& input) {
  std::vector<std::string> words = words_of(line);
  words.insert(words.end(), {"--log", "{}/log.db", "--today", "2026-05-20", "--who", "ada"});
  return run_command(words, folder, input);
}

Deal typed(const std::string& line, const std::string& input) {
  return {line, [=](const std::string& folder) { return type_in(line, folder, input); }};
}

Deal asked(const std::string& line) {
  return {line, [=](const std::string& folder) { return type_in(line, folder); }, false};
}

std::vector<Scene> lay_scenes(const std::string& folder, bool with_large) {
  std::vector<Scene> scenes;

  scenes.push_back({"nothing", folder + "/nothing", {typed("init")}});
  fs::create_directories(scenes.back().folder);
  lay(folder + "/spare", tray_commands);
  lay_beside(folder + "/spare");
  fs::copy(folder + "/spare/copy.db", scenes.back().folder + "/copy.db");
  scenes.back().deals.push_back(typed("restore {}/copy.db"));

  scenes.push_back(
      {"empty",
       folder + "/empty",
       {typed("lot BEAN --crop bean --seeds 100"), typed("sow A1 --crop bean --seeds 9"),
        typed("import {}/sheet.csv"), asked("check"), asked("summary")}});
  lay(scenes.back().folder, std::vector<const char*>{"init"});
  lay_beside(scenes.back().folder);

  scenes.push_back({"tray",
                    folder + "/tray",
                    {typed("count A1+5"),
                     typed("count", "+7\nq\n"),
                     typed("amend A1 --on 2026-04-10 =9"),
                     typed("amend A1 --seeds 60"),
                     typed("end A1"),
                     typed("temp A1=18.5"),
                     typed("note A1 'a word'"),
                     typed("assess A1 rotted=3"),
                     typed("undo"),
                     typed("backup {}/second.db"),
                     typed("restore {}/copy.db"),
                     typed("import {}/sheet.csv"),
                     typed("export {}/out.csv"),
                     typed("export {}/sheet.csv --replace"),
                     typed("lot BEAN --rename BEANS"),
                     typed("sow A1 --over --lot BEAN --seeds 40"),
                     asked("check"),
                     asked("summary"),
                     asked("export"),
                     asked("amend A1")}});
  lay(scenes.back().folder, tray_commands);
  lay_beside(scenes.back().folder);

  scenes.push_back({"trial",
                    folder + "/trial",
                    {typed("count T1+1 T2=6-1 T3+2"), typed("end SOAK"),
                     typed("amend trial:SOAK --question better"), typed("amend T1 --discard d1"),
                     typed("sow --trial MORE --lot BEAN --soak 0 --soak 8 --blocks 2 --seeds 20 "
                           "--draw 7 --labels M"),
                     typed("undo"), asked("compare SOAK"), asked("today")}});
  lay(scenes.back().folder, trial_commands);
  lay_beside(scenes.back().folder);

  scenes.push_back({"older make",
                    folder + "/older",
                    {typed("count K3+1"), typed("check"), typed("undo --of crowd")}});
  fs::create_directories(scenes.back().folder);
  fs::copy(lay_ground(folder + "/ground", Work::migration).log, scenes.back().folder + "/log.db");

  if (!with_large) return scenes;
  scenes.push_back({"large", folder + "/large", {typed("import {}/large.csv")}});
  lay(scenes.back().folder, tray_commands);
  write_bytes(scenes.back().folder + "/large.csv", large_sheet(2500));
  scenes.push_back({"large, imported", folder + "/imported", {packing(), typed("undo")}});
  copy_folder(folder + "/large", scenes.back().folder);
  lay(scenes.back().folder, std::vector<const char*>{"import {}/large.csv"});
  return scenes;
}

}  // namespace plumule::tests
