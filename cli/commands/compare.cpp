// Did the treatment help: more, or sooner, or neither?
#include <fmt/format.h>

#include <set>

#include "analysis/comparison/treatment_comparison.hpp"
#include "cli/asking.hpp"
#include "cli/opening.hpp"
#include "cli/options/own_rho.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/journal/sowings_changed.hpp"
#include "logbook/record/last_day.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"
#include "report/comparison.hpp"
#include "report/own_rho.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "a trial; or a lot, a crop or sowings", 0, any_number);
  options.text("treatment", "TREATMENT", "only this one");
  options.text("against", "TREATMENT", "what the others are held against; else untreated");
  options.points("worth", "the smallest difference in stand worth having; 10 unless told");
  options.choice("counting", "WHAT", {"root", "shoot", "usable"},
                 "only the sowings that count this, where there are others");
  options.flag("full", "all other intervals and tests, every pair, the models");
  declare_statistics(options);
}

// The trial that is meant where none is named: the only one, else the only one still open.
std::string only_trial(logbook::Logbook& logbook) {
  const auto trials = logbook::trials(logbook);
  if (trials.size() == 1) return trials.front().code;
  if (trials.empty())
    throw records::Refused(
        "There is no trial in this logbook. Name treatments: plumule compare --treatment TREATMENT "
        "--against TREATMENT");
  std::set<std::string> open;
  for (const auto& sowing : logbook::open_sowings(logbook))
    if (!sowing.trial.empty()) open.insert(sowing.trial);
  if (open.size() == 1) return *open.begin();
  std::vector<std::string> codes;
  codes.reserve(trials.size());
  for (const auto& trial : trials) codes.push_back(trial.code);
  throw records::Refused("Which trial? There are " + listed(codes) + ": plumule compare " +
                         codes.back());
}

// The trial that all of them belong to.
std::optional<records::Trial> trial_of(logbook::Logbook& logbook,
                                       const std::vector<records::History>& histories) {
  if (histories.empty() || histories.front().sowing.trial.empty()) return std::nullopt;
  for (const auto& history : histories)
    if (history.sowing.trial != histories.front().sowing.trial) return std::nullopt;
  return logbook::find_trial(logbook, histories.front().sowing.trial);
}

struct Subject {
  std::string name;
  std::optional<records::Trial> trial;
  std::vector<records::History> histories;
  std::optional<int> picked_of;  // sowings of one trial picked by hand: how many it has
};

Subject subject_of(logbook::Logbook& logbook, const Arguments& arguments) {
  Subject subject;
  auto names = named_words(logbook, arguments);
  const bool pair = names.empty() && arguments.has("treatment") && arguments.has("against");
  const auto counting = arguments.text("counting");
  const auto asked = [&](const records::History& history) {
    if (counting && records::word(history.sowing.counting) != *counting) return false;
    const std::string& treatment = history.sowing.treatment;
    return !pair || treatment == *arguments.text("treatment") ||
           treatment == *arguments.text("against");
  };
  if (names.empty() && !pair) names.push_back({logbook::NameKind::trial, only_trial(logbook), 0});
  std::vector<std::string> words;
  words.reserve(names.size());
  for (const auto& name : names) words.push_back(name.name);
  if (names.size() == 1 && names.front().kind == logbook::NameKind::trial)
    subject.trial = logbook::trial_named(logbook, names.front().name);
  each_named(logbook, names, [&](const records::History& history) {
    if (asked(history))
      subject.histories.push_back(
          arguments.has("today") ? analysis::as_of(history, *arguments.date("today")) : history);
  });
  const bool picked = !subject.trial;
  if (picked) subject.trial = trial_of(logbook, subject.histories);
  if (picked && subject.trial) {
    int all = 0;
    each_named(logbook, {{logbook::NameKind::trial, subject.trial->code, subject.trial->id}},
               [&](const records::History& history) { all += asked(history) ? 1 : 0; });
    if (all > static_cast<int>(subject.histories.size())) subject.picked_of = all;
  }
  if (counting && subject.histories.empty())
    throw records::Refused(
        fmt::format("{} has no sowing that counts {}.", listed(words), *counting));
  if (subject.trial) {
    subject.trial->moved = logbook::last_day_moved(logbook, *subject.trial);
    subject.trial->sowings_changed = logbook::sowings_changed(logbook, *subject.trial);
  }
  if (words.empty() && subject.trial) words.push_back(subject.trial->code);
  subject.name = words.empty() ? "The logbook" : listed(words);
  return subject;
}

int run(Context& context, const Arguments& arguments) {
  const auto statistics = statistics_options(arguments);
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  analysis::ComparisonQuestion question;
  question.treatments = logbook::treatments(logbook);
  for (const char* option : {"treatment", "against"})
    if (arguments.has(option)) logbook::treatment_named(logbook, *arguments.text(option));
  Subject subject = subject_of(logbook, arguments);
  question.subject = subject.name;
  if (arguments.words().empty() && subject.trial) question.typed = subject.trial->code;
  for (const std::string& word : arguments.words()) {
    const bool quoted = word.find(' ') != std::string::npos;
    question.typed += (question.typed.empty() ? "" : " ") + (quoted ? '"' + word + '"' : word);
  }
  question.trial = subject.trial;
  question.picked_of = subject.picked_of;
  question.treatment = arguments.text("treatment");
  question.against = arguments.text("against");
  question.today = context.today;
  question.level = statistics.level;
  question.rho = rho_of(logbook, arguments);
  question.seed = statistics.seed;
  question.model = statistics.model;
  question.family = statistics.family;
  if (const auto worth = arguments.number("worth")) question.worth = worth;
  question.detail = context.json || arguments.flag("full");
  const auto finding = analysis::compare_treatments(subject.histories, question);
  if (context.json)
    context.screen.line(report::comparison_json(finding, in_words));
  else
    context.screen.print(
        report::comparison_text(style_of(context), finding, arguments.flag("full")) +
        report::own_rho_text(style_of(context), question.rho));
  return 0;
}

}  // namespace

extern const Command compare_command;
const Command compare_command{
    .name = "compare",
    .group = Group::answer,
    .summary = "did the treatment help?",
    .about =
        "Each treatment of a trial against untreated: more seedlings, or sooner, or neither, or "
        "too small a trial to tell and what would tell. While the trial is open there is no "
        "verdict, for looking every day and stopping when it looks good deceives.",
    .example = "plumule compare SOAK-26",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
