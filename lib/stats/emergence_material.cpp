#include "stats/emergence_material.hpp"

namespace plumule::stats {

EmergenceMaterial gather(std::span<const TimeCourse> sowings) {
  EmergenceMaterial m;
  m.pool = pool(sowings);
  for (const TimeCourse& course : sowings) {
    std::vector<Span> spans = spans_of(course);
    if (!m.pool.all_known) std::erase_if(spans, [](const Span& s) { return s.right == no_end; });
    if (spans.empty() || course.looks.empty()) continue;
    std::size_t looks = 0;
    for (const Look& look : course.looks) looks += look.time > 0;
    m.single = m.single && looks <= 1;
    const double last = last_look(course);
    for (const Span& s : spans) {
      m.last_still = m.last_still || s.right == last;
      m.some_never = m.some_never || s.left == no_end;
    }
    m.used.push_back(course);
    m.by_sowing.push_back(std::move(spans));
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
