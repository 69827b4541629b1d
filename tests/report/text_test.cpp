// The screens: they fit 80 columns, colour changes nothing but the tone, and no figure is NaN.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include <sstream>
#include <string>

#include "report/comparison.hpp"
#include "report/crops.hpp"
#include "report/explanation.hpp"
#include "report/findings.hpp"
#include "report/parts/json_parts.hpp"
#include "report/reckoning.hpp"
#include "report/summary.hpp"
#include "report/today.hpp"
#include "report/viability.hpp"

using namespace plumule;
using namespace plumule::tests;
using report::Style;

namespace {

std::string without_tones(const std::string& text) {
  std::string plain;
  bool escape = false;
  for (const char c : text) {
    if (c == '\033') escape = true;
    if (!escape) plain += c;
    if (c == 'm') escape = false;
  }
  return plain;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

template <class Render>
std::string sound(const Render& render, int most_lines = 1000) {
  std::string plain = render(Style{false, 80});
  CHECK(without_tones(render(Style{true, 80})) == plain);
  CHECK_FALSE(has(plain, "nan"));
  CHECK_FALSE(has(plain, " inf"));
  std::istringstream lines(plain);
  int number = 0;
  for (std::string line; std::getline(lines, line); ++number)
    CHECK_MESSAGE(report::columns(line) <= 80, line);
  CHECK(number <= most_lines);
  return plain;
}

}  // namespace

TEST_CASE("a closed trial of three soaks fits a screen, in full it says all") {
  const auto trays = soak_trial();
  const auto finding = comparison(trays, 30);
  const auto text =
      sound([&](const Style& style) { return report::comparison_text(style, finding, false); }, 40);
  CHECK(has(text, "soak24 against untreated: fewer seedlings"));
  CHECK(has(text, "closed"));
  const auto full =
      sound([&](const Style& style) { return report::comparison_text(style, finding, true); });
  CHECK(has(full, "fisher (seed level)"));
  CHECK(has(full, "Seed-level evidence"));
}

TEST_CASE("an open trial says so, without a verdict, a p or a chance") {
  const auto trays = soak_trial();
  const auto finding = comparison(trays, 8);
  const auto text =
      sound([&](const Style& style) { return report::comparison_text(style, finding, false); }, 40);
  CHECK(has(text, "no verdict while the trial is open"));
  CHECK_FALSE(has(text, "chance it is better"));
  CHECK_FALSE(has(text, "p ="));
}

TEST_CASE("one tray each says that a difference can't be told from that tray") {
  const std::vector trays = {daily_tray("A", "untreated", "", 30, 9),
                             daily_tray("B", "soak8", "", 45, 6)};
  const auto finding = comparison(trays, 30);
  const auto text =
      sound([&](const Style& style) { return report::comparison_text(style, finding, false); });
  std::string flat;
  for (const char c : text) flat += c == '\n' ? ' ' : c;
  CHECK(has(flat, "One tray each: a difference can't be told from that tray."));
}

TEST_CASE("summaries: none yet, none, and all indices") {
  const auto render = [](const std::vector<records::History>& histories) {
    const auto list = groups(histories, analysis::SummaryBy::sowing);
    std::string text = sound(
        [&](const Style& style) { return report::summary_detail(style, list.front(), true); });
    for (const auto& group : list)
      text += sound([&](const Style& style) { return report::summary_line(style, group); });
    return text;
  };
  CHECK(has(render({history("A", 50, {{3, 0}, {9, 0}})}), "none yet"));
  CHECK_FALSE(has(render({ended(history("A", 50, {{3, 0}, {9, 0}}), 12)}), "none yet"));
  const auto full = render({soak_trial()[0]});
  for (const char* name : {"mean days", "synchrony", "germination value", "peak value"})
    CHECK(has(full, name));
  CHECK(has(render({history("A", 50, {})}), "Not looked at yet"));
}

TEST_CASE("where a loss was recorded a summary tells what stands, in units") {
  auto tray = history("A", 30, {{5, 28}, {9, 28}});
  auto& last = tray.counts.back().entered;
  last = {records::CountKind::standing, 8, std::nullopt, 20, std::nullopt};
  const auto text = [](const records::History& history) {
    const auto group = groups({history}, analysis::SummaryBy::sowing).front();
    const auto render = [&](bool full) {
      return sound([&](const Style& style) { return report::summary_detail(style, group, full); });
    };
    CHECK(has(render(true), "intervals of what stands"));
    return render(false) + report::summary_line({false, 80}, group) +
           report::summary_line({false, 40}, group);
  };
  const auto seeds = text(tray);
  CHECK(has(seeds, "28 of 30 seeds up (shoots up): 93 %. The true"));
  CHECK(has(seeds, "\n  8 stand, 20 lost: 27 % (95 %: "));
  CHECK(has(seeds, "\n  standing                        8    27 %"));
  CHECK(has(seeds, "20 lost\n"));
  CHECK(has(seeds, "standing: 8, 27 %, range"));
  CHECK(has(seeds, "lost 20\n"));
  // Of clusters the loss is one of clusters, whatever seedlings each gave.
  tray.sowing.unit = records::UnitKind::cluster;
  tray.counts.front().entered.seedlings = 50;
  last.value = 1;
  last.lost = 27;
  CHECK(has(text(tray), "  1 cluster stands, 27 lost: 3 % (95 %: "));
  last.value = 0;
  last.lost = 28;
  const auto gone = text(tray);
  CHECK(has(gone, "  None stand, 28 lost: 0 % (95 %: 0 % to "));
  CHECK(has(gone, "50 seedlings from 28 clusters that came up"));
}

TEST_CASE("losses where there is no percentage are told without one, or as not in it") {
  auto row = history("R", 1, {{5, 40}, {9, 40}});
  row.sowing.units_known = records::UnitsKnown::unknown;
  row.sowing.units.reset();
  row.counts.back().entered = {records::CountKind::standing, 28, std::nullopt, 12, std::nullopt};
  const auto alone = groups({row}, analysis::SummaryBy::sowing).front();
  CHECK(has(report::summary_detail({false, 80}, alone, false), "\n  28 stand, 12 lost.\n"));
  CHECK(
      has(report::summary_line({false, 80}, alone), "  standing                       28       ?"));
  const auto both = groups({row, history("A", 30, {{5, 20}})}, analysis::SummaryBy::lot).front();
  const auto text = report::summary_detail({false, 80}, both, false);
  CHECK_FALSE(has(text, " stand, "));
  CHECK(has(text, "- 12 lost in sowings that are not in the percentage."));
  report::SummaryNotes notes;
  notes.take(both);
  CHECK(has(notes.text({false, 80}, true), "no lot: 12 lost in sowings that are not in the"));
}

TEST_CASE("a range whose end was moved to the percentage says so") {
  std::vector<records::History> trays = {history("A", 1000, {{5, 300}})};
  for (const char* name : {"B", "C", "D", "E", "F"}) trays.push_back(history(name, 10, {{5, 9}}));
  const auto low = groups(trays, analysis::SummaryBy::lot).front();
  const auto text = report::summary_detail({false, 400}, low, false);
  CHECK(has(text, "345 of 1050 seeds up (shoots up): 33 %. The true percentage lies between 33 %"));
  CHECK(has(text, "The range would leave the percentage out: its lower end was moved to it."));
  CHECK(has(report::summary_line({false, 80}, low), " *~=\n"));
  report::SummaryNotes notes;
  notes.take(low);
  CHECK(has(notes.text({false, 400}, true), "= the range would leave the stand out"));
  // The other end, of what stands: in the small trays most were lost.
  for (auto& tray : trays) {
    const auto up = tray.counts.back().total;
    const std::int64_t lost = up == 9 ? 8 : 0;
    tray.counts.back().entered = {records::CountKind::standing, up - lost, std::nullopt, lost,
                                  std::nullopt};
  }
  const auto lost = groups(trays, analysis::SummaryBy::lot).front();
  CHECK(has(report::summary_detail({false, 400}, lost, false), " standing in the mean of them)."));
}

TEST_CASE("a row counted in seedlings alone is not one that nobody looked at") {
  auto row = history("R", 50, {{9, 0}});
  row.sowing.units_known = records::UnitsKnown::unknown;
  row.sowing.metres = 2;
  row.counts[0].entered.kind = records::CountKind::seedlings;
  row.counts[0].entered.seedlings = 40;
  const auto group = groups({row}, analysis::SummaryBy::sowing).front();
  for (const int width : {80, 40}) {
    const auto line = report::summary_line({false, width}, group);
    CHECK(has(line, "40 seedlings"));
    CHECK_FALSE(has(line, "not looked at"));
  }
  CHECK(has(report::summary_detail({false, 80}, group, false), "40 seedlings up; the seeds"));
}

TEST_CASE(
    "mean days over sowings: no range from one, none below nought, what has no days is named") {
  const auto render = [](const std::vector<records::History>& histories) {
    std::string text;
    for (const auto& group : groups(histories, analysis::SummaryBy::treatment))
      text += report::summary_detail({false, 400}, group, true);
    return text;
  };
  const auto first = history("A", 50, {{3, 0}, {5, 20}, {9, 40}});
  CHECK(has(render({first}), "one sowing or jar alone gives no range for its days"));
  CHECK_FALSE(has(render({first}), "looked at on different days"));
  // Means of 4.5 and 16.5 days: 10.5 +- 12.706 x 6, t on one degree of freedom. By hand.
  const auto far =
      render({history("A", 50, {{4, 0}, {5, 20}}), history("B", 50, {{16, 0}, {17, 9}}),
              history("C", 50, {{5, 0}, {17, 0}})});
  CHECK(has(far, "10.5 (95 % below 86.7, by the spread between sowings)"));
  CHECK(has(far, "1 sowing has nothing up: in the percentage, not in the mean days"));
  CHECK(has(far, "looked at on different days"));
}

TEST_CASE("viability, reckon, today, crops and explain fit the width") {
  for (const std::int64_t up : {0, 5, 9, 10})
    for (const bool full : {false, true})
      sound(
          [&](const Style& style) {
            return report::viability_text(style, viability(up, 10), full);
          },
          34);
  for (const std::int64_t up : {2, 20, 24})
    sound(
        [&](const Style& style) { return report::viability_text(style, hard_beans(up, 23, 50)); });
  for (const std::int64_t third : {45, 26, 2})
    sound([&](const Style& style) {
      return report::viability_text(style, clashing_tests({45, 25, third}));
    });
  sound([](const Style& style) {
    return report::reckon_text(style, analysis::reckon({0, 12}, {4, 12}, {}));
  });
  sound([](const Style& style) {
    return report::reckon_text(style, analysis::reckon({0, 0}, {}));
  });
  const std::vector open = {history("A", 50, {{3, 9}, {9, 9}}), history("B", 50, {})};
  sound([&](const Style& style) {
    return report::today_text(style, analysis::due_today(open, {}, on_day(12)));
  });
  sound([](const Style& style) { return report::crop_list_text(style, analysis::crop_list()); });
  for (const auto* entry : analysis::explanations())
    sound([&](const Style& style) { return report::explain_text(style, *entry); });
}

TEST_CASE("a share near an end of the scale is not called the end") {
  // 1/3000 is 0.0333 %, 2999/3000 99.9667 %, 3/1e9 0.0000003 %: by hand.
  const auto text = [](std::int64_t x, std::int64_t n) {
    return report::reckon_text({false, 80}, analysis::reckon({x, n}, {}));
  };
  CHECK(has(text(1, 3000), "1 of 3000: 0.03 %"));
  CHECK(has(text(2999, 3000), "2999 of 3000: 99.97 %"));
  CHECK(has(text(3, 1000000000), ": 0.0000003 %"));
  CHECK(has(text(0, 3000), "0 of 3000: 0.0 %"));
  CHECK(has(text(18, 20), "18 of 20: 90.0 %"));
  const auto small = report::reckon_text(
      {false, 80}, analysis::reckon({2, 100000}, {1, 100000}, {}));  // 0.001 points
  CHECK(has(small, "+0.001 points"));
}

TEST_CASE("what to do comes first, then five figures at most, and no statistician's word") {
  for (const auto& finding : {viability(98, 100), viability(7, 10), viability(2, 50),
                              hard_beans(2, 23, 50), clashing_tests({45, 25})}) {
    const auto text = report::viability_text({false, 80}, finding);
    for (const char* word : {"posterior", "rho", "95 %", "one-sided", "interval", "exact"})
      if (!finding.clash) CHECK_FALSE(has(text, word));
    CHECK(has(text, "Lot " + finding.lot.code));
    int figures = 0;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
      figures += line.starts_with("  ") && line.size() > 2 && line[2] != ' ' ? 1 : 0;
    CHECK(figures <= 5);
    CHECK(figures >= 3);
    const auto full = report::viability_text({false, 80}, finding, true);
    CHECK(has(full, "posterior"));
    CHECK(full.size() > text.size());
  }
  const auto text = report::viability_text({false, 80}, viability(98, 100));
  CHECK(has(text, "Sow as usual."));
  CHECK(has(text, "98 of 100 up, 4 weeks ago"));
  CHECK(has(text, "80 of 100; as many are alive almost surely"));
  CHECK(has(text, "not known: no stock of it is written down"));
  CHECK(has(text, "Reckoned from 1 test"));
}

TEST_CASE("tests that clash stand apart, in the first line and in the figures") {
  const auto text = report::viability_text({false, 80}, clashing_tests({45, 25}));
  CHECK(has(text, "Its tests clash: 45 of 50 came up in T1, 25 of 50 in T2"));
  CHECK(has(text, "older test"));
  CHECK(has(text, "T2: 25 of 50, 50 %"));
  CHECK_FALSE(has(text, "70 of 100"));
  report::ViabilityTable table;
  table.take(clashing_tests({45, 25}));
  CHECK(has(table.text({false, 80}), "50 or 90 %"));
  const auto line = report::Json::parse(table.json())["lots"][0];
  CHECK(line["fraction"].is_null());
  CHECK(line["seeds"] == 100);
  const auto settled = report::viability_text({false, 80}, clashing_tests({45, 25, 26}));
  CHECK(has(settled, "T1 (45 of 50) clashes with the tests that agree, and is not counted."));
}

TEST_CASE("at 40 columns tables are folded and nothing runs over") {
  const Style narrow{false, 40};
  const auto fits = [&](const std::string& text) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
      CHECK_MESSAGE(report::columns(line) <= 40, line);
    return text;
  };
  const auto trays = soak_trial();
  const auto compared = fits(report::comparison_text(narrow, comparison(trays, 30), false));
  CHECK(has(compared, "soak24: trays 4, sown 200, up"));
  fits(report::comparison_text(narrow, comparison(trays, 8), false));
  fits(report::viability_text(narrow, viability(7, 10)));
  fits(report::crop_gist_text(narrow, analysis::crop_facts("beet")));
  const std::vector open = {history("A", 50, {{3, 9}, {9, 9}}), history("B", 50, {})};
  fits(report::today_text(narrow, analysis::due_today(open, {}, on_day(12))));
  const auto group = groups({trays[0]}, analysis::SummaryBy::sowing).front();
  fits(report::summary_detail(narrow, group, false));
  CHECK(report::summary_header(narrow, "sowing", 0.95, {}).empty());
  CHECK(has(fits(report::summary_line(narrow, group)), "U1: sown 50, up 40, stand 80 %, range"));
}

