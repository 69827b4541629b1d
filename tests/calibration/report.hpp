// What a calibration run has to say: Markdown tables, and the bars that must hold.
#pragma once

#include <cmath>
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
    outcomes_.push_back({what, value, low, high, held});
  }
  void summary() {
    heading("Bars");
    say("Bars on simulated figures are widened by three standard errors of the simulation.");
    head({"what", "value", "bar", "held"});
    for (const auto& o : outcomes_)
      row({o.what, percent(o.value), percent(o.low) + " to " + percent(o.high),
           o.held ? "yes" : "**no**"});
    std::printf("\n%d bars, %d breached\n", bars_, failed_);
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
  };
  std::vector<Outcome> outcomes_;
  int bars_ = 0, failed_ = 0;
};

// Three standard errors of a share near `share` from that many trials.
inline double three_errors(double share, double trials) {
  return 3 * std::sqrt(share * (1 - share) / trials);
}

}  // namespace plumule::calibration
