// A lot's viability as text and as JSON, and all tested lots side by side.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "analysis/lots/lot_viability.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// Within a screen: what to do, the few figures behind it, and how they were reckoned. In full:
// every figure by its name, and every test.
std::string viability_text(const Style& style, const analysis::LotViability& finding,
                           bool full = false);

std::string viability_json(const analysis::LotViability& finding, HintWords hints = nullptr);

// All tested lots side by side, the poorest first: what `viability` says of many. Lots are taken
// one after the other, and only a line of each is kept.
class ViabilityTable {
 public:
  explicit ViabilityTable(HintWords hints = nullptr) : hints_(hints) {}
  void take(const analysis::LotViability& finding);

  std::string text(const Style& style);
  std::string json();

 private:
  struct Line {
    std::string lot;
    std::string crop;
    std::string variety;
    std::optional<int> year;    // of harvest, else of packing
    std::vector<double> apart;  // what came up by each side, where tests clash: the least first
    std::int64_t seeds = 0;
    std::int64_t emerged = 0;
    std::int64_t hard = 0;
    std::optional<stats::Interval> interval;  // of what comes up
    // On the day asked about, every test at its age, as the verdict has it; none while it waits.
    std::optional<double> expected;
    std::optional<stats::Interval> alive;
    bool hard_counted = false;               // as alive
    bool interval_moved = false;             // one end to the share, which it would leave out
    std::optional<records::Date> last_test;  // its last look
    bool from_soil = false;
    bool waiting = false;
    std::optional<double> standard;
    std::optional<double> p_meets;
    std::string code;
    std::string text;  // the verdict in a sentence
    std::string short_text;
    double come_up() const { return static_cast<double>(emerged) / static_cast<double>(seeds); }
    double share() const {  // of tests that clash, the lower
      if (!apart.empty()) return apart.front();
      if (expected) return *expected;
      return static_cast<double>(emerged + hard) / static_cast<double>(seeds);
    }
  };

  static void take_sides(const analysis::LotClash& clash, Line& line);
  void sort();
  std::string heading() const;
  double level() const;  // of the ranges

  HintWords hints_;
  std::vector<Line> lines_;
  std::vector<std::string> untested_;
};

}  // namespace plumule::report