TEST_CASE("many lots side by side: the poorest first, those still running last") {
  const auto tested = [](const char* code, std::int64_t up, std::int64_t of) {
    auto finding = viability(up, of);
    finding.lot.code = code;
    return finding;
  };
  report::ViabilityTable table;
  table.take(tested("SOUND", 48, 50));
  table.take(tested("POOR", 5, 50));
  auto running = tested("RUN", 0, 50);
  running.verdict.code = analysis::ViabilityCode::wait;
  table.take(running);
  table.take(analysis::lot_viability({.code = "NEW"}, {}, {}));
  const auto text = sound([&](const Style& style) { return table.text(style); });
  CHECK(has(text, "2 lots tested, the poorest first; 1 still running"));
  CHECK(text.find("POOR ") < text.find("SOUND"));
  CHECK(text.find("SOUND") < text.find("RUN "));
  CHECK(has(text, "No test of 1 lot: NEW."));
  const auto json = report::Json::parse(table.json());
  REQUIRE(json["lots"].size() == 3);
  CHECK(json["lots"][0]["lot"] == "POOR");
  CHECK(json["lots"][0]["verdict"]["code"] == "replace");
  CHECK(json["untested"] == report::Json{"NEW"});
  CHECK(report::ViabilityTable().text({false, 80}).empty());
}

TEST_CASE("a misspelt crop is asked back") {
  CHECK(has(report::unknown_crop(analysis::crop_facts("letuce")), "Lettuce"));
}
