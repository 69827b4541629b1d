#include "analysis/comparison/treatment_comparison.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "analysis/comparison/judging.hpp"
#include "analysis/comparison/treatment_courses.hpp"
#include "analysis/summary/group_builder.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::analysis {

namespace {

std::size_t treatment_named(const TrialLayout& layout, const std::string& name,
                            const std::string& subject) {
  const auto at = std::find(layout.treatments.begin(), layout.treatments.end(), name);
  if (at == layout.treatments.end())
    throw records::Refused(subject + " has no sowing of treatment " + name + ". It has " +
                           records::listed(layout.treatments) + ".");
  return static_cast<std::size_t>(at - layout.treatments.begin());
}

// What the others are held against: the one asked for, else untreated, else the first by name.
std::size_t held_against(const TrialLayout& layout, const ComparisonQuestion& question) {
  if (question.against) return treatment_named(layout, *question.against, question.subject);
  const auto at = std::find(layout.treatments.begin(), layout.treatments.end(), records::untreated);
  if (at == layout.treatments.end()) return 0;
  return static_cast<std::size_t>(at - layout.treatments.begin());
}

using Family = std::optional<stats::TimeFamily>;

// The family of times for all models of the answer: as asked, else the likeliest where any is
// fitted.
Family family_for(const TreatmentComparison& answer, const ComparisonQuestion& question,
                  std::size_t against) {
  if (question.family) return question.family;
  const bool shown = question.detail && question.model;
  const bool needed = !answer.state.open() && any_uneven(answer.layout, against);
  return shown || needed ? likeliest_family(answer.layout) : std::nullopt;
}

Group treatment_group(const TrialLayout& layout, std::span<const records::History> histories,
                      std::size_t treatment, const ComparisonQuestion& question,
                      const Family& family) {
  const auto& first = histories[layout.sowings.front().place].sowing;
  GroupBuilder builder(layout.treatments[treatment], first.counting, first.unit);
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment) continue;
    for (const std::size_t i : unit.sowings) {
      const auto& sowing = layout.sowings[i];
      builder.add(histories[sowing.place], sowing.course, sowing.name, true,
                  sowing.stopped ? Followed::stopped : Followed::to_its_end);
    }
  }
  GroupOptions options;
  options.level = question.level;
  options.rho = question.rho;
  // What is shown first is the model's own (treatment_stands).
  options.range = question.detail;
  options.detail = question.detail;
  options.model = question.model;
  options.family = family;
  options.seed = question.seed;
  return builder.finish(options);
}

ContrastQuestion contrast_question(const TreatmentComparison& answer,
                                   const ComparisonQuestion& question, const Family& family) {
  ContrastQuestion each;
  each.state = answer.state;
  each.after_looking = answer.after_looking;
  each.evidence = question.detail;
  each.stand.open = answer.state.open();
  each.stand.worth = answer.worth;
  each.stand.level = question.level;
  each.stand.seed = question.seed;
  each.stand.detail = question.detail;
  each.speed.open = answer.state.open();
  each.speed.seed = question.seed;
  each.speed.level = question.level;
  each.speed.detail = question.detail && question.model;
  each.speed.t50 = question.detail;
  each.speed.family = family;
  return each;
}

// What the model of the stand says of each treatment by itself.
std::vector<TreatmentStand> treatment_stands(const TrialLayout& layout, const StandModels& models,
                                             double level) {
  std::vector<TreatmentStand> stands;
  for (std::size_t i = 0; i < layout.treatments.size(); ++i) {
    auto& stand = stands.emplace_back();
    stand.came_up = modelled_stand(models.came_up, i, level);
    if (models.standing) stand.standing = modelled_stand(*models.standing, i, level);
  }
  return stands;
}

// A curve takes every tray as differing in the dose alone: it is drawn where no contrast is
// withheld for what its trays lie in, for jars or for looks that stopped, and where nobody had
// looked.
bool doses_can_be_told(const TreatmentComparison& answer) {
  return !answer.after_looking &&
         std::none_of(answer.contrasts.begin(), answer.contrasts.end(), [](const Contrast& one) {
           const auto ground = one.verdicts.came_up.ground;
           return ground == StandGround::confounded || ground == StandGround::jars_partly_known ||
                  ground == StandGround::not_settled;
         });
}

std::vector<Contrast*> pointers(std::vector<Contrast>& contrasts) {
  std::vector<Contrast*> all;
  for (auto& contrast : contrasts) all.push_back(&contrast);
  return all;
}

// Whether most of the sowings that stood until then were looked at on the day of the close or after
// it: that look finishes the trial. Where only a few were, it is left out: the others would seem to
// have been looked at no more while seeds still came up.
bool finished_by_most(std::span<const records::History> histories, records::Date closed_on) {
  int stood = 0;
  int seen = 0;
  for (const auto& history : histories) {
    const auto& ending = history.sowing.ending;
    if (ending && ending->at.date < closed_on) continue;
    ++stood;
    const auto last = last_counted(history);
    if (last && *last >= closed_on) ++seen;
  }
  return 2 * seen > stood;
}

// Those that had more up later than when the trial closed, or lost some that stood then.
void look_after_close(TreatmentComparison& answer, std::span<const records::History> histories) {
  for (const auto& sowing : answer.layout.sowings) {
    const auto later = sowing_course(histories[sowing.place]);
    if (later.up > sowing.course.up) answer.more_after_close.push_back(sowing.name);
    if (later.lost > sowing.course.lost) answer.lost_after_close.push_back(sowing.name);
  }
}

