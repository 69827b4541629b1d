// A trial's plan is fixed before its first count: its last day and the difference worth having.
#include "cli/options/trial_fields.hpp"

#include <fmt/format.h>

#include "records/number_check.hpp"

namespace plumule::cli {
namespace {

void add(std::vector<std::string>& to, std::string_view name, const std::string& before,
         const std::string& after) {
  if (before == after) return;
  to.push_back(fmt::format("{}: {}, was {}", name, after.empty() ? "none" : after,
                           before.empty() ? "none" : before));
}

}  // namespace

void declare_trial_plan(Options& options) {
  options.text("question", "WORDS", "what the trial asks");
  options.erasable("question");
  options.date("until", "its planned last day");
  options.whole("every", "DAYS", "planned looks: every so many days", 1, 365);
  options.points("worth", "the smallest difference in stand worth having, such as 10");
  options.flag("blind", "earlier figures are hidden in the walk");
  options.flag("open-eyed", "they are not");
}

bool gives_trial_plan(const Arguments& arguments) {
  for (const char* name : {"question", "until", "every", "worth", "blind", "open-eyed"})
    if (arguments.has(name)) return true;
  return false;
}

bench::TrialPlan plan_typed(const Arguments& arguments) {
  bench::TrialPlan plan;
  plan.question = arguments.text("question");
  plan.until = arguments.date("until");
  plan.every = arguments.whole("every");
  plan.worth = arguments.number("worth");
  if (arguments.flag("blind") && arguments.flag("open-eyed"))
    throw WrongUsage("--blind and --open-eyed are both given. Which is it?");
  if (arguments.flag("blind") || arguments.flag("open-eyed")) plan.blind = arguments.flag("blind");
  return plan;
}

void check_looks(const bench::TrialPlan& plan, const std::optional<records::Date>& planned,
                 records::Date sown) {
  if (!plan.every) return;
  const auto last = plan.until ? plan.until : planned;
  if (!last)
    throw WrongUsage("--every plans looks up to the last day: give that too, --until DATE.");
  if (*last <= sown) throw WrongUsage("--until: the last day comes after the sowing.");
}

std::vector<std::string> differences(const records::Trial& before, const records::Trial& after) {
  std::vector<std::string> all;
  const auto day = [](const std::optional<records::Date>& date) {
    return date ? records::to_text(*date) : std::string();
  };
  const auto share = [](const std::optional<double>& value) {
    return value ? records::shown(*value * 100) + " points" : std::string();
  };
  add(all, "question", before.question, after.question);
  add(all, "last day", day(before.closes_on), day(after.closes_on));
  add(all, "worth", share(before.worth), share(after.worth));
  add(all, "blind", before.blind ? "yes" : "no", after.blind ? "yes" : "no");
  if (before.inspections != after.inspections)
    add(all, "planned looks", std::to_string(before.inspections.size()),
        std::to_string(after.inspections.size()));
  return all;
}

bench::TrialAsked trial_typed(const Arguments& arguments, bool whole_trial) {
  bench::TrialAsked asked;
  asked.name = arguments.text("trial");
  if (asked.name == "none") asked.name = "";
  asked.plan = plan_typed(arguments);
  if (!asked.name && asked.plan.given())
    throw WrongUsage("Which trial? --trial NAME beside its question or last day.");
  asked.in_block = arguments.has("block") || arguments.has("blocks");
  asked.may_be_new = whole_trial || arguments.flag("new");
  return asked;
}

}  // namespace plumule::cli
