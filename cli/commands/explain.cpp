// What a figure, test or index means.

#include "analysis/explain/explanation.hpp"
#include "cli/asking.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/wording.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"
#include "report/explanation.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("WORD", "a figure, test or index as an answer names it; none: all words", 0,
                any_number);
}

int run(Context& context, const Arguments& arguments) {
  std::string word;
  for (const std::string& part : arguments.words()) word += (word.empty() ? "" : " ") + part;
  if (word.empty()) {
    if (context.json)
      context.screen.line(report::explain_list_json(analysis::explanations(), in_words));
    else
      context.screen.print(
          report::explain_list_text(style_of(context), analysis::explained_themes()));
    return 0;
  }
  const auto* entry = analysis::explain(word);
  if (entry == nullptr) {
    std::vector<std::string> near = records::nearest(word, analysis::explained_words());
    if (!near.empty()) near.resize(1);
    if (near.empty())
      for (const auto* other : analysis::explained_near(word, 4)) near.emplace_back(other->word);
    std::string sentence = "Nothing is called \"" + word + "\" here.";
    if (!near.empty()) sentence += " Did you mean " + listed(near, "or") + "?";
    throw records::Refused(sentence + " All words: plumule explain");
  }
  if (context.json)
    context.screen.line(report::explain_json(*entry, in_words));
  else
    context.screen.print(report::explain_text(style_of(context), *entry));
  return 0;
}

}  // namespace

extern const Command explain_command;
const Command explain_command{
    .name = "explain",
    .group = Group::mind,
    .summary = "what a figure means",
    .about =
        "Any figure, test or index that an answer prints: what it means to a grower, its formula "
        "and unit, what it assumes, when it misleads, and its source.",
    .example = "plumule explain synchrony",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
