#include "report/viability.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "records/date.hpp"
#include "report/parts/json_parts.hpp"
#include "report/parts/number_words.hpp"
#include "report/summary/group_json.hpp"
#include "report/viability/viability_words.hpp"

namespace plumule::report {

namespace {

using analysis::ViabilityCode;

// The verdict where a column has to hold it.
std::string in_short(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  switch (verdict.code) {
    case ViabilityCode::sow_as_usual:
      return "sow as usual";
    case ViabilityCode::sow_thicker:
      return times_words(verdict.times.value_or(1)) + " as thick";
    case ViabilityCode::sow_and_buy:
      return "sow, fresh seed at hand";
    case ViabilityCode::nick_seed:
      return "nick the seed";
    case ViabilityCode::test_more:
      return finding.clash ? "clash: test more" : "test more";
    case ViabilityCode::replace:
      return "replace";
    case ViabilityCode::sow_in_two_goes:
      return "sow in two goes";
    case ViabilityCode::wait:
      return "wait";
    case ViabilityCode::no_standard:
      return "no standard";
    case ViabilityCode::no_test:
      break;
  }
  return "test it";
}

std::optional<records::Date> last_look(const analysis::LotViability& finding) {
  std::optional<records::Date> last;
  for (const auto& test : finding.tests)
    if ((test.use == analysis::TestUse::counted ||
         (finding.clash && test.use == analysis::TestUse::clashes)) &&
        test.last_look && (!last || *test.last_look > *last))
      last = test.last_look;
  return last;
}

// "13 to 65 %".
std::string short_range(const stats::Interval& interval) {
  const std::string lower = percent(interval.lower);
  return lower.substr(0, lower.find(' ')) + " to " + percent(interval.upper);
}

// "50 or 90 %".
std::string least_or_most(const std::vector<double>& shares) {
  const std::string least = percent(shares.front()), most = percent(shares.back());
  return least == most ? most : least.substr(0, least.find(' ')) + " or " + most;
}

std::string names(const std::vector<std::string>& all) {
  std::string text;
  for (const auto& name : all) text += (text.empty() ? "" : ", ") + name;
  return text;
}

}  // namespace

// All that was tested is named, but no share of it.
void ViabilityTable::take_sides(const analysis::LotClash& clash, Line& line) {
  std::vector<const analysis::ClashSide*> sides = {&clash.older, &clash.newer};
  for (const auto& side : clash.later) sides.push_back(&side);
  for (const auto* side : sides) {
    line.apart.push_back(*side->stand.fraction);
    line.seeds += side->stand.seeds;
    line.emerged += side->stand.emerged;
  }
  std::sort(line.apart.begin(), line.apart.end());
}

void ViabilityTable::take(const analysis::LotViability& finding) {
  const auto& lot = finding.lot;
  const bool waiting = finding.verdict.code == ViabilityCode::wait;
  if (!finding.stand.interval && !finding.clash && !waiting) {
    untested_.push_back(lot.code);
    return;
  }
  Line line;
  line.lot = lot.code;
  line.crop = lot.crop;
  line.variety = lot.variety;
  line.year = lot.harvest_year ? lot.harvest_year : lot.packed_year;
  line.seeds = finding.stand.seeds;
  line.emerged = finding.stand.emerged;
  if (finding.clash) take_sides(*finding.clash, line);
  line.hard = finding.hard;
  line.interval = finding.stand.interval;
  line.interval_moved = finding.stand.interval_moved;
  if (finding.ageing && !finding.clash && !waiting) {
    line.expected = finding.ageing->expected;
    line.alive = finding.ageing->now;
    line.hard_counted = finding.hard > 0 && finding.standard && finding.standard->counts_hard;
  }
  line.last_test = last_look(finding);
  line.from_soil = finding.from_soil;
  line.waiting = waiting;
  if (finding.standard) line.standard = finding.standard->fraction;
  line.p_meets = finding.p_meets;
  line.code = word(finding.verdict.code);
  line.text = verdict_words(finding, hints_);
  line.short_text = in_short(finding);
  lines_.push_back(std::move(line));
}

// Poorest first; those still to be waited for come last, as little is known of them.
void ViabilityTable::sort() {
  std::stable_sort(lines_.begin(), lines_.end(), [](const Line& a, const Line& b) {
    if (a.waiting != b.waiting) return b.waiting;
    return !a.waiting && a.share() < b.share();
  });
}

// "12 lots tested, the poorest first; 1 still running".
std::string ViabilityTable::heading() const {
  const auto waiting =
      std::count_if(lines_.begin(), lines_.end(), [](const Line& line) { return line.waiting; });
  const auto tested = static_cast<std::int64_t>(lines_.size()) - waiting;
  if (tested == 0) return counted(waiting, "test", "tests") + " still running";
  return counted(tested, "lot", "lots") + " tested" + (tested > 1 ? ", the poorest first" : "") +
         (waiting > 0 ? fmt::format("; {} still running", whole(waiting)) : std::string());
}

double ViabilityTable::level() const {
  for (const auto& line : lines_)
    if (line.interval) return line.interval->level;
  return 0.95;
}

std::string ViabilityTable::text(const Style& style) {
  sort();
  std::string text;
  if (!lines_.empty()) {
    Table table({{"lot"},
                 {"crop"},
                 {"year"},
                 {"alive", true},
                 {fmt::format("{} range", level_words(level())), true},
                 {"last look"},
                 {"what to do"}});
    bool from_soil = false;
    bool hard = false;
    for (const auto& line : lines_) {
      hard = hard || line.hard_counted;
      from_soil = from_soil || line.from_soil;
      table.row({line.lot + (line.from_soil ? "*" : ""), line.crop,
                 line.year ? std::to_string(*line.year) : "",
                 line.waiting          ? ""
                 : !line.apart.empty() ? least_or_most(line.apart)
                 : line.seeds > 0      ? percent(line.share())
                                       : "",
                 line.alive ? short_range(*line.alive) : "",
                 line.last_test ? records::to_text(*line.last_test) : "", line.short_text});
    }
    text += toned(style, Tone::strong, heading()) + '\n' + table.text(style, 2);
    if (hard) text += paragraph(style, "Hard seed is alive, and counted so.", 2);
    if (from_soil)
      text += paragraph(
          style, "* From soil: that not all that is alive comes up there is allowed for.", 2);
  }
  if (!untested_.empty())
    text +=
        paragraph(style,
                  fmt::format("No test of {}: {}.",
                              counted(static_cast<std::int64_t>(untested_.size()), "lot", "lots"),
                              names(untested_)),
                  2, 0);
  if (lines_.empty()) return text;
  return text +
         paragraph(style, hinted(style.hints, "", {records::Advice::show_lot, lines_.front().lot}));
}

std::string ViabilityTable::json() {
  sort();
  Json lots = Json::array();
  for (const auto& line : lines_) {
    Json one = {{"lot", line.lot},
                {"crop", text_or_null(line.crop)},
                {"variety", text_or_null(line.variety)},
                {"year", line.year ? Json(*line.year) : Json(nullptr)},
                {"seeds", line.seeds},
                {"emerged", line.emerged}};
    one["hard"] = line.hard;
    one["fraction"] = line.seeds > 0 && line.apart.empty() ? Json(line.come_up()) : Json(nullptr);
    one["interval"] = line.interval ? report::json(*line.interval) : Json(nullptr);
    one["interval_moved"] = line.interval_moved;
    one["last_look"] = line.last_test ? Json(records::to_text(*line.last_test)) : Json(nullptr);
    one["from_soil"] = line.from_soil;
    one["standard"] = number(line.standard);
    one["p_meets"] = number(line.p_meets);
    one["verdict"] = {{"code", line.code}, {"text", line.text}};
    lots.push_back(std::move(one));
  }
  return written({{"lots", lots}, {"untested", untested_}});
}

}  // namespace plumule::report
