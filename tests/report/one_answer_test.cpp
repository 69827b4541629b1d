// Trials of every layout that a bench may see, drawn at random: whatever they are, one answer does
// not contradict itself. Estimates lie in their ranges, a claim has the sign of its estimate, held
// the other way round everything is mirrored, and screen and JSON say the same, number by number.
// PLUMULE_TRIALS=20000 draws as many.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <random>
#include <string>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "records/refused.hpp"
#include "report/comparison.hpp"
#include "report/parts/number_words.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule;
using namespace plumule::tests;
using Json = nlohmann::json;

namespace {

class Bench {
 public:
  explicit Bench(std::uint64_t seed) : random_(seed) {}

  std::vector<records::History> trial() {
    std::vector<records::History> trays;
    const int treatments = whole(2, 4), strata = whole(1, 4), kind = whole(0, 4);
    const bool unlike = chance(0.3), losses = chance(0.4), differ = chance(0.5);
    const auto size = whole(1, 4) == 1 ? whole(1, 12) : whole(10, 120);
    for (int stratum = 0; stratum < strata; ++stratum) {
      const double shift = kind == 0 ? 0 : normal();
      for (int treatment = 0; treatment < treatments; ++treatment)
        for (int tray = whole(0, 3); tray > 0; --tray) {
          const int seeds = unlike ? whole(1, chance(0.2) ? 1000 : 60) : size;
          const double p = 1 / (1 + std::exp(-shift - (differ ? treatment : 0) - 0.3 * normal()));
          const int up = chance(0.1) ? 0 : chance(0.1) ? seeds : binomial(seeds, p);
          trays.push_back(sown(static_cast<int>(trays.size()), treatment, stratum, kind, seeds, up,
                               losses && chance(0.6) ? whole(0, up) : 0));
        }
    }
    return trays;
  }

  bool chance(double p) { return std::bernoulli_distribution(p)(random_); }

 private:
  int whole(int low, int high) { return std::uniform_int_distribution(low, high)(random_); }
  double normal() { return std::normal_distribution()(random_); }
  int binomial(int n, double p) { return std::binomial_distribution(n, p)(random_); }

  static records::History sown(int number, int treatment, int stratum, int kind, int seeds, int up,
                               int lost) {
    auto tray = in_trial(history("A" + std::to_string(number), seeds,
                                 {{5, up / 3}, {8, up / 2}, {11, up}, {19, up}}),
                         treatment == 0 ? "untreated" : "soak" + std::to_string(treatment));
    const std::string name = std::to_string(stratum);
    if (kind == 1) tray.sowing.block = name;
    if (kind == 2) tray.sowing.lot = "L" + name;
    if (kind == 3) tray.sowing.place = "bench " + name;
    if (kind == 4) {
      tray.sowing.sown.date += std::chrono::days(7 * stratum);
      for (auto& count : tray.counts) count.at.date += std::chrono::days(7 * stratum);
    }
    if (lost > 0) {
      auto& last = tray.counts[2].entered;
      last.kind = records::CountKind::standing;
      last.value = up - lost;
      last.lost = lost;
    }
    return tray;
  }