[[noreturn]] void refuse_one_treatment(const TrialLayout& layout,
                                       const ComparisonQuestion& question) {
  throw records::Refused(question.subject + ": one treatment only (" +
                             records::listed(layout.treatments) +
                             "), so there is nothing to compare.",
                         {{.advice = layout.several_lots ? records::Advice::put_lots_side_by_side
                                                         : records::Advice::show_figures,
                           .said = question.typed}});
}

// What most sowings count is compared. Where as many count one thing as another there is no most,
// and the grower is asked.
void refuse_tie(std::span<const records::History> histories, const std::string& subject) {
  std::map<records::Counting, int> times;
  for (const auto& history : histories) ++times[history.sowing.counting];
  std::string most;
  int first = 0;
  for (const auto& [counting, number] : times)
    if (number > first) {
      first = number;
      most = records::word(counting);
    }
  for (const auto& [counting, number] : times)
    if (number == first && records::word(counting) != most)
      throw records::Refused(
          fmt::format("{0}: {1} sowings count {2} and {1} count {3}, which are never put together.",
                      subject, first, most, records::word(counting)),
          {{.advice = records::Advice::choose_counting, .name = subject, .said = most}});
}

stats::GlobalTest global_test(const TrialLayout& layout, std::uint64_t seed) {
  std::vector<stats::TreatedUnit> units;
  for (const auto& unit : layout.units)
    if (const auto stand = unit_stand(layout, unit))
      units.push_back({unit.code, unit.stratum, static_cast<int>(unit.treatment), stand->fraction});
  return stats::global_randomisation_test(units, seed);
}

}  // namespace

TreatmentComparison compare_treatments(std::span<const records::History> histories,
                                       const ComparisonQuestion& question) {
  if (histories.empty()) throw records::Refused(question.subject + " has no sowings yet.");
  refuse_tie(histories, question.subject);
  TreatmentComparison answer;
  answer.subject = question.subject;
  if (question.trial) answer.question = question.trial->question;
  answer.state = trial_state(histories, question.trial, question.today);
  answer.worth = question.worth.value_or(
      question.trial && question.trial->worth ? *question.trial->worth : 0.10);
  answer.level = question.level;
  answer.seed = question.seed;
  answer.picked_of = question.picked_of;
  answer.after_looking = answer.state.after_looking() || answer.picked_of.has_value();
  std::vector<records::History> closed;  // as known at the close: later counts change no verdict
  if (const auto day = answer.state.closed_on) {
    const bool finished = finished_by_most(histories, *day);
    for (const auto& history : histories) closed.push_back(as_closed(history, *day, finished));
  }
  const std::span<const records::History> judged =
      answer.state.closed_on ? std::span<const records::History>(closed) : histories;
  answer.layout = trial_layout(judged, question.treatments);
  const auto& layout = answer.layout;
  if (answer.state.closed_on) look_after_close(answer, histories);
  const std::size_t against = held_against(layout, question);
  if (layout.treatments.size() < 2) refuse_one_treatment(layout, question);
  if (question.treatment &&
      treatment_named(layout, *question.treatment, question.subject) == against)
    throw records::Refused(*question.treatment + " is what the others are held against.",
                           {{records::Advice::name_against}});
  answer.against = layout.treatments[against];

  const Family times = family_for(answer, question, against);
  for (std::size_t i = 0; i < layout.treatments.size(); ++i)
    answer.treatments.push_back(treatment_group(layout, judged, i, question, times));
  const auto models = stand_models(layout, question.rho, question.detail);
  answer.prior = models.prior;
  answer.rho90 = models.rho90;
  answer.stands = treatment_stands(layout, models, question.level);
  const auto each = contrast_question(answer, question, times);
  for (std::size_t i = 0; i < layout.treatments.size(); ++i)
    if (i != against)
      answer.contrasts.push_back(contrast(layout, models, judged, each, i, against));
  const auto family = pointers(answer.contrasts);
  judge_together(family);
  if (!answer.state.open()) {
    adjust(family, &Contrast::holm);
    reckon_trays_needed(family, layout, models, answer.worth);
  }
  // One of several that is asked for by itself is claimed no sooner than beside the others.
  if (question.treatment)
    std::erase_if(answer.contrasts,
                  [&](const Contrast& one) { return one.treatment != *question.treatment; });
  if (answer.state.open() || layout.treatments.size() < 3 || question.treatment) return answer;
  answer.global = global_test(layout, question.seed);
  if (!layout.several_trials && doses_can_be_told(answer))
    answer.dose = dose_answer(layout, question.treatments, models.prior, question.level);
  if (!question.detail) return answer;
  for (std::size_t i = 0; i < layout.treatments.size(); ++i)
    for (std::size_t j = i + 1; j < layout.treatments.size(); ++j)
      if (i != against && j != against)
        answer.pairs.push_back(contrast(layout, models, judged, each, i, j));
  auto all = pointers(answer.contrasts);
  for (Contrast* pair : pointers(answer.pairs)) all.push_back(pair);
  judge_together(all, answer.contrasts.size());
  adjust(all, &Contrast::holm_pairs);
  return answer;
}

}  // namespace plumule::analysis
