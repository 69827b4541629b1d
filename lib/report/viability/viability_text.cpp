#include "report/viability.hpp"

#include <fmt/format.h>

#include "records/date.hpp"
#include "records/words.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"
#include "report/viability/viability_figures.hpp"
#include "report/viability/viability_words.hpp"

namespace plumule::report {

namespace {

std::string_view why_not(analysis::TestUse use, bool settled) {
  switch (use) {
    case analysis::TestUse::counted:
      return "";
    case analysis::TestUse::older:
      return "older: at its age";
    case analysis::TestUse::treated:
      return "treated seed";
    case analysis::TestUse::in_soil:
      return "not a towel test";
    case analysis::TestUse::counts_otherwise:
      return "counts otherwise";
    case analysis::TestUse::not_looked_at:
      return "not looked at yet";
    case analysis::TestUse::units_unknown:
      return "number sown unknown";
    case analysis::TestUse::failed:
      return "failed: not counted";
    case analysis::TestUse::clashes:
      return settled ? "clashes: not counted" : "clash not settled";
    case analysis::TestUse::stopped_early:
      break;
  }
  return "accident";
}

std::string heading(const analysis::LotViability& finding) {
  const auto& lot = finding.lot;
  std::string text = "Lot " + lot.code;
  if (!lot.variety.empty()) text += ", " + lot.variety;
  if (!lot.crop.empty()) text += " (" + lot.crop + ")";
  if (lot.harvest_year)
    text += fmt::format(", harvest {}", *lot.harvest_year);
  else if (lot.packed_year)
    text += fmt::format(", packed {}", *lot.packed_year);
  return text;
}

// Hard seed is alive and not up: where there is some, the two stand apart.
std::string tests_table(const Style& style, const analysis::LotViability& finding) {
  bool hard = false;
  for (const auto& test : finding.tests) hard = hard || test.hard > 0;
  std::vector<Table::Column> columns = {
      {"test"}, {"sown"}, {"on"}, {std::string(unit_word(finding.unit, 2)), true}};
  if (hard)
    columns.insert(columns.end(), {{"up", true}, {"hard", true}});
  else
    columns.push_back({"alive", true});
  columns.insert(columns.end(), {{"last look"}, {""}});
  Table table(columns);
  for (const auto& test : finding.tests) {
    std::string state(why_not(test.use, !finding.clash));
    if (!test.failed_why.empty()) state = fmt::format("failed ({}): not counted", test.failed_why);
    if (test.use == analysis::TestUse::counted && test.running) state = "still running";
    std::vector<std::string> row = {
        test.name, records::to_text(test.sown), std::string(records::word(test.setting)),
        test.seeds ? whole(*test.seeds) : "?", test.emerged ? whole(*test.emerged) : "-"};
    if (hard) row.push_back(whole(test.hard));
    row.push_back(test.last_look ? fmt::format("day {}", (*test.last_look - test.sown).count())
                                 : "-");
    row.push_back(state);
    table.row(row);
  }
  return table.text(style, 2);
}

std::string standard_words(const analysis::LotStandard& standard, bool hard) {
  const std::string line = percent(standard.fraction);
  switch (standard.by) {
    case analysis::LotStandard::By::given:
      return line + (hard ? ", as asked, of what comes up" : ", as asked");
    case analysis::LotStandard::By::label:
      return line + (hard ? ", by its label, hard seed apart" : ", by its label");
    case analysis::LotStandard::By::crop:
      break;
  }
  return line + ", the least for sale (" +
         standard.source.substr(0, standard.source.find_first_of(",(")) + ")" +
         (hard && standard.counts_hard ? ", hard seed counted" : "");
}

// Of a range that would leave out the percentage beside it.
std::string moved_there(const analysis::Stand& stand) {
  return stand.interval_moved ? "; one end moved to the percentage" : "";
}

std::vector<Figure> key_figures(const analysis::LotViability& finding) {
  const auto& stand = finding.stand;
  const std::string level = level_words(stand.interval->level);
  std::vector<Figure> list = {
      {"alive", fmt::format("{} of {}: {}", whole(stand.emerged), whole(stand.seeds),
                            percent(stand.fraction))},
      {"true percentage (" + level + ")",
       percent_range(stand.interval->lower, stand.interval->upper) + moved_there(stand)},
      {"exact, if independent", percent_range(stand.intervals[2].lower, stand.intervals[2].upper)},
      {"one-sided limits (" + level + ")",
       fmt::format("at least {}; at most {}", percent(finding.lower_limit->lower),
                   percent(finding.upper_limit->upper))},
      {"the same, exact",
       fmt::format("at least {}; at most {}", percent(finding.lower_exact->lower),
                   percent(finding.upper_exact->upper))}};
  if (finding.any_number && stand.sowings > 1)
    list.push_back({"after any number of tests",
                    percent_range(finding.any_number->lower, finding.any_number->upper)});
  if (const auto& alive = finding.alive) {
    list.front().name = "comes up now";
    list.push_back({"alive, hard ones too",
                    fmt::format("{} of {}: {} ({})", whole(alive->emerged), whole(alive->seeds),
                                percent(alive->fraction),
                                percent_range(alive->interval->lower, alive->interval->upper) +
                                    moved_there(*alive))});
  }
  if (finding.standard)
    list.push_back({"standard", standard_words(*finding.standard, finding.hard > 0)});
  return list;
}

std::string what_it_can_show(const analysis::LotViability& finding) {
  if (!finding.best_lower || finding.verdict.code == analysis::ViabilityCode::wait) return "";
  const auto units = [&](std::int64_t number) {
    return fmt::format("{} {}", whole(number), unit_word(finding.unit, number));
  };
  std::string text =
      fmt::format("What {} can show: had all come up, no more than that {} or more are alive.",
                  units(finding.stand.seeds), percent(*finding.best_lower));
  if (finding.seeds_to_show)
    text += fmt::format(" To show {} takes {}, all up.", percent(finding.standard->fraction),
                        units(*finding.seeds_to_show));
  if (finding.stand.seeds < 25)
    text += " So few part a nearly dead lot from a nearly sound one, and little between.";
  return text;
}

// All that was reckoned, each figure by its name, and every test.
std::string in_full(const Style& style, const analysis::LotViability& finding) {
  std::string text;
  if (finding.stand.interval && !finding.clash) {
    text += '\n';
    for (const auto& row : key_figures(finding)) text += entry(style, row.name, row.value, 26);
  }
  if (!finding.tests.empty()) text += '\n' + tests_table(style, finding);
  std::string notes;
  if (finding.unit != records::UnitKind::seed)
    notes += fmt::format("A {} counts once, however many seedlings it gives. ",
                         unit_word(finding.unit, 1));
  if (finding.hard > 0)
    notes += fmt::format(
        "{} hard: sown now they may wait. In the least for sale of 7 CFR 201.31 they count as "
        "germinated, on a label they stand apart. ",
        counted(finding.hard, "seed is", "seeds are"));
  notes += what_it_can_show(finding);
  if (!notes.empty()) text += '\n' + paragraph(style, notes);
  const bool waiting = finding.verdict.code == analysis::ViabilityCode::wait;
  if (finding.clash || (finding.stand.interval && !waiting))
    text +=
        toned(style, Tone::faint,
              paragraph(style, "Tray-aware posterior: " +
                                   prior_words(finding.stand.prior, finding.stand.rho90) + "."));
  return text;
}

}  // namespace

std::string viability_text(const Style& style, const analysis::LotViability& finding, bool full) {
  std::string text = toned(style, Tone::strong, heading(finding)) + '\n';
  text += toned(style, Tone::strong, paragraph(style, verdict_words(finding, style.hints)));
  const auto reasons = full ? verdict_reasons(finding) : plain_reasons(finding);
  for (const auto& reason : reasons) text += paragraph(style, reason);
  const auto plain = plain_figures(finding);
  if (!plain.empty()) text += '\n';
  for (const auto& row : plain) text += entry(style, row.name, row.value, 26);
  const auto from = reckoned_from(finding);
  if (!from.empty()) text += toned(style, Tone::faint, paragraph(style, from));
  return full ? text + in_full(style, finding) : text;
}

}  // namespace plumule::report
