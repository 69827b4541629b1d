#include "cli/options/own_rho.hpp"

#include "analysis/course/sowing_course.hpp"
#include "analysis/rho/own_rho.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/lots.hpp"

namespace plumule::cli {

namespace {

constexpr std::string_view own = "own";

}  // namespace

void declare_rho(Options& options, std::string_view help) {
  options.number_or("rho", "RHO", own, help, 0, 0.999);
}

analysis::RhoChoice rho_of(logbook::Logbook& logbook, const Arguments& arguments) {
  if (arguments.text("rho") != own) return arguments.number("rho");
  analysis::OwnRhoGroups groups;
  for (const auto& lot : logbook::lots(logbook)) {
    logbook::Selection selection;
    selection.lot = lot.code;
    logbook::each_history(logbook, selection, [&](const records::History& history) {
      groups.take(arguments.has("today") ? analysis::as_of(history, *arguments.date("today"))
                                         : history);
    });
    groups.end_of_lot();
  }
  return groups.choice();
}

}  // namespace plumule::cli
