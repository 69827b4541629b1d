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
#include "bench/count_walk.hpp"
#include "bench/on_the_bench.hpp"
#include "cli/showing/count_words.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/record/trials.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

struct Step {
  bench::Stop stop;
  bool answered = false;
  bool not_looked = false;
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

// The labels that `today` asks for on that day, counted already or not.
std::set<std::string> due_on(logbook::Logbook& logbook, records::Date day) {
  const auto finding =
      analysis::due_today(bench::on_the_bench(logbook), logbook::trials(logbook), day);
  std::set<std::string> labels;
  for (const auto& due : finding.due) labels.insert(due.sowing.name);
  for (const auto& counted : finding.counted) labels.insert(counted.name);
  for (const auto& late : finding.should_be_up)
    if (late.due || late.sowing.last_on == day) labels.insert(late.sowing.name);
  return labels;
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

std::string question(const Context& context, const bench::Stop& stop, std::size_t index,
                     std::size_t all, std::size_t widest) {
  constexpr int narrow = 60;  // columns: a question stays on one line
  std::string last = sown_amount(stop.sowing) +
                     (context.screen.width() < narrow ? ", first look" : ", not looked at before");
  if (stop.before && stop.blind)
    last = "blind";
  else if (stop.before)
    last = records::spoken(stop.before->at, context.today) + ": " +
           up_of(stop.sowing, stop.before->total);
  if (stop.before && !stop.blind && stop.lost > 0)
    last += ", " + std::to_string(stop.before->total - stop.lost) + " standing";
  if (!stop.other.empty()) last += " (" + stop.other + " has counted it)";
  if (stop.given) last += "; now " + records::to_text(*stop.given);
  std::string label = stop.sowing.label;
  label.resize(std::max(widest, label.size()), ' ');
  return fmt::format("{}  {:>3}/{:<3} {}{} ", context.screen.toned(Tone::strong, label), index + 1,
                     all, last, stop.sowing.taken_out ? "; new ones:" : ":");
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
      if (!std::string_view(text).substr(0, at).ends_with("plumule amend"))
        text.erase(at + 1, label.size() + (sign == '=' ? 1 : 0));
  }
  return text;
}

records::Typed answer_of(const records::Sowing& sowing, const std::string& typed) {
  const std::string& label = sowing.label;
  const std::string line = names_label(typed, label) ? typed.substr(label.size()) : typed;
  if (line.empty()) return records::parse_typed("same", false);
  if (line[0] == '+') return records::parse_typed(line.substr(1), true);
  if (line[0] == '=') return records::parse_typed(line.substr(1), false);
  return records::parse_typed(line, sowing.taken_out && line != "same");
}

// Saves the answer, or changes what this walk saved before.
void save(const Context& context, logbook::Logbook& logbook, const records::Moment& at,
          bench::Stop& stop, const std::optional<records::Typed>& typed) {
  if (typed ? stop.given == typed->entered : !stop.given) return;
  const auto before = stop.given;
  const std::string& label = stop.sowing.label;
  logbook::Entry entry(
      logbook, context.by,
      "plumule count " + label + (typed ? records::to_text(*typed) : " not looked"), context.today);
  const auto noted = bench::answer(entry, at, stop, typed);
  if (!noted && stop.given == before) return;
  const std::string figure = stop.given ? records::to_text(*stop.given) : "not looked";
  const std::string day = records::spoken(at, context.today);
  if (noted)
    entry.say("Counted " + label + figure + " on " + day);
  else
    entry.say("Corrected " + label + " of " + day + ": " + figure + ", was " +
              records::to_text(*before));
  entry.commit();
  const std::string kept = noted        ? in_words(*noted)
                           : stop.given ? "corrected: " + in_words(*stop.given)
                                        : "corrected: not looked at";
  context.screen.line("  " + context.screen.in_lines(kept, 2));
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
  bench::CountWalk planned = bench::count_walk(logbook, at, context.by, due_on(logbook, at.date));
  const std::int64_t counted_already = planned.counted_already;
  std::vector<Step> steps;
  for (bench::Stop& stop : planned.stops) steps.push_back({std::move(stop)});
  if (steps.empty()) {
    screen.line(counted_already > 0 ? "All open sowings are counted for that day."
                                    : "There is no open sowing to count.");
    return;
  }
  std::size_t widest = 0;
  for (const Step& step : steps) widest = std::max(widest, step.stop.sowing.label.size());
  const auto due = static_cast<std::size_t>(
      std::count_if(steps.begin(), steps.end(), [](const Step& step) { return step.stop.due; }));
  screen.paragraph(records::spoken(at, context.today) + ": " +
                   to_walk(steps, due, counted_already) + '.');
  explain_keys(context);
  std::string place;
  bool due_done = false;
  std::size_t index = 0;
  while (index < steps.size()) {
    Step& step = steps[index];
    bench::Stop& stop = step.stop;
    if (index == due && due > 0 && !due_done) {
      screen.paragraph(
          fmt::format("Those due are done. Not due: {} more (q: leave).", steps.size() - due));
      due_done = true;
      place.clear();
    }
    if (stop.sowing.place != place) {
      place = stop.sowing.place;
      if (!place.empty()) screen.line(screen.toned(Tone::faint, place));
    }
    screen.print(question(context, stop, index, steps.size(), widest));
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
    if (line->empty() && !stop.given && !stop.before) {
      screen.paragraph(
          "  There was no look before, so what is unchanged? 0: looked, and none is "
          "up. -: not looked.");
      continue;
    }
    try {
      if (*line == "-") {
        if (stop.given) save(context, logbook, at, stop, std::nullopt);
      } else if (!line->empty() || !stop.given) {  // Enter on an answered one leaves it
        save(context, logbook, at, stop, answer_of(stop.sowing, *line));
      }
      step.not_looked = *line == "-";
      step.answered = true;
      ++index;
    } catch (const records::Refused& refused) {
      screen.paragraph(without_label(in_words(refused), stop.sowing.label) + " Nothing saved of " +
                       stop.sowing.label + ".");
    }
  }
  const auto how_many = [&](auto what) {
    return static_cast<std::int64_t>(std::count_if(steps.begin(), steps.end(), what));
  };
  std::string end = fmt::format("{} counted and kept",
                                how_many([](const Step& s) { return s.stop.given.has_value(); }));
  if (const auto skipped = how_many([](const Step& s) { return s.answered && s.not_looked; }))
    end += fmt::format(", {} not looked at", skipped);
  if (const auto left = how_many([](const Step& s) { return !s.answered; }))
    end += fmt::format(", {} left: plumule count goes on there", left);
  screen.line(end + ".");
}

}  // namespace plumule::cli
