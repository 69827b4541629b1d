#include "records/count.hpp"

#include <algorithm>

#include "records/label.hpp"
#include "records/refused.hpp"
#include "records/sowing.hpp"

namespace plumule::records {
namespace {

constexpr const char* forms =
    "Write 12 (in all), +3 (new), 12-2 (standing, lost since), 28..32 (a guess), 5/9 (units, "
    "seedlings) or same.";
constexpr std::string_view in_all = "all";

std::string quoted(std::string_view text) { return '"' + std::string(text) + '"'; }

bool all_digits(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

// A whole number of units from 0 to the most that is taken; `whole` is the value as typed.
std::int64_t units_in(std::string_view text, std::string_view whole) {
  if (text.find_first_of(".,") != std::string_view::npos && all_digits(text.substr(0, 1)))
    throw Refused(quoted(whole) + " is not a count: only whole numbers are counted.");
  if (text.size() > 1 && text[0] == '-' && all_digits(text.substr(1)))
    throw Refused(quoted(whole) +
                  " is below 0, and no count is. If some were lost, write how many "
                  "stand and how many went: 12-2.");
  if (!all_digits(text)) throw Refused(quoted(whole) + " is not a count. " + forms);
  std::int64_t value = 0;
  for (const char c : text) {
    value = value * 10 + (c - '0');
    if (value > most_units)
      throw Refused(quoted(whole) + " is absurd; 1,000,000,000 is the most that is taken.");
  }
  return value;
}

Entered guess_in(std::string_view text, std::size_t dots, CountKind kind) {
  Entered entered{.kind = kind};
  entered.value = units_in(text.substr(0, dots), text);
  const std::int64_t high = units_in(text.substr(dots + 2), text);
  if (high < entered.value)
    throw Refused(quoted(text) + " is a guess with its ends swapped; write the low one first, " +
                  std::to_string(high) + ".." + std::to_string(entered.value) + '.');
  if (high > entered.value) entered.high = high;
  return entered;
}

// `12-2`, `12-2+1`, split at `minus`.
Typed standing_in(std::string_view text, std::size_t minus) {
  Typed typed;
  typed.entered.kind = CountKind::standing;
  typed.entered.value = units_in(text.substr(0, minus), text);
  const std::size_t plus = text.find('+', minus);
  if (plus != std::string_view::npos) typed.came_lost = units_in(text.substr(plus + 1), text);
  typed.entered.lost =
      units_in(text.substr(minus + 1, plus == std::string_view::npos ? plus : plus - minus - 1),
               text) +
      typed.came_lost;
  return typed;
}

// `5/9`, `/9`, `?/9`, `3/9` of new ones, split at `slash`.
Entered seedlings_in(std::string_view text, std::size_t slash, CountKind kind) {
  Entered entered{.kind = kind};
  entered.seedlings = units_in(text.substr(slash + 1), text);
  if (kind == CountKind::total && (slash == 0 || text.substr(0, slash) == "?"))
    entered.kind = CountKind::seedlings;
  else
    entered.value = units_in(text.substr(0, slash), text);
  return entered;
}

}  // namespace

Typed parse_typed(std::string_view text, bool newly) {
  if (!newly && text.size() > 1 && text[0] == '+') return parse_typed(text.substr(1), true);
  Entered entered{.kind = newly ? CountKind::newly : CountKind::total};
  if (text.empty()) throw Refused(std::string("A count is missing. ") + forms);
  if (text == "-")
    throw Refused("\"-\" means that nobody looked, which is no count: leave the pair out.");
  if (text == "same") {
    if (newly) throw Refused("\"+same\" is not a count; write =same, or +0.");
    entered.kind = CountKind::newly;
    return entered;
  }
  if (const auto dots = text.find(".."); dots != std::string_view::npos)
    return guess_in(text, dots, entered.kind);
  if (const auto slash = text.find('/'); slash != std::string_view::npos)
    return seedlings_in(text, slash, entered.kind);
  if (const auto minus = text.find('-', 1); minus != std::string_view::npos) {
    if (newly)
      throw Refused(quoted(text) +
                    " mixes new with lost; write how many stand and how many were "
                    "lost since, such as 12-2.");
    return standing_in(text, minus);
  }
  const bool all = !newly && text.ends_with(in_all);
  entered.value = units_in(all ? text.substr(0, text.size() - in_all.size()) : text, text);
  Typed typed(entered);
  typed.plain = !newly && !all;
  return typed;
}

std::string to_text(const Entered& entered) {
  if (entered.kind == CountKind::newly && entered.value == 0 && !entered.high && !entered.seedlings)
    return "=same";
  std::string text = entered.kind == CountKind::newly ? "+" : "=";
  if (entered.kind != CountKind::seedlings) text += std::to_string(entered.value);
  if (entered.high) text += ".." + std::to_string(*entered.high);
  if (entered.kind == CountKind::standing) text += '-' + std::to_string(entered.lost);
  if (entered.seedlings) text += '/' + std::to_string(*entered.seedlings);
  return text;
}

std::string to_text(const Typed& typed) {
  if (typed.came_lost == 0) return to_text(typed.entered);
  Entered entered = typed.entered;
  entered.lost -= typed.came_lost;
  return to_text(entered) + '+' + std::to_string(typed.came_lost);
}

std::string in_words(const Entered& entered) {
  std::string text = std::to_string(entered.value);
  if (entered.high) text += " to " + std::to_string(*entered.high);
  switch (entered.kind) {
    case CountKind::total:
      text += " up in all";
      break;
    case CountKind::newly:
      text = entered.value == 0 && !entered.high ? "nothing new" : text + " new";
      break;
    case CountKind::standing:
      text += " standing, " + (entered.lost == 0 ? "none" : std::to_string(entered.lost)) + " lost";
      break;
    case CountKind::seedlings:
      text.clear();
      break;
  }
  if (entered.seedlings) {
    if (!text.empty()) text += ", ";
    text +=
        std::to_string(*entered.seedlings) + (*entered.seedlings == 1 ? " seedling" : " seedlings");
  }
  return text;
}

bool is_pair(std::string_view text) { return text.find_first_of("=:+") != std::string_view::npos; }

Pair parse_pair(std::string_view text) {
  std::size_t at = text.find('=');
  if (at == std::string_view::npos) at = text.find(':');
  const bool newly = at == std::string_view::npos;
  if (newly) at = text.rfind('+');
  if (at == std::string_view::npos)
    throw Refused(quoted(text) +
                  " is not a pair of a label and a count. Write A1=12 (in all), A1+3 "
                  "(new), A1=12-2 (standing, lost since) or A1=same.");
  const std::string_view name = text.substr(0, at);
  if (name.empty()) throw Refused(quoted(text) + " names no sowing. Write A1=12, or A1+3.");
  Pair pair;
  pair.name = std::string(name);
  try {
    pair.typed = parse_typed(text.substr(at + 1), newly);
  } catch (const Refused& refused) {
    throw Refused(pair.name + ": " + refused.what(), refused.hints());
  }
  return pair;
}

}  // namespace plumule::records
