#include "analysis/summary/summary.hpp"
#include "records/label.hpp"

#include <algorithm>
#include <chrono>

namespace plumule::analysis {

namespace {

std::string or_none(const std::string& text, const char* none) {
  return text.empty() ? none : text;
}

}  // namespace

bool SummaryStream::ByName::operator()(const Key& a, const Key& b) const {
  if (records::label_before(std::get<0>(a), std::get<0>(b))) return true;
  if (records::label_before(std::get<0>(b), std::get<0>(a))) return false;
  return std::tie(std::get<1>(a), std::get<2>(a)) < std::tie(std::get<1>(b), std::get<2>(b));
}

SummaryStream::SummaryStream(SummaryQuestion question, std::function<void(const Group&)> give)
    : question_(std::move(question)), give_(std::move(give)) {}

std::string SummaryStream::name_of(const records::Sowing& sowing) const {
  const bool shared = question_.label_shared && question_.label_shared(sowing.label);
  return shared ? sowing.label + "@" + records::to_text(sowing.sown.date) : sowing.label;
}

std::string SummaryStream::key_of(const records::Sowing& sowing) const {
  switch (question_.by) {
    case SummaryBy::sowing:
      return name_of(sowing);
    case SummaryBy::lot:
      return or_none(sowing.lot, "no lot");
    case SummaryBy::treatment:
      return or_none(sowing.treatment, records::untreated);
    case SummaryBy::trial:
      return or_none(sowing.trial, "no trial");
    case SummaryBy::crop:
      return or_none(sowing.crop, "no crop");
    case SummaryBy::season:
      break;
  }
  const std::chrono::year_month_day day{sowing.sown.date};
  return std::to_string(static_cast<int>(day.year()));
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
  const Key key{key_of(sowing), sowing.counting, sowing.unit};
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

void SummaryStream::finish() {
  while (!groups_.empty()) {
    auto first = groups_.begin();
    give_(first->second.finish(question_.options));
    groups_.erase(first);
  }
  courses_ = 0;
  if (question_.by == SummaryBy::trial) stopped_ = {};
}

}  // namespace plumule::analysis
