// One question a sowing. A slip is put right by going back: that is a correction and kept as one.
#include "cli/walk.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <set>

#include "analysis/due_today.hpp"
#include "cli/asking.hpp"
#include "cli/counting.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/trials.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

struct Step {
  records::Sowing sowing;
  std::optional<records::Count> before;  // the last look before this one
  std::int64_t lost = 0;                 // by then
  std::string other;                     // who has counted it at this moment already
  bool due = false;                      // `today` asks for it
  bool blind = false;
  bool answered = false;
  bool not_looked = false;
  std::string aside;                      // what it has saved is this second reading
  std::optional<records::Entered> given;  // what this walk has saved
};

extern "C" void on_break(int) {}

// While it lives, Ctrl-C ends the wait for an answer and not the program: what was answered is
// kept, and that is said.
class Breaking {
 public:
  Breaking() {
    struct sigaction mild = {};
    mild.sa_handler = on_break;  // without SA_RESTART: the read returns
    sigaction(SIGINT, &mild, &before_);
  }
  Breaking(const Breaking&) = delete;
  Breaking& operator=(const Breaking&) = delete;
  ~Breaking() { sigaction(SIGINT, &before_, nullptr); }

 private:
  struct sigaction before_ = {};
};

std::string lowered(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

bool is_one_of(const std::string& line, std::initializer_list<const char*> words) {
  const std::string low = lowered(line);
  return std::any_of(words.begin(), words.end(), [&](const char* word) { return low == word; });
}

std::optional<std::string> read_line() {
  std::fflush(stdout);
  char* buffer = nullptr;
  std::size_t room = 0;
  const ssize_t length = ::getline(&buffer, &room, stdin);
  std::string line(buffer, length > 0 ? static_cast<std::size_t>(length) : 0);
  std::free(buffer);
  // The end of input and a break leave the line open, as does an answer from a pipe.
  if (length < 0 || isatty(STDIN_FILENO) != 1) std::fputc('\n', stdout);
  if (length < 0) return {};
  const std::size_t from = line.find_first_not_of(" \t\r\n");
  if (from == std::string::npos) return "";
  return line.substr(from, line.find_last_not_of(" \t\r\n") - from + 1);
}

// Whether that person has a second reading of that moment.
bool has_read(logbook::Logbook& logbook, records::Id sowing, const records::Moment& at,
              const std::string& by) {
  const std::vector<records::SetAside> readings = logbook::second_readings_of(logbook, sowing);
  return std::any_of(readings.begin(), readings.end(), [&](const records::SetAside& reading) {
    return reading.count.at.minutes() == at.minutes() && reading.count.by == by;
  });
}

// The labels that `today` asks for on that day, counted already or not.
std::set<std::string> due_on(logbook::Logbook& logbook, records::Date day) {
  const auto finding =
      analysis::due_today(histories_on_the_bench(logbook), logbook::trials(logbook), day);
  std::set<std::string> labels;
  for (const auto& due : finding.due) labels.insert(due.sowing.name);
  for (const auto& counted : finding.counted) labels.insert(counted.name);
  for (const auto& late : finding.should_be_up)
    if (late.due || late.sowing.last_on == day) labels.insert(late.sowing.name);
  return labels;
}

// Those that are due first, each part in walking order.
std::vector<Step> steps_of(const Context& context, logbook::Logbook& logbook,
                           const records::Moment& at, std::int64_t& counted_already) {
  std::vector<Step> steps;
  const std::set<std::string> due = due_on(logbook, at.date);
  for (const records::Sowing& sowing : logbook::open_sowings(logbook)) {
    if (sowing.sown.date >= at.date) continue;
    const std::vector<records::Count> counts = logbook::counts_of(logbook, sowing.id);
    const auto there = look_at(counts, at);
    if (there && (there->by == context.by || there->by.empty() ||
                  has_read(logbook, sowing.id, at, context.by))) {
      ++counted_already;
      continue;
    }
    Step step;
    step.sowing = sowing;
    step.before = look_before(counts, at);
    step.lost = lost_before(counts, at);
    step.due = due.count(sowing.label) > 0;
    step.blind = logbook::is_blind(logbook, sowing.trial);
    if (there) step.other = there->by;
    steps.push_back(step);
  }
  std::stable_partition(steps.begin(), steps.end(), [](const Step& step) { return step.due; });
  return steps;
}

// "6 sowings to count, 3 counted already; 8 more, which are not due, come last".
std::string to_walk(const std::vector<Step>& steps, std::size_t due, std::int64_t counted_already) {
  const auto rest = static_cast<std::int64_t>(steps.size() - due);
  std::string text = due == 0 ? "nothing is due"
                              : number_of(static_cast<std::int64_t>(due), "sowing") + " to count";
  if (counted_already > 0) text += fmt::format(", {} counted already", counted_already);
  if (rest == 0) return text;
  if (due == 0)
    return text + "; " + number_of(rest, "sowing is open", "sowings are open") + " all the same";
  return text + fmt::format("; {} more, which {} not due, {} last", rest, rest == 1 ? "is" : "are",
                            rest == 1 ? "comes" : "come");
}

std::string question(const Context& context, const Step& step, std::size_t index, std::size_t all,
                     std::size_t widest) {
  constexpr int narrow = 60;  // columns: a question stays on one line
  std::string last = sown_amount(step.sowing) +
                     (context.screen.width() < narrow ? ", first look" : ", not looked at before");
  if (step.before && step.blind)
    last = "blind";
  else if (step.before)
    last = day_of(step.before->at, context.today) + ": " + up_of(step.sowing, step.before->total);
  if (step.before && !step.blind && step.lost > 0)
    last += ", " + std::to_string(step.before->total - step.lost) + " standing";
  if (!step.other.empty()) last += " (" + step.other + " has counted it)";
  if (step.given) last += "; now " + records::to_text(*step.given);
  std::string label = step.sowing.label;
  label.resize(std::max(widest, label.size()), ' ');
  return fmt::format("{}  {:>3}/{:<3} {}{} ", context.screen.toned(Tone::strong, label), index + 1,
                     all, last, step.sowing.taken_out ? "; new ones:" : ":");
}

// Whether it is a pair of that very label: K3=12, K3+3.
bool names_label(const std::string& line, const std::string& label) {
  return line.size() > label.size() && (line[label.size()] == '=' || line[label.size()] == '+') &&
         records::same_label(line.substr(0, label.size()), label);
}

// A pair in a sentence as it is typed here: without its label.
std::string without_label(std::string text, const std::string& label) {
  for (const char sign : {'=', '+'}) {
    const std::string pair = ' ' + label + sign;
    for (auto at = text.find(pair); at != std::string::npos; at = text.find(pair, at + 1))
      text.erase(at + 1, label.size() + (sign == '=' ? 1 : 0));
  }
  return text;
}

records::Entered answer_of(const Step& step, const std::string& typed) {
  const std::string& label = step.sowing.label;
  const std::string line = names_label(typed, label) ? typed.substr(label.size()) : typed;
  if (line.empty()) return records::parse_entered("same", false);
  if (line[0] == '+') return records::parse_entered(line.substr(1), true);
  if (line[0] == '=') return records::parse_entered(line.substr(1), false);
  return records::parse_entered(line, step.sowing.taken_out && line != "same");
}

// Saves the answer, or changes what this walk saved before.
void save(const Context& context, logbook::Logbook& logbook, const records::Moment& at, Step& step,
          const std::optional<records::Entered>& entered) {
  if (step.given == entered) return;
  if (!step.aside.empty())
    throw records::Refused(
        "What you gave for " + step.sowing.label + " stands beside the figure of " + step.other +
        " as a second reading. Which holds? " + settling(step.sowing, step.aside) + '.');
  const std::string figure = entered ? records::to_text(*entered) : " not looked";
  logbook::Entry entry(logbook, context.by, "plumule count " + step.sowing.label + figure,
                       context.today);
  const std::string day = day_of(at, context.today);
  std::string kept;
  if (step.given) {
    logbook::amend_count(entry, step.sowing, at, entered);
    entry.say("Corrected " + step.sowing.label + " of " + day + ": " +
              (entered ? figure : "not looked") + ", was " + records::to_text(*step.given));
    kept = "corrected: " + (entered ? in_words(*entered) : "not looked at");
  } else {
    const Noted noted = note_count(entry, step.sowing, at, *entered);
    entry.say("Counted " + step.sowing.label + figure + " on " + day);
    if (noted.fate == Fate::second_reading) step.aside = noted.aside;
    kept = in_words(noted);
  }
  entry.commit();
  context.screen.line("  " + wrapped(kept, context.screen.width(), 2));
  step.given = entered;
}

void explain_keys(const Context& context) {
  context.screen.paragraph(
      "A number: up in all. +3: three new. 12-2: twelve stand, two lost since the last look. "
      "28..32: a guess. Enter: no change. -: not looked. <: back. ?: this again. q: leave. All you "
      "answer is kept as you go.");
}

}  // namespace

