#include "stats/times/time_course.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace plumule::stats {
namespace {

constexpr std::size_t longest_inserted = 200;  // spans

bool count_like(double x) { return std::isfinite(x) && x >= 0; }

bool same_ends(const Span& a, const Span& b) { return a.left == b.left && a.right == b.right; }

constexpr auto earlier = [](const Span& a, const Span& b) {
  return a.left != b.left ? a.left < b.left : a.right < b.right;
};

}  // namespace

void check(const TimeCourse& course) {
  double time = -1;
  double total = 0;
  for (const Look& look : course.looks) {
    if (!(std::isfinite(look.time) && look.time >= 0 && look.time > time))
      throw std::domain_error("the looks of a sowing must be at finite times from 0, each later");
    if (!(count_like(look.total) && look.total >= total))
      throw std::domain_error("the running total of a sowing must be finite and never fall");
    if (look.time == 0 && look.total > 0)
      throw std::domain_error("nothing can be up at the time of sowing");
    time = look.time;
    total = look.total;
  }
  if (!count_like(course.never)) throw std::domain_error("units that can't come up: 0 or more");
  if (!course.sown) return;
  if (!(std::isfinite(*course.sown) && *course.sown > 0))
    throw std::domain_error("the units sown must be finite and above 0, or unknown");
  if (total + course.never > *course.sown)
    throw std::domain_error("more units up or past coming up than were sown");
}

double emerged(const TimeCourse& course) {
  return course.looks.empty() ? 0 : course.looks.back().total;
}

double last_look(const TimeCourse& course) {
  return course.looks.empty() ? 0 : course.looks.back().time;
}

namespace {

// Calls take(span) for each, in order of their left ends.
template <class Take>
void each_span(const TimeCourse& course, Take&& take) {
  check(course);
  Look before;
  for (const Look& look : course.looks) {
    if (look.total > before.total) take(Span{before.time, look.time, look.total - before.total});
    before = look;
  }
  if (!course.sown) return;
  const double rest = *course.sown - before.total - course.never;
  if (rest > 0) take(Span{before.time, no_end, rest});
  if (course.never > 0) take(Span{no_end, no_end, course.never});
}

}  // namespace

std::vector<Span> spans_of(const TimeCourse& course) {
  std::vector<Span> spans;
  spans.reserve(course.looks.size() + 2);
  each_span(course, [&spans](const Span& span) { spans.push_back(span); });
  return spans;
}

Pool pool(std::span<const TimeCourse> courses) {
  Pool all;
  std::size_t most = 0;
  for (const TimeCourse& course : courses) {
    if (!course.sown) all.all_known = false;
    all.last_look = std::max(all.last_look, last_look(course));
    most = std::max(most, course.looks.size() + 2);
  }
  all.spans.reserve(2 * most);
  for (const TimeCourse& course : courses) {
    // Both in order, and mostly the same ones; a long list is sorted once instead.
    std::size_t at = 0;
    each_span(course, [&](const Span& span) {
      if (!all.all_known && span.right == no_end) return;
      if (all.spans.size() >= longest_inserted) return all.spans.push_back(span);
      while (at < all.spans.size() && earlier(all.spans[at], span)) ++at;
      if (at < all.spans.size() && same_ends(all.spans[at], span))
        all.spans[at].count += span.count;
      else
        all.spans.insert(all.spans.begin() + static_cast<std::ptrdiff_t>(at), span);
    });
  }
  all.spans = merged(std::move(all.spans));
  for (const Span& span : all.spans) {
    all.units += span.count;
    if (span.right < no_end) all.emerged += span.count;
  }
  return all;
}

std::vector<Span> merged(std::vector<Span> spans) {
  for (const Span& s : spans) {
    const bool never = s.left == no_end && s.right == no_end;
    if (!never && !(s.left >= 0 && s.left < s.right))
      throw std::domain_error("a span of time must begin at 0 or later and end after it begins");
    if (!count_like(s.count))
      throw std::domain_error("the count of a span must be finite, not < 0");
  }
  std::erase_if(spans, [](const Span& s) { return s.count == 0; });
  if (!std::ranges::is_sorted(spans, earlier)) std::ranges::sort(spans, earlier);
  std::size_t kept = 0;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    if (kept > 0 && same_ends(spans[kept - 1], spans[i]))
      spans[kept - 1].count += spans[i].count;
    else
      spans[kept++] = spans[i];
  }
  spans.resize(kept);
  return spans;
}

int separate_times(std::span<const Span> spans) {
  // Stab at the right end of the span that ends first among those not yet held; all spans that
  // begin before it hold the point. Few stabs are ever needed, so a pass for each will do.
  double held = -1;
  for (int points = 0;; ++points) {
    double end = no_end;
    for (const Span& s : spans)
      if (s.count > 0 && s.left >= held && s.right < end) end = s.right;
    if (end == no_end) return points;
    held = end;
  }
}

}  // namespace plumule::stats
