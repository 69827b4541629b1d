// x of n reckoned, without a logbook.
#include <fmt/format.h>

#include "analysis/proportion_reckoning.hpp"
#include "cli/asking.hpp"
#include "records/refused.hpp"
#include "report/reckoning.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("X/N", "X came up of N; a second one is held against the first", 1, 2);
  options.text("level", "LEVEL", "of the intervals: 0.95 unless told");
  options.choice("sides", "SIDE", {"both", "lower", "upper"}, "a limit on one side only");
  options.flag("correction", "with a continuity correction, where one is published");
}

analysis::XOfN x_of_n(const std::string& word) {
  const std::size_t slash = word.find('/');
  const auto x = read_whole(word.substr(0, slash));
  std::optional<std::int64_t> n;
  if (slash != std::string::npos) n = read_whole(word.substr(slash + 1));
  if (!x || !n)
    throw records::Refused(fmt::format("\"{}\" is not X/N. Seven of ten is written 7/10.", word));
  if (*x < 0 || *n < 0) throw records::Refused(fmt::format("{}: a count can't be below 0.", word));
  if (*x > *n)
    throw records::Refused(
        fmt::format("{}: more came up than were sown. Seven of ten is 7/10.", word));
  if (*n > 1'000'000'000)
    throw records::Refused(fmt::format("{}: at most 1,000,000,000 can be reckoned with.", word));
  return {*x, *n};
}

int run(Context& context, const Arguments& arguments) {
  analysis::ReckonQuestion question;
  question.level = level_of(arguments);
  const std::string sides = arguments.text("sides").value_or("both");
  if (sides == "lower") question.side = stats::Side::lower;
  if (sides == "upper") question.side = stats::Side::upper;
  question.correction = arguments.flag("correction");
  const auto& words = arguments.words();
  const auto first = x_of_n(words[0]);
  const auto finding = words.size() == 1 ? analysis::reckon(first, question)
                                         : analysis::reckon(first, x_of_n(words[1]), question);
  if (context.json)
    context.screen.line(report::reckon_json(finding));
  else
    context.screen.print(report::reckon_text(style_of(context), finding));
  return 0;
}

}  // namespace

extern const Command reckon_command;
const Command reckon_command{
    .name = "reckon",
    .group = Group::answer,
    .summary = "what 7 of 10 can tell",
    .about =
        "Intervals for one proportion; for two also their difference, ratio and odds ratio, and "
        "exact tests. Needs no logbook, and takes seeds as independent.",
    .example = "plumule reckon 18/20 11/20",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
