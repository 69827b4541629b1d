// What came up: percentages, days and all indices, by sowing or any other grouping.
#include <fmt/format.h>

#include <algorithm>

#include "analysis/summary/summary.hpp"
#include "cli/asking.hpp"
#include "cli/opening.hpp"
#include "cli/options/own_rho.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/label.hpp"
#include "report/own_rho.hpp"
#include "report/summary.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "a sowing, lot, treatment, trial or crop; none: all of the logbook", 0,
                any_number);
  options.choice("by", "GROUPING", {"sowing", "lot", "treatment", "trial", "crop", "season"},
                 "what to put together; a line a sowing unless told");
  options.flag("full", "the whole of each group: other intervals, gaps, model, agreement");
  options.number("by-day", "DAY", "how many were up by that day from sowing", 0, 3650);
  options.flag("lag", "let the model have a time before which none can come");
  declare_statistics(options);
}

analysis::SummaryBy grouping(const std::string& word) {
  if (word == "lot") return analysis::SummaryBy::lot;
  if (word == "treatment") return analysis::SummaryBy::treatment;
  if (word == "trial") return analysis::SummaryBy::trial;
  if (word == "crop") return analysis::SummaryBy::crop;
  if (word == "season") return analysis::SummaryBy::season;
  return analysis::SummaryBy::sowing;
}

// Prints groups as they come: as soon as a second one does, both are lines of a list.
class Printer {
 public:
  Printer(const Context& context, std::string by, double level, bool full)
      : context_(context),
        style_(style_of(context)),
        by_(std::move(by)),
        level_(level),
        full_(full) {}

  void operator()(const analysis::Group& group) {
    ++groups_;
    notes_.take(group);
    if (full_) {
      print(report::summary_detail(style_, group, true) + "\n");
    } else if (groups_ > 1) {
      if (first_) {
        print(report::summary_header(style_, by_, level_, group.by_day));
        print(report::summary_line(style_, *first_));
        first_.reset();
      }
      print(report::summary_line(style_, group));
    } else {
      first_ = group;
    }
  }

  void finish() {
    if (groups_ == 0) print("No sowings here yet.\n");
    if (first_) print(report::summary_detail(style_, *first_, false));
    print(notes_.text(style_, !full_ && groups_ > 1));
  }

 private:
  void print(const std::string& text) const { context_.screen.print(text); }

  const Context& context_;
  report::Style style_;
  std::string by_;
  double level_;
  bool full_;
  std::size_t groups_ = 0;
  std::optional<analysis::Group> first_;
  report::SummaryNotes notes_;
};

// All of a logbook lot by lot, or trial by trial, so that no more than one is held at a time; those
// of none last.
void one_by_one(logbook::Logbook& logbook, bool by_lot, analysis::SummaryStream& stream) {
  const auto look_ahead = [&](const records::History& history) { stream.look_ahead(history); };
  std::vector<std::string> codes;
  if (by_lot)
    for (const auto& lot : logbook::lots(logbook)) codes.push_back(lot.code);
  else
    for (const auto& trial : logbook::trials(logbook)) codes.push_back(trial.code);
  std::sort(codes.begin(), codes.end(),
            [](const std::string& a, const std::string& b) { return records::label_before(a, b); });
  codes.emplace_back();
  if (by_lot) each_named(logbook, {}, look_ahead, true);
  for (const std::string& code : codes) {
    logbook::Selection selection;
    (by_lot ? selection.lot : selection.trial) = code;
    if (!by_lot && !code.empty()) logbook::each_history(logbook, selection, look_ahead);
    logbook::each_history(logbook, selection,
                          [&](const records::History& history) { stream.take(history); });
    stream.finish();
  }
}

int run(Context& context, const Arguments& arguments) {
  const std::string by = arguments.text("by").value_or("sowing");
  analysis::SummaryQuestion question;
  question.by = grouping(by);
  question.options = statistics_options(arguments);
  question.options.by_day = arguments.number("by-day");
  if (question.options.by_day && *question.options.by_day <= 0)
    throw WrongUsage("--by-day 0: nothing is up on the day of sowing. Name a later one.");
  question.options.lag = arguments.flag("lag");
  question.options.detail = context.json || arguments.flag("full");

  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  question.options.rho = rho_of(logbook, arguments);
  const auto names = named_words(logbook, arguments);
  question.treatments = logbook::treatments(logbook);
  question.label_shared = shared_labels(logbook);

  Printer text(context, by, question.options.level, arguments.flag("full"));
  bool first = true;
  const auto give = [&](const analysis::Group& group) {
    if (!context.json) {
      text(group);
      return;
    }
    context.screen.print(first ? "\n" : ",\n");
    context.screen.print(report::summary_json(group));
    first = false;
  };
  if (context.json)
    context.screen.print(
        fmt::format("{{\"by\": \"{}\", \"level\": {}, \"groups\": [", by, question.options.level));
  analysis::SummaryStream stream(question, give);
  if (names.empty() && (by == "lot" || by == "trial")) {
    one_by_one(logbook, by == "lot", stream);
  } else {
    if (stream.looks_ahead())
      each_named(
          logbook, names, [&](const records::History& history) { stream.look_ahead(history); },
          true);
    each_named(logbook, names, [&](const records::History& history) { stream.take(history); });
    stream.finish();
  }
  if (context.json)
    context.screen.print("\n]}\n");
  else
    text.finish();
  if (!context.json)
    context.screen.print(report::own_rho_text(style_of(context), question.options.rho));
  return 0;
}

}  // namespace

extern const Command summary_command;
const Command summary_command{
    .name = "summary",
    .group = Group::answer,
    .summary = "what came up, and when",
    .about =
        "Sown, up, the percentage with an interval that knows that seeds of one sowing are alike, "
        "and the days: a line each, or all indices where there is one group. Sowings that count "
        "different things are never put together. `plumule explain WORD` tells what a figure "
        "means.",
    .example = "plumule summary SOAK-26 --by treatment",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