void walk(const Context& context, logbook::Logbook& logbook, const records::Moment& at) {
  const Screen& screen = context.screen;
  const Breaking breaking;
  std::int64_t counted_already = 0;
  std::vector<Step> steps = steps_of(context, logbook, at, counted_already);
  if (steps.empty()) {
    screen.line(counted_already > 0 ? "All open sowings are counted for that day."
                                    : "There is no open sowing to count.");
    return;
  }
  std::size_t widest = 0;
  for (const Step& step : steps) widest = std::max(widest, step.sowing.label.size());
  const auto due = static_cast<std::size_t>(
      std::count_if(steps.begin(), steps.end(), [](const Step& step) { return step.due; }));
  screen.paragraph(day_of(at, context.today) + ": " + to_walk(steps, due, counted_already) + '.');
  explain_keys(context);
  std::string place;
  bool due_done = false;
  std::size_t index = 0;
  while (index < steps.size()) {
    Step& step = steps[index];
    if (index == due && due > 0 && !due_done) {
      screen.paragraph(
          fmt::format("Those due are done. Not due: {} more (q: leave).", steps.size() - due));
      due_done = true;
      place.clear();
    }
    if (step.sowing.place != place) {
      place = step.sowing.place;
      if (!place.empty()) screen.line(screen.toned(Tone::faint, place));
    }
    screen.print(question(context, step, index, steps.size(), widest));
    const auto line = read_line();
    if (!line || is_one_of(*line, {"q", "quit", "exit", ":q"})) break;
    if (is_one_of(*line, {"?", "h", "help"})) {
      explain_keys(context);
      continue;
    }
    if (*line == "<") {
      if (index > 0) --index;
      continue;
    }
    if (line->empty() && !step.given && !step.before) {
      screen.paragraph(
          "  There was no look before, so what is unchanged? 0: looked, and none is "
          "up. -: not looked.");
      continue;
    }
    try {
      if (*line == "-") {
        if (step.given) save(context, logbook, at, step, std::nullopt);
      } else if (!line->empty() || !step.given) {  // Enter on an answered one leaves it
        save(context, logbook, at, step, answer_of(step, *line));
      }
      step.not_looked = *line == "-";
      step.answered = true;
      ++index;
    } catch (const records::Refused& refused) {
      screen.paragraph(without_label(in_words(refused), step.sowing.label) + " Nothing saved of " +
                       step.sowing.label + ".");
    }
  }
  const auto how_many = [&](auto what) {
    return static_cast<std::int64_t>(std::count_if(steps.begin(), steps.end(), what));
  };
  std::string end = fmt::format("{} counted and kept",
                                how_many([](const Step& s) { return s.given.has_value(); }));
  if (const auto skipped = how_many([](const Step& s) { return s.answered && s.not_looked; }))
    end += fmt::format(", {} not looked at", skipped);
  if (const auto left = how_many([](const Step& s) { return !s.answered; }))
    end += fmt::format(", {} left: plumule count goes on there", left);
  screen.line(end + ".");
}

}  // namespace plumule::cli
