// The rules of a course in the words of a flat log, where there is a row to mend and no command.
#include "logbook/flat/courses.hpp"

namespace plumule::logbook {
namespace {

std::string on_day(const records::Count& count) { return " of " + records::to_text(count.at); }

// "7"; of a guess of all that are up "5 to 9", which is what the row says.
std::string up_at(const records::Count& count) {
  const records::Entered& entered = count.entered;
  if (entered.kind != records::CountKind::total || !entered.high)
    return std::to_string(count.total);
  return std::to_string(entered.value) + " to " + std::to_string(*entered.high);
}

// The same of the most that may be up: of a guess its high end.
std::string most_at(const std::vector<records::Count>& counts, std::size_t i) {
  const records::Entered& entered = counts[i].entered;
  if (!entered.high) return std::to_string(counts[i].total);
  const bool newly = entered.kind == records::CountKind::newly;
  const std::int64_t before = newly && i > 0 ? counts[i - 1].total : 0;
  return "as many as " + std::to_string(before + *entered.high);
}

}  // namespace

FlatFault flat_fault(const records::Sowing& sowing, const std::vector<records::Count>& counts,
                     const records::Trouble& trouble, const FlatLook& look) {
  using records::Fault;
  const std::size_t i = trouble.index;
  const records::Count& here = counts[i];
  const std::string_view figure = look.emerged != FlatLook::blank     ? "emerged"
                                  : look.newly != FlatLook::blank     ? "newly_emerged"
                                  : look.seedlings != FlatLook::blank ? "seedlings"
                                                                      : "emerged";
  const std::string total = std::to_string(here.total);
  switch (trouble.fault) {
    case Fault::before_sowing:
      return {"counted_on",
              sowing.label + " was sown on " + records::to_text(sowing.sown) + ", after this look"};
    case Fault::up_at_sowing:
      return {"counted_on", "something up on the very day of sowing cannot be"};
    case Fault::after_ending:
      return {"counted_on", sowing.label + " ended on " + records::to_text(sowing.ending->at) +
                                " (" + std::string(records::word(sowing.ending->kind)) +
                                "), before this look"};
    case Fault::total_falls:
      return {figure, total + " ever up is fewer than the " + up_at(counts[i - 1]) +
                          on_day(counts[i - 1]) +
                          "; emerged never falls, and what died goes into the column lost"};
    case Fault::guess_below:
      return {figure, "the guess begins below the " + std::to_string(counts[i - 1].total) +
                          " that were up at the look" + on_day(counts[i - 1])};
    case Fault::more_than_sown:
      return {figure, sowing.units
                          ? most_at(counts, i) + " up of " + std::to_string(*sowing.units) + " sown"
                          : total + " up is more than is taken"};
    case Fault::seedlings_fall:
      return {"seedlings", "fewer seedlings than at an earlier look; they are counted as ever up"};
    case Fault::seedlings_below_units:
      return {"seedlings", total + " units are up, and each of them has a seedling at least"};
    case Fault::seedlings_over_seeds:
      return {"seedlings", "more seedlings than seeds in the cells"};
    case Fault::total_where_taken_out:
      return {figure,
              "sprouts are taken out of it at each look; give what is new in newly_emerged"};
    case Fault::standing_rises:  // a file says both what came up and what was lost
    case Fault::two_readings:    // its `emerged` is always the total
    case Fault::absurd_number:
      break;
  }
  return {figure, "a figure below 0 or above 1,000,000,000 cannot be"};
}

}  // namespace plumule::logbook
