// What a calibration run has to say: Markdown tables, and the bars that must hold.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <string>
#include <vector>

namespace plumule::calibration {

// How much is simulated: the short form is for every build, the full one writes the table.
struct Effort {
  bool full = false;
  int of(int shortly, int fully) const { return full ? fully : shortly; }
};

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

  // A bar: value within [low, high]. Callers widen the bar by three standard errors of what they
  // simulated, so that an honest method fails once in some hundred runs at most.
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
    say("Bars on simulated figures are widened by three standard errors of the simulation (3.6");
    say("where the worst of many cells is held to it); bars on exact ones are not. A cell whose "
        "first");
    say("drawing lies past the bare bar is drawn again eight times as often; that drawing counts.");
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

// What one cell's trials gave, and how many they were.
template <class Figures>
struct Drawn {
  Figures figures;
  int trials = 0;
};

// A cell that `past` finds beyond its bare bar is drawn again, eight times as often and from a seed
// of its own, and only that second drawing counts: chance seldom carries it past a bar twice.
template <class Draw, class Past>
auto settled(int trials, std::uint64_t seed, Draw draw, Past past) {
  Drawn<decltype(draw(trials, seed))> made{draw(trials, seed), trials};
  if (past(made.figures)) made = {draw(8 * trials, seed + 1'000'000), 8 * trials};
  return made;
}

// Three standard errors of a share near `share` from that many trials.
inline double three_errors(double share, double trials) {
  return 3 * std::sqrt(share * (1 - share) / trials);
}

}  // namespace plumule::calibration
