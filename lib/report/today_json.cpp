#include "report/today.hpp"

#include <nlohmann/json.hpp>

#include "records/date.hpp"
#include "report/parts/json_parts.hpp"

namespace plumule::report {

namespace {

Json date(const std::optional<records::Date>& day) {
  return day ? Json(records::to_text(*day)) : Json(nullptr);
}

// Of a blind trial the figure is hidden here too.
Json sowing_json(const analysis::OpenSowing& sowing) {
  const bool said = sowing.last_on && !sowing.hidden;
  return {{"sowing", sowing.name},
          {"crop", text_or_null(sowing.crop)},
          {"place", text_or_null(sowing.place)},
          {"day", sowing.day},
          {"seeds", sowing.units ? Json(*sowing.units) : Json(nullptr)},
          {"last_on", date(sowing.last_on)},
          {"emerged", said && !sowing.seedlings ? Json(sowing.up) : Json(nullptr)},
          {"seedlings", said && sowing.seedlings ? Json(*sowing.seedlings) : Json(nullptr)}};
}

Json late_json(const std::vector<analysis::Late>& list) {
  Json result = Json::array();
  for (const auto& late : list) {
    Json one = sowing_json(late.sowing);
    one["expected_day"] = late.expected_day;
    one["how"] = late.how;
    one["due"] = late.due;
    result.push_back(one);
  }
  return result;
}

}  // namespace

std::string today_json(const analysis::DueToday& finding) {
  Json due = Json::array();
  for (const auto& one : finding.due) {
    Json row = sowing_json(one.sowing);
    row["planned"] = one.planned;
    row["missed"] = Json::array();
    for (const auto day : one.missed) row["missed"].push_back(records::to_text(day));
    row["last_count_day"] = one.last_count_day ? Json(*one.last_count_day) : Json(nullptr);
    due.push_back(row);
  }
  Json counted = Json::array();
  for (const auto& one : finding.counted) counted.push_back(sowing_json(one));
  Json done = Json::array();
  for (const auto& one : finding.done) {
    Json row = sowing_json(one.sowing);
    row["all_up"] = one.all_up;
    row["last_new"] = records::to_text(one.last_new);
    row["quiet_days"] = one.quiet_days;
    row["needed"] = one.needed;
    done.push_back(row);
  }
  Json not_due = Json::array();
  for (const auto& one : finding.not_due)
    not_due.push_back({{"sowing", one.name}, {"next", date(one.next)}});
  return written({{"today", records::to_text(finding.today)},
                  {"due", due},
                  {"counted", counted},
                  {"done", done},
                  {"should_be_up", late_json(finding.should_be_up)},
                  {"past_give_up", late_json(finding.past_give_up)},
                  {"not_due", not_due}});
}

}  // namespace plumule::report
