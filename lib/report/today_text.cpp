#include "report/today.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <utility>

#include "records/date.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::OpenSowing;

// With the year where it is another one.
std::string day_near(records::Date date, records::Date today) {
  const auto year = [](records::Date of) { return std::chrono::year_month_day(of).year(); };
  return records::spoken(date, year(date) != year(today));
}

std::string last(const OpenSowing& sowing, records::Date today) {
  if (!sowing.last_on) return "not looked at yet";
  const std::string when = day_near(*sowing.last_on, today);
  if (sowing.hidden) return "last looked at " + when;
  if (sowing.seedlings) return counted(*sowing.seedlings, "seedling", "seedlings") + " on " + when;
  const std::string of = sowing.units ? " of " + whole(*sowing.units) : "";
  return fmt::format("{}{} on {}", sowing.up == 0 ? "none" : whole(sowing.up), of, when);
}

std::string missed(const std::vector<records::Date>& days, records::Date today) {
  if (days.empty()) return "";
  if (days.size() == 1) return "missed " + day_near(days.front(), today);
  if (days.size() == 2)
    return "missed " + day_near(days[0], today) + " and " + day_near(days[1], today);
  return fmt::format("missed {} days since {}", days.size(), day_near(days.front(), today));
}

std::string heading(const Style& style, std::string_view text) {
  return '\n' + toned(style, Tone::strong, text) + '\n';
}

std::string remark(const analysis::Due& due, records::Date today) {
  std::string text = missed(due.missed, today);
  if (due.last_count_day)
    text += fmt::format("{}last count was due on day {}", text.empty() ? "" : "; ",
                        *due.last_count_day);
  return text;
}

std::string due_text(const Style& style, const analysis::DueToday& finding) {
  Table table({{"sowing"}, {"place"}, {"day", true}, {"last look"}, {""}});
  for (const auto& due : finding.due)
    table.row({due.sowing.name, due.sowing.place, fmt::format("{}", due.sowing.day),
               last(due.sowing, finding.today), remark(due, finding.today)});
  return table.text(style, 2);
}

// A line each, and below them every reason once, with those it is of.
std::string late_text(const Style& style, const std::vector<analysis::Late>& list,
                      std::string_view what, records::Date today) {
  Table table({{"sowing"}, {"place"}, {"day", true}, {"last look"}});
  std::vector<std::pair<std::string, std::string>> reasons;
  for (const auto& late : list) {
    table.row({late.sowing.name, late.sowing.place, fmt::format("{}", late.sowing.day),
               last(late.sowing, today)});
    const std::string reason = fmt::format("{} {}: {}.", what, late.expected_day, late.how);
    const auto same = std::find_if(reasons.begin(), reasons.end(),
                                   [&](const auto& known) { return known.first == reason; });
    if (same == reasons.end())
      reasons.emplace_back(reason, late.sowing.name);
    else
      same->second += ", " + late.sowing.name;
  }
  std::string text = table.text(style, 2);
  for (const auto& [reason, names] : reasons)
    text +=
        paragraph(style, reasons.size() > 1 ? fmt::format("{}: {}", names, reason) : reason, 4, 2);
  return text;
}

std::string done_text(const Style& style, const analysis::DueToday& finding) {
  std::string text;
  for (const auto& done : finding.done)
    text += paragraph(
        style,
        done.all_up ? fmt::format("{}: all {} are up", done.sowing.name, whole(done.sowing.up))
                    : fmt::format("{}: nothing new since {} ({} days; {} are enough); {}",
                                  done.sowing.name, day_near(done.last_new, finding.today),
                                  done.quiet_days, done.needed, last(done.sowing, finding.today)),
        4, 2);
  return text;
}

std::string names(const std::vector<OpenSowing>& list) {
  std::string text;
  for (const auto& sowing : list) text += (text.empty() ? "" : ", ") + sowing.name;
  return text;
}

// "Not due until Sun 12 Apr: A1, A2.": a sentence a day.
std::string not_due_text(const Style& style, const analysis::DueToday& finding) {
  std::map<std::optional<records::Date>, std::string> by_day;
  for (const auto& sowing : finding.not_due) {
    auto& list = by_day[sowing.next];
    list += (list.empty() ? "" : ", ") + sowing.name;
  }
  std::string text;
  for (const auto& [day, list] : by_day)
    text += paragraph(style,
                      day ? "Not before " + day_near(*day, finding.today) + ": " + list + "."
                          : "No more looks planned: " + list + ".",
                      4, 2);
  return text;
}

std::size_t missed_number(const analysis::DueToday& finding) {
  return static_cast<std::size_t>(
      std::count_if(finding.due.begin(), finding.due.end(),
                    [](const analysis::Due& due) { return !due.missed.empty(); }));
}

std::string overview(const analysis::DueToday& finding) {
  const auto late = static_cast<std::size_t>(
      std::count_if(finding.should_be_up.begin(), finding.should_be_up.end(),
                    [](const analysis::Late& sowing) { return sowing.due; }));
  const auto to_count = finding.due.size() + late;
  std::string text = records::spoken(finding.today, true) + ": ";
  if (to_count == 0)
    text += finding.counted.empty() ? "nothing to count" : "all counted";
  else
    text += fmt::format("{} to count", to_count);
  if (const auto number = missed_number(finding); number > 0)
    text += fmt::format(", {} of them missed before", number);
  if (!finding.should_be_up.empty())
    text += fmt::format(", {} should be up", finding.should_be_up.size());
  if (const auto number = finding.done.size() + finding.past_give_up.size(); number > 0)
    text += fmt::format(", {} to end", number);
  return text + ".";
}

std::string to_end(const Style& style, const std::string& name) {
  return paragraph(style, hinted(style.hints, "", {records::Advice::end_one, name}), 2);
}

}  // namespace

std::string today_text(const Style& style, const analysis::DueToday& finding) {
  std::string text = toned(style, Tone::strong, paragraph(style, overview(finding)));
  if (finding.should_be_up.empty() && finding.due.empty() && finding.done.empty() &&
      finding.past_give_up.empty() && finding.counted.empty() && finding.not_due.empty())
    text += paragraph(style,
                      hinted(style.hints, "No sowing is open.", {records::Advice::sow_first}), 2);
  if (!finding.should_be_up.empty())
    text += heading(style, "Should be up by now") +
            late_text(style, finding.should_be_up, "Expected by day", finding.today);
  if (!finding.due.empty())
    text += heading(style, "To count, in walking order") + due_text(style, finding);
  if (!finding.done.empty())
    text += heading(style, "Done, as far as can be seen") + done_text(style, finding) +
            to_end(style, finding.done.front().sowing.name);
  if (!finding.past_give_up.empty())
    text += heading(style, "Unlikely to give more") +
            late_text(style, finding.past_give_up, "Last count on day", finding.today) +
            to_end(style, finding.past_give_up.front().sowing.name);
  if (!finding.counted.empty())
    text += '\n' + paragraph(style, "Counted today: " + names(finding.counted) + ".", 4, 2);
  if (!finding.not_due.empty()) text += '\n' + not_due_text(style, finding);
  return text;
}

}  // namespace plumule::report