  std::mt19937_64 random_;
};

analysis::ComparisonQuestion asked() {
  analysis::ComparisonQuestion question;
  question.subject = "T";
  question.trial = records::Trial{};
  question.trial->code = "T";
  question.trial->closes_on = on_day(45);
  question.today = on_day(60);
  question.detail = question.model = false;
  return question;
}

// Words one blank apart, however the lines were broken.
std::string one_line(const std::string& text) {
  std::string made;
  for (const char c : text)
    if (c != '\n' && c != ' ')
      made += c;
    else if (!made.empty() && made.back() != ' ')
      made += ' ';
  return made;
}

bool says(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

double sign(analysis::StandCode code) {
  return code == analysis::StandCode::more ? 1 : code == analysis::StandCode::fewer ? -1 : 0;
}

void check_finding(const analysis::StandFinding& finding, const analysis::StandVerdict& verdict) {
  const auto& model = finding.by_model;
  if (!model.told_apart) {
    CHECK(verdict.ground == analysis::StandGround::confounded);
    return;
  }
  CHECK(model.range.lower <= model.estimate);
  CHECK(model.estimate <= model.range.upper);
  CHECK(model.p_worth <= model.p_better + 1e-12);
  const double claimed = sign(verdict.code);
  if (claimed == 0) return;
  CHECK(claimed * model.estimate > 0);
  CHECK(claimed * (model.p_better - 0.5) > 0.47);
  CHECK(model.units_first >= 2);
  CHECK(model.units_second >= 2);
  // A claim allows for all that are shown, so by itself it is sure too.
  CHECK((claimed > 0 ? model.range.lower : -model.range.upper) >= 0);
}

// The figures of what came up or stands as the screen prints them.
void check_printed(const std::string& screen, const char* name, const Json& stand) {
  const std::string difference = report::points(stand["difference"].get<double>());
  std::string line = std::string(name) + " " + difference;
  if (stand["interval"].is_null())
    line += ", whatever made it";
  else
    line += " (95 %: " +
            report::points_range(stand["interval"]["lower"].get<double>(),
                                 stand["interval"]["upper"].get<double>()) +
            ")";
  CHECK_MESSAGE(says(screen, line), line);
}

void check_screen(const analysis::TreatmentComparison& answer) {
  report::Style style;
  style.width = 200;
  const std::string screen = one_line(report::comparison_text(style, answer, false));
  const Json json = Json::parse(report::comparison_json(answer));
  CAPTURE(screen);
  for (const auto& contrast : json["contrasts"]) {
    CHECK(says(screen, one_line(contrast["verdict"]["text"].get<std::string>())));
    const auto& stand = contrast["stand"];
    if (stand["difference"].is_null()) continue;
    const bool lost = !stand["standing"].is_null();
    check_printed(screen, lost ? "difference, came up" : "difference in stand", stand);
    if (lost) check_printed(screen, "difference, standing", stand["standing"]);
    const std::string first = contrast["verdict"]["text"].get<std::string>();
    const std::string code = stand["verdict"]["code"].get<std::string>();
    CHECK((code == "more") == says(first, lost ? "more came up" : ": more seedlings"));
    CHECK((code == "fewer") == says(first, lost ? "fewer came up" : ": fewer seedlings"));
    if (!lost) continue;
    const std::string standing = stand["standing"]["verdict"]["code"].get<std::string>();
    CHECK((standing == "more") == says(first, "more stand"));
    CHECK((standing == "fewer") == says(first, "fewer stand"));
  }
  for (const auto& treatment : json["treatments"]) {
    const auto& stand = treatment["standardised"]["came_up"];
    if (stand.is_null()) continue;
    CHECK(stand["interval"]["lower"] <= stand["fraction"]);
    CHECK(stand["fraction"] <= stand["interval"]["upper"]);
    CHECK(says(screen, report::percent(stand["fraction"].get<double>()) + " " +
                           report::percent_range(stand["interval"]["lower"].get<double>(),
                                                 stand["interval"]["upper"].get<double>())));
  }
}

void check_mirrored(const analysis::Contrast& one, const analysis::Contrast& other) {
  CHECK(sign(one.verdicts.came_up.code) == -sign(other.verdicts.came_up.code));
  CHECK(one.verdicts.came_up.ground == other.verdicts.came_up.ground);
  if (!one.stand.came_up || !one.stand.came_up->by_model.told_apart) return;
  const auto& a = one.stand.came_up->by_model;
  const auto& b = other.stand.came_up->by_model;
  CHECK_WITHIN(a.estimate, -b.estimate, 1e-9);
  CHECK_WITHIN(a.range.lower, -b.range.upper, 1e-6);
  CHECK_WITHIN(a.p_better, 1 - b.p_better, 1e-6);
  CHECK_WITHIN(a.p_worth, b.p_worth_less, 1e-6);
  CHECK_WITHIN(a.p_within, b.p_within, 1e-6);
}

}  // namespace

TEST_CASE("of any trial the answer does not contradict itself, on the screen or in JSON") {
  const char* wanted = std::getenv("PLUMULE_TRIALS");
  const int trials = wanted ? std::atoi(wanted) : rounds(150);
  Bench bench(20260301);
  int compared = 0, claimed = 0, tied = 0, losses = 0;
  for (int i = 0; i < trials; ++i) {
    CAPTURE(i);
    const auto trays = bench.trial();
    analysis::TreatmentComparison answer;
    try {
      answer = compare_treatments(trays, asked());
    } catch (const records::Refused&) {
      continue;  // fewer than two treatments
    }
    ++compared;
    for (const auto& one : answer.contrasts) {
      if (one.stand.came_up) check_finding(*one.stand.came_up, one.verdicts.came_up);
      if (one.stand.standing) check_finding(*one.stand.standing, *one.verdicts.standing);
      claimed += analysis::claims(one.verdicts.came_up) ? 1 : 0;
      losses += one.stand.standing ? 1 : 0;
      tied += one.stand.came_up && !one.stand.came_up->by_model.told_apart ? 1 : 0;
    }
    check_screen(answer);
    if (answer.layout.treatments.size() != 2) continue;
    auto turned = asked();
    turned.against = answer.contrasts.front().treatment;
    check_mirrored(answer.contrasts.front(), compare_treatments(trays, turned).contrasts.front());
  }
  // The draws reach what they are there for.
  CHECK(compared > trials / 2);
  CHECK(claimed > trials / 50);
  CHECK(tied > trials / 50);
  CHECK(losses > trials / 20);
}
