// The morning's counts: pairs in one line, or the walk.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/count_words.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "cli/walk.hpp"
#include "logbook/record/sowings.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("PAIR",
                "A1=12 (or A1:12, A1 12) twelve up in all, A1+3 three new, A1=12-2 twelve stand "
                "and two were lost since the last look, A1=12-2+1 the same and one more came up "
                "and was lost since, A1=28..32 a guess, A1=5/9 five clusters with nine seedlings "
                "in all (A1+3/9: three new ones, nine seedlings in all), A1=same no change; none: "
                "the walk. Of a sowing that has lost some, a number below what was ever up is "
                "what stands; where it may be either it asks: A1=12all in all, A1=12-0 standing",
                0, any_number);
  options.moment("on", "when you looked; else today");
  options.flag("doubtful", "truly seen, but against the rules: kept aside until settled");
  options.text("why", "WORDS", "what makes it doubtful");
}

using bench::Noted;

struct Pair {
  records::Sowing sowing;
  records::Typed typed;
};

// A label, and the figure as the word after it: A1 12. Not where either may be the other.
records::Pair pair_of_two(logbook::Logbook& logbook, const std::string& label,
                          const std::string& figure) {
  const records::Pair pair = records::parse_pair(label + '=' + figure);
  const bool number = label.find_first_not_of("0123456789") == std::string::npos;
  if (number || logbook::find_sowing(logbook, figure))
    throw records::Refused(fmt::format(
        "{0} {1}: {2} may be a label or a figure. Write {0}={1} if {1} were counted of {0}.", label,
        figure, number ? label : figure));
  return pair;
}

std::vector<records::Pair> words_typed(logbook::Logbook& logbook,
                                       const std::vector<std::string>& words) {
  std::vector<records::Pair> all;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool two = !records::is_pair(words[i]) && i + 1 < words.size() &&
                     (!records::is_pair(words[i + 1]) || words[i + 1][0] == '+');
    all.push_back(two ? pair_of_two(logbook, words[i], words[i + 1])
                      : records::parse_pair(words[i]));
    if (two) ++i;
  }
  return all;
}

// Refuses two figures of one sowing: neither can be known to hold.
std::vector<Pair> pairs_typed(logbook::Logbook& logbook, const Arguments& arguments) {
  std::vector<Pair> all;
  for (const records::Pair& one : words_typed(logbook, arguments.words())) {
    const Pair pair{logbook::sowing_named(logbook, one.name), one.typed};
    for (const Pair& before : all)
      if (before.sowing.id == pair.sowing.id && before.typed.entered != pair.typed.entered)
        throw records::Refused(fmt::format(
            "{0} is given twice, {0}{1} and {0}{2}. Which is it? Type all again with that one.",
            name_of(pair.sowing), records::to_text(before.typed), records::to_text(pair.typed)));
    all.push_back(pair);
  }
  return all;
}

// What was seen against the rules: in the grower's words, else in those of the rules.
bench::Noted note_doubtful(logbook::Entry& entry, const Pair& pair, const records::Moment& at,
                           const std::optional<std::string>& said) {
  std::string why = said.value_or("");
  if (why.empty()) {
    const auto refusal = bench::against(entry.logbook(), pair.sowing, at, pair.typed);
    why = refusal ? in_words(*refusal) : "said to be doubtful";
  }
  return bench::note_doubtful(entry, pair.sowing, at, pair.typed.entered, why);
}

std::vector<Noted> note_pairs(logbook::Entry& entry, const Arguments& arguments,
                              const records::Moment& at) {
  std::vector<Noted> all;
  for (const Pair& pair : pairs_typed(entry.logbook(), arguments))
    all.push_back(arguments.flag("doubtful")
                      ? note_doubtful(entry, pair, at, arguments.text("why"))
                      : bench::note_count(entry, pair.sowing, at, pair.typed));
  return all;
}

std::string summary_of(const std::vector<Noted>& all, const std::string& day) {
  std::vector<std::string> names;
  for (const Noted& noted : all)
    names.push_back(noted.sowing.label + records::to_text(noted.count.entered));
  const bool doubtful = !all.empty() && all.front().fate == bench::Fate::doubtful;
  return (doubtful ? "Kept as doubtful: " : "Counted ") + listed(names) + " on " + day;
}

int run(Context& context, const Arguments& arguments) {
  const records::Moment at = arguments.moment("on").value_or(records::Moment{context.today, {}});
  if (arguments.has("why") && !arguments.flag("doubtful"))
    throw WrongUsage("--why says what makes a count doubtful: add --doubtful.");
  if (arguments.words().empty()) {
    if (context.json || arguments.flag("doubtful"))
      throw WrongUsage("The walk answers in words. Give pairs here, such as A1=12.");
    logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
    context.reads_only = true;  // each answer says for itself what was saved
    context.kept_words = "What was answered before is kept in the logbook.";
    walk(context, logbook, at);
    return 0;
  }
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  logbook::Entry entry = begin(logbook, context);
  const std::vector<Noted> all = note_pairs(entry, arguments, at);
  entry.say(summary_of(all, records::spoken(at, context.today)));
  entry.commit();

  if (context.json) {
    Json counts = Json::array();
    for (const Noted& noted : all) counts.push_back(to_json(noted));
    print_json(context, {{"counts", counts}});
    return 0;
  }
  context.screen.line(records::spoken(at, context.today));
  Table table({"", ""});
  for (const Noted& noted : all) table.row({name_of(noted.sowing), in_words(noted)});
  table.print(context.screen);
  for (const Noted& noted : all)
    if (const std::string question = doubt_of_clusters(noted); !question.empty())
      context.screen.remark(question);
  return 0;
}

}  // namespace

extern const Command count_command;
const Command count_command{
    .name = "count",
    .group = Group::keep,
    .summary = "how many are up",
    .about =
        "Keeps what you counted, all of it or nothing. Without a pair it walks the open sowings in "
        "bench order, those due first, shows the last figure (not in a blind trial) and takes a "
        "number, +n, Enter "
        "for no change, - for not looked, < for back and q to leave; each answer is kept as it is "
        "given. It reads answers from a pipe as well.",
    .example = "plumule count C1=10 C2+1 R2=same",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
