// What a calibration run has to say: Markdown tables, and the bars that must hold; and how often a
// cell of them is drawn.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <initializer_list>
#include <string>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/random.hpp"

namespace plumule::calibration {

// Standard errors down to which the full form draws an error rate or a coverage, and a power.
inline constexpr double rate_error = 0.003, power_error = 0.01;

// How much is simulated: the short form is for every build, the full one writes the table.
struct Effort {
  bool full = false;
  int of(int shortly, int fully) const { return full ? fully : shortly; }

  // What a share near `share`, of that many trials, may lie past its bar: two standard errors, in
  // the short form three and a half. `cells`: of so many cells held to a level that is exact the
  // worst lies past two by chance alone; so many that all of them together are past it as seldom
  // as a single one past two.
  double room(double share, double trials, int cells = 1) const {
    const double errors = stats::normal_quantile(1 - stats::normal_upper(full ? 2 : 3.5) / cells);
    return errors * std::sqrt(share * (1 - share) / trials);
  }
  // The same of a rate that `drawn` drew down to that error, in the short form from `shortly`.
  double rate_room(double share, int shortly, double error = rate_error) const {
    return full ? 2 * error : room(share, shortly);
  }
};

// How often something was so, and in how many trials. Of several things in one trial their share
// may be seen, as one.
struct Rate {
  double held = 0;
  int of = 0;

  void see(double so) {
    held += so;
    ++of;
  }
  double share() const { return of > 0 ? held / of : 0; }
  double error() const {
    return of > 0 ? std::sqrt(std::max(share() * (1 - share()), 0.0) / of) : 1;
  }
};

// Trials of one cell, each by one(random, figures): in the full form 1,000, and on until the
// standard errors of the rates `known` are at most `error`; in the short form `shortly`. What a
// cell gave is never a reason to draw it anew.
template <class Figures, class One>
Figures drawn(const Effort& effort, int shortly, std::uint64_t seed, One one,
              std::initializer_list<Rate Figures::*> known, double error = rate_error) {
  stats::Random random(seed);
  Figures made;
  const auto wanting = [&] {
    return std::any_of(known.begin(), known.end(),
                       [&](Rate Figures::*rate) { return (made.*rate).error() > error; });
  };
  int trials = effort.of(shortly, 1000);
  do {
    for (int i = 0; i < trials; ++i) one(random, made);
    trials = 250;
  } while (effort.full && wanting());
  return made;
}

class Report {
 public:
  void heading(const std::string& text) { std::printf("\n## %s\n\n", text.c_str()); }
  void say(const std::string& text) { std::printf("%s\n", text.c_str()); }

  // A table: its head, then rows of as many cells.
  void head(const std::vector<std::string>& cells) {
    std::printf("\n");
    row(cells);
    for (std::size_t i = 0; i < cells.size(); ++i) std::printf("|---");
    std::printf("|\n");
  }
  void row(const std::vector<std::string>& cells) {
    for (const auto& cell : cells) std::printf("| %s ", cell.c_str());
    std::printf("|\n");
    std::fflush(stdout);
  }

  // A bar: value within [low, high]. Callers widen it by the room for what they simulated
  // (Effort::room).
  void bar(const std::string& what, double value, double low, double high) {
    const bool held = value >= low && value <= high;
    if (!held) ++failed_;
    ++bars_;
    outcomes_.push_back({what, value, low, high, held, ""});
  }
  // A bar missed in a cell reckoned exactly. `reason`, in words, is proven for that very cell by
  // the caller (empty: it could not be): then it is listed as missed and does not fail the run.
  void exact_bar(const std::string& what, double value, double low, double high,
                 const std::string& reason) {
    bar(what, value, low, high);
    auto& last = outcomes_.back();
    if (last.held || reason.empty()) return;
    last.reason = reason;
    --failed_;
    ++reasoned_;
  }
  std::vector<std::string> reasons() const {
    std::vector<std::string> made;
    for (const auto& o : outcomes_)
      if (!o.reason.empty()) made.push_back(o.reason);
    return made;
  }
  // What every reason rests on has been found not to hold: those bars fail after all.
  void withdraw_reasons() {
    for (auto& o : outcomes_) o.reason.clear();
    failed_ += reasoned_;
    reasoned_ = 0;
  }

  // Bars by kind (the words before the first comma, and the bar itself), then each one missed.
  void summary() {
    heading("Bars");
    say("Bars on simulated figures are met at the bar and two standard errors (of a level that is");
    say("exact, where the worst of many cells is held to it: at as many as all of them together");
    say("pass as seldom as one passes two); bars on exact figures at the bar. No cell was drawn");
    say("anew because of what it gave.");
    head({"what", "bar", "how many", "lowest value", "highest value", "missed"});
    std::vector<Kind> kinds;
    for (const auto& o : outcomes_) {
      const std::string what = o.what.substr(0, o.what.find(','));
      const std::string range = percent(o.low) + " to " + percent(std::min(o.high, 1.0));
      auto found = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& kind) {
        return kind.what == what && kind.range == range;
      });
      if (found == kinds.end())
        found = kinds.insert(kinds.end(), {what, range, o.value, o.value, 0, 0});
      found->least = std::min(found->least, o.value);
      found->most = std::max(found->most, o.value);
      ++found->bars;
      found->missed += o.held ? 0 : 1;
    }
    for (const auto& kind : kinds)
      row({kind.what, kind.range, std::to_string(kind.bars), percent(kind.least),
           percent(kind.most), kind.missed > 0 ? "**" + std::to_string(kind.missed) + "**" : "0"});
    heading("Bars missed");
    for (const auto& o : outcomes_)
      if (!o.held)
        say("- " + o.what + ": " + number(3, 100 * o.value) + ", bar " + percent(o.low) + " to " +
            percent(std::min(o.high, 1.0)) + ". " +
            (o.reason.empty() ? "**No reason proven: this run fails.**" : o.reason));
    if (failed_ + reasoned_ == 0) say("None.");
    std::printf("\n%d bars, %d missed without a reason, %d missed for a proven reason\n", bars_,
                failed_, reasoned_);
  }
  int failed() const { return failed_; }

  static std::string percent(double share) { return number(1, 100 * share); }
  static std::string number(int decimals, double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    return text;
  }

 private:
  struct Outcome {
    std::string what;
    double value, low, high;
    bool held;
    std::string reason;
  };
  struct Kind {
    std::string what, range;
    double least, most;
    int bars, missed;
  };
  std::vector<Outcome> outcomes_;
  int bars_ = 0, failed_ = 0, reasoned_ = 0;
};

}  // namespace plumule::calibration
