#include "analysis/summary/summary.hpp"

#include <algorithm>
#include <chrono>
#include <set>

#include "records/label.hpp"
#include "records/words.hpp"

namespace plumule::analysis {

namespace {

// In what groups of one name differ: "roots of clusters".
std::string differing(records::Counting counting, records::UnitKind unit, bool in_counting,
                      bool in_unit) {
  std::string text;
  if (in_counting) text = records::word(counting);
  if (in_unit) text += (text.empty() ? "" : " of ") + std::string(records::word(unit)) + 's';
  return text;
}

}  // namespace

bool SummaryStream::ByName::operator()(const Key& a, const Key& b) const {
  if (records::label_before(std::get<0>(a), std::get<0>(b))) return true;
  if (records::label_before(std::get<0>(b), std::get<0>(a))) return false;
  return std::tie(std::get<1>(a), std::get<2>(a), std::get<3>(a)) <
         std::tie(std::get<1>(b), std::get<2>(b), std::get<3>(b));
}

SummaryStream::SummaryStream(SummaryQuestion question, std::function<void(const Group&)> give)
    : question_(std::move(question)), give_(std::move(give)) {}

std::string SummaryStream::name_of(const records::Sowing& sowing) const {
  const bool shared = question_.label_shared && question_.label_shared(sowing.label);
  return shared ? sowing.label + "@" + records::to_text(sowing.sown.date) : sowing.label;
}

SummaryStream::Name SummaryStream::group_of(const records::Sowing& sowing) const {
  const auto or_none = [](const std::string& text, const char* none) {
    return text.empty() ? Name{none, true} : Name{text};
  };
  switch (question_.by) {
    case SummaryBy::sowing:
      return {name_of(sowing)};
    case SummaryBy::lot:
      return or_none(sowing.lot, "no lot");
    case SummaryBy::treatment:
      return {sowing.treatment.empty() ? records::untreated : sowing.treatment};
    case SummaryBy::trial:
      return or_none(sowing.trial, "no trial");
    case SummaryBy::crop:
      return or_none(sowing.crop, "no crop");
    case SummaryBy::season:
      break;
  }
  const std::chrono::year_month_day day{sowing.sown.date};
  return {std::to_string(static_cast<int>(day.year()))};
}

void SummaryStream::look_ahead(const records::History& history) {
  if (!history.sowing.trial.empty()) stopped_.take(history, sowing_course(history));
}

// Sowings of no trial have their group alone to be held against.
Followed SummaryStream::followed(const records::History& history,
                                 const SowingCourse& course) const {
  if (!looks_ahead() || history.sowing.trial.empty())
    return course.stopped_early ? Followed::by_group : Followed::to_its_end;
  return stopped_.holds(history, course) ? Followed::stopped : Followed::to_its_end;
}

void SummaryStream::take(const records::History& history) {
  const auto& sowing = history.sowing;
  auto course = sowing_course(history, days_wetted_before(sowing, question_.treatments));
  const Followed seen = followed(history, course);
  const Name name = group_of(sowing);
  const Key key{name.text, name.of_none, sowing.counting, sowing.unit};
  const bool model = question_.options.detail && question_.options.model;
  if (question_.by == SummaryBy::sowing) {
    GroupBuilder one(std::get<0>(key), sowing.counting, sowing.unit);
    if (question_.options.by_day) one.count_by(*question_.options.by_day);
    one.add(history, std::move(course), std::get<0>(key), model, seen);
    give_(one.finish(question_.options));
    return;
  }
  const auto [at, fresh] = groups_.try_emplace(key, std::get<0>(key), sowing.counting, sowing.unit);
  auto& group = at->second;
  if (fresh && question_.options.by_day) group.count_by(*question_.options.by_day);
  const std::size_t before = group.courses();
  group.add(history, std::move(course), name_of(sowing), model && courses_ < most_courses, seen);
  courses_ += group.courses() - before;
}

// All groups of one name stand here together: those of a lot, a trial or a crop are given at once.
void SummaryStream::tell_apart() {
  std::set<std::string> taken;
  for (const auto& group : groups_) taken.insert(std::get<0>(group.first));
  std::set<std::string> given;
  for (auto first = groups_.begin(); first != groups_.end();) {
    const std::string& name = std::get<0>(first->first);
    auto last = first;
    bool counting = false, unit = false;
    while (last != groups_.end() && records::same_label(std::get<0>(last->first), name)) {
      counting = counting || std::get<2>(last->first) != std::get<2>(first->first);
      unit = unit || std::get<3>(last->first) != std::get<3>(first->first);
      ++last;
    }
    for (; first != last; ++first) {
      const std::string& text = std::get<0>(first->first);
      const std::string in =
          differing(std::get<2>(first->first), std::get<3>(first->first), counting, unit);
      std::string key = text;
      if (!in.empty()) key.append(": ").append(in);
      std::string free = key;
      const auto is_taken = [&](const std::string& one) {
        return given.contains(one) || (one != text && taken.contains(one));
      };
      for (int number = 2; is_taken(free); ++number) free = key + " " + std::to_string(number);
      given.insert(free);
      if (free != text) first->second.call(free);
    }
  }
}

void SummaryStream::finish() {
  tell_apart();
  while (!groups_.empty()) {
    auto first = groups_.begin();
    give_(first->second.finish(question_.options));
    groups_.erase(first);
  }
  courses_ = 0;
  if (question_.by == SummaryBy::trial) stopped_ = {};
}

}  // namespace plumule::analysis
