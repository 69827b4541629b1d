#include "stats/times/emergence_material.hpp"

#include <algorithm>
#include <map>

namespace plumule::stats {

EmergenceMaterial gather(std::span<const TimeCourse> sowings) {
  EmergenceMaterial m;
  for (const TimeCourse& course : sowings) {
    m.pool.all_known = m.pool.all_known && course.sown.has_value();
    m.pool.last_look = std::max(m.pool.last_look, last_look(course));
  }
  std::vector<Span> every;
  m.used.reserve(sowings.size());
  m.by_unit.reserve(sowings.size());
  std::map<int, std::size_t> places;  // of the units that are several sowings
  for (const TimeCourse& course : sowings) {
    std::vector<Span> spans = spans_of(course);
    if (!m.pool.all_known) std::erase_if(spans, [](const Span& s) { return s.right == no_end; });
    every.insert(every.end(), spans.begin(), spans.end());
    if (spans.empty() || course.looks.empty()) continue;
    const double last = last_look(course);
    for (const Span& s : spans) {
      m.last_still = m.last_still || s.right == last;
      m.some_never = m.some_never || s.left == no_end;
    }
    // A look at the time of sowing tells nothing.
    m.single = m.single && course.looks.size() - (course.looks[0].time == 0) <= 1;
    m.used.push_back(&course);
    const auto place = [&] {
      if (course.unit < 0) return m.by_unit.size();
      return places.try_emplace(course.unit, m.by_unit.size()).first->second;
    }();
    if (place == m.by_unit.size()) m.by_unit.emplace_back();
    m.by_unit[place].insert(m.by_unit[place].end(), spans.begin(), spans.end());
  }
  m.pool.spans = merged(std::move(every));
  for (const Span& s : m.pool.spans) {
    m.pool.units += s.count;
    if (s.right < no_end) m.pool.emerged += s.count;
  }
  return m;
}

std::optional<ModelStatus> too_little(const EmergenceMaterial& m) {
  if (!(m.pool.emerged > 0)) return ModelStatus::nothing_emerged;
  if (m.single) return ModelStatus::single_count;
  const int times = separate_times(m.pool.spans);
  if (times == 1) return ModelStatus::one_interval;
  if (times == 2) return ModelStatus::two_intervals;
  return std::nullopt;
}

}  // namespace plumule::stats
