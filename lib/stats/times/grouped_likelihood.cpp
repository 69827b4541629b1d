#include "stats/times/grouped_likelihood.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::stats {
namespace {

template <TimeFamily family>
void fill(std::span<const double> log_times, const WorkingPoint& point, TimeTerms* out) {
  const TimeKernel<family> kernel(point.u, point.v);
  for (const double x : log_times) *out++ = x == -HUGE_VAL ? before_any : kernel.at(x);
}

void fill(TimeFamily family, std::span<const double> log_times, const WorkingPoint& point,
          TimeTerms* out) {
  switch (family) {
    case TimeFamily::log_logistic:
      return fill<TimeFamily::log_logistic>(log_times, point, out);
    case TimeFamily::lognormal:
      return fill<TimeFamily::lognormal>(log_times, point, out);
    case TimeFamily::weibull:
      return fill<TimeFamily::weibull>(log_times, point, out);
    case TimeFamily::gamma:
      return fill<TimeFamily::gamma>(log_times, point, out);
  }
}

double log_time(double t, double lag, double unit) {
  return t > lag ? std::log((t - lag) / unit) : -HUGE_VAL;
}

}  // namespace

GroupedLikelihood::GroupedLikelihood(std::span<const Span> spans, double unit, double lag)
    : unit_(unit), lag_(lag) {
  times_.reserve(2 * spans.size());
  // Spans come sorted by their left ends, and most right ends are left ends too.
  for (const Span& s : spans)
    if (s.left > 0 && s.left < no_end && (times_.empty() || times_.back() != s.left))
      times_.push_back(s.left);
  for (const Span& s : spans) {
    if (s.right == no_end) continue;
    const auto at = std::ranges::lower_bound(times_, s.right);
    if (at == times_.end() || *at != s.right) times_.insert(at, s.right);
  }
  log_times_.reserve(times_.size());
  for (const double t : times_) log_times_.push_back(log_time(t, lag_, unit_));
  terms_.assign(times_.size() + 2, before_any);
  terms_.back() = after_every;
  cells_.reserve(spans.size());
  logs_.reserve(spans.size());
  for (const Span& s : spans) cells_.push_back(cell_of(s));
}

GroupedLikelihood::Cell GroupedLikelihood::cell_of(const Span& span) const {
  const auto index = [&](double t) -> std::size_t {
    if (t <= 0) return 0;
    if (t == no_end) return terms_.size() - 1;
    return static_cast<std::size_t>(std::ranges::lower_bound(times_, t) - times_.begin()) + 1;
  };
  return {index(span.left), index(span.right), span.count, span.right < no_end,
          span.left == no_end};
}

template <class Items, class ToCell>
LikelihoodValue GroupedLikelihood::sum(const Items& items, ToCell&& to_cell,
                                       const WorkingPoint& point, bool whole) const {
  const double e = std::exp(-std::fabs(point.a));
  const double large = 1 / (1 + e);
  const double p = whole ? 1 : point.a >= 0 ? large : e * large;
  const double q = whole ? 0 : point.a >= 0 ? e * large : large;
  const double w = p * q;

  double up = 0, never = 0;
  logs_.clear();
  double ga = 0, gu = 0, gv = 0;
  double haa = 0, hau = 0, hav = 0, huu = 0, huv = 0, hvv = 0;
  for (const auto& item : items) {
    const Cell cell = to_cell(item);
    const TimeTerms& l = terms_[cell.left];
    const double n = cell.count;
    if (cell.up) {
      const TimeTerms& r = terms_[cell.right];
      const double d = l.lower < 0.5 ? r.lower - l.lower : l.upper - r.upper;
      if (!(d > 1e-300)) return {-HUGE_VAL, {}, {}};
      const double i = 1 / d;
      const double du = (r.du - l.du) * i;
      const double dv = (r.dv - l.dv) * i;
      up += n;
      logs_.add(n, d);
      gu += n * du;
      gv += n * dv;
      huu += n * ((r.duu - l.duu) * i - du * du);
      huv += n * ((r.duv - l.duv) * i - du * dv);
      hvv += n * ((r.dvv - l.dvv) * i - dv * dv);
    } else if (cell.never) {
      never += n;
    } else {
      const double s = q + p * l.upper;  // 1 - p F
      if (!(s > 1e-300)) return {-HUGE_VAL, {}, {}};
      const double i = 1 / s;
      const double sa = -w * l.lower * i;
      const double su = -p * l.du * i;
      const double sv = -p * l.dv * i;
      logs_.add(n, s);
      ga += n * sa;
      gu += n * su;
      gv += n * sv;
      haa += n * (sa * (q - p) - sa * sa);
      hau += n * (-w * l.du * i - sa * su);
      hav += n * (-w * l.dv * i - sa * sv);
      huu += n * (-p * l.duu * i - su * su);
      huv += n * (-p * l.duv * i - su * sv);
      hvv += n * (-p * l.dvv * i - sv * sv);
    }
  }
  if (never > 0 && q <= 0) return {-HUGE_VAL, {}, {}};
  double loglik = logs_.sum();
  if (!whole) {
    loglik += up * std::log(p) + (never > 0 ? never * std::log(q) : 0);
    ga += up * q - never * p;
    haa -= (up + never) * w;
  }
  return {loglik, {ga, gu, gv}, {haa, hau, hav, huu, huv, hvv}};
}

LikelihoodValue GroupedLikelihood::value(TimeFamily family, const WorkingPoint& point, bool whole) {
  fill(family, log_times_, point, terms_.data() + 1);
  return sum(
      cells_, [](const Cell& cell) { return cell; }, point, whole);
}

LikelihoodValue GroupedLikelihood::value_of(std::span<const Span> part, const WorkingPoint& point,
                                            bool whole) const {
  return sum(
      part, [this](const Span& span) { return cell_of(span); }, point, whole);
}

TimeTerms GroupedLikelihood::terms_at(TimeFamily family, const WorkingPoint& point,
                                      double t) const {
  return time_terms(family, point.u, point.v, log_time(t, lag_, unit_));
}

}  // namespace plumule::stats
