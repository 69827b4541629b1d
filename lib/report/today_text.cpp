#include "report/today_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "records/date.hpp"
#include "report/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::OpenSowing;

std::string last(const OpenSowing& sowing) {
  if (!sowing.last_on) return "not looked at yet";
  const std::string when = records::spoken(*sowing.last_on);
  if (sowing.hidden) return "last looked at " + when;
  const std::string of = sowing.units ? " of " + whole(*sowing.units) : "";
  return fmt::format("{}{} on {}", sowing.up == 0 ? "none" : whole(sowing.up), of, when);
}

std::string missed(const std::vector<records::Date>& days) {
  if (days.empty()) return "";
  if (days.size() == 1) return "missed " + records::spoken(days.front());
  if (days.size() == 2)
    return "missed " + records::spoken(days[0]) + " and " + records::spoken(days[1]);
  return fmt::format("missed {} days since {}", days.size(), records::spoken(days.front()));
}

std::string heading(const Style& style, std::string_view text) {
  return '\n' + toned(style, Tone::strong, text) + '\n';
}

std::string due_text(const Style& style, const analysis::DueToday& finding) {
  Table table({{"sowing"}, {"place"}, {"day", true}, {"last look"}, {""}});
  for (const auto& due : finding.due)
    table.row({due.sowing.name, due.sowing.place, fmt::format("{}", due.sowing.day),
               last(due.sowing), missed(due.missed)});
  return table.text(style, 2);
}

std::string late_text(const Style& style, const std::vector<analysis::Late>& list,
                      std::string_view what) {
  std::string text;
  for (const auto& late : list)
    text += paragraph(style,
                      fmt::format("{}: day {}, {} {} ({}); {}", late.sowing.name, late.sowing.day,
                                  what, late.expected_day, late.how, last(late.sowing)),
                      4, 2);
  return text;
}

std::string done_text(const Style& style, const analysis::DueToday& finding) {
  std::string text;
  for (const auto& done : finding.done)
    text += paragraph(
        style,
        done.all_up ? fmt::format("{}: all {} are up", done.sowing.name, whole(done.sowing.up))
                    : fmt::format("{}: nothing new since {} ({} days; {} are enough); {}",
                                  done.sowing.name, records::spoken(done.last_new), done.quiet_days,
                                  done.needed, last(done.sowing)),
        4, 2);
  return text;
}

std::string names(const std::vector<OpenSowing>& list) {
  std::string text;
  for (const auto& sowing : list) text += (text.empty() ? "" : ", ") + sowing.name;
  return text;
}

std::string not_due_text(const analysis::DueToday& finding) {
  std::string text;
  for (const auto& sowing : finding.not_due) {
    text += (text.empty() ? "" : ", ") + sowing.name;
    if (sowing.next) text += " (" + records::spoken(*sowing.next) + ")";
  }
  return text;
}

std::size_t missed_number(const analysis::DueToday& finding) {
  return static_cast<std::size_t>(
      std::count_if(finding.due.begin(), finding.due.end(),
                    [](const analysis::Due& due) { return !due.missed.empty(); }));
}

std::string overview(const analysis::DueToday& finding) {
  std::string text = records::spoken(finding.today, true) + ": ";
  if (finding.due.empty())
    text += finding.counted.empty() ? "nothing to count" : "all counted";
  else
    text += fmt::format("{} to count", finding.due.size());
  if (const auto number = missed_number(finding); number > 0)
    text += fmt::format(", {} of them missed before", number);
  if (!finding.done.empty()) text += fmt::format(", {} done", finding.done.size());
  if (!finding.should_be_up.empty())
    text += fmt::format(", {} should be up", finding.should_be_up.size());
  return text + ".";
}

}  // namespace

std::string today_text(const Style& style, const analysis::DueToday& finding) {
  std::string text = toned(style, Tone::strong, overview(finding)) + '\n';
  if (!finding.due.empty())
    text += heading(style, "To count, in walking order") + due_text(style, finding);
  if (!finding.done.empty()) {
    text += heading(style, "Done, as far as can be seen") + done_text(style, finding);
    text += paragraph(style, "To close one: plumule end " + finding.done.front().sowing.name, 2);
  }
  if (!finding.should_be_up.empty())
    text += heading(style, "Should be up by now") +
            late_text(style, finding.should_be_up, "expected by day");
  if (!finding.past_give_up.empty())
    text += heading(style, "Unlikely to give more") +
            late_text(style, finding.past_give_up, "given up after day");
  if (!finding.counted.empty())
    text += '\n' + paragraph(style, "Counted today: " + names(finding.counted) + ".", 2, 0);
  if (!finding.not_due.empty())
    text += '\n' + paragraph(style, "Not due: " + not_due_text(finding) + ".", 2, 0);
  return text;
}

}  // namespace plumule::report
