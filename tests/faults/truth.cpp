#include "faults/truth.hpp"

#include <algorithm>
#include <stdexcept>

namespace plumule::tests {
namespace {

// A disk that fails is no damaged logbook, and what failed is known.
constexpr const char* untrue[] = {
    "damaged", "Something went wrong", "not a logbook",        "lacks a part",
    "SQLite",  "another program, not", "wrong in this logbook"};

// What was said, as one line.
std::string said(const Answer& answer) {
  std::string text;
  for (const std::string& word : words_of([&] {
         std::string line = answer.err;
         std::replace(line.begin(), line.end(), '\n', ' ');
         std::replace(line.begin(), line.end(), '\'', '"');
         return line;
       }()))
    text += (text.empty() ? "" : " ") + word;
  return text;
}

std::string quote(const Answer& answer) {
  return "status " + std::to_string(answer.status) + ", \"" + said(answer) + '"';
}

const std::string* held(const Holdings& holdings, const std::string& name) {
  const auto found = holdings.find(name);
  return found == holdings.end() ? nullptr : &found->second;
}

bool same(const std::string* a, const std::string* b) {
  return a == nullptr || b == nullptr ? a == b : *a == *b;
}

}  // namespace

Expected expect(const Scene& scene, const Deal& deal, const std::string& place) {
  Expected expected;
  copy_folder(scene.folder, place);
  expected.before = holdings_of(place);
  copy_folder(scene.folder, place);
  expected.answer = deal.run(place);
  if (expected.answer.status != 0)
    throw std::runtime_error(deal.name + ": " + quote(expected.answer));
  expected.after = holdings_of(place);
  return expected;
}

std::string whole(const Expected& expected, bool done, const std::string& place) {
  Holdings now;
  try {
    now = holdings_of(place);
  } catch (const std::exception& error) {
    return error.what();
  }
  for (const Holdings* const holdings : {&expected.before, &expected.after})
    for (const auto& [name, text] : *holdings) {
      const std::string* const is = held(now, name);
      if (same(is, held(expected.after, name))) continue;
      if (done) return name + " is not as the command said that it left it";
      if (!same(is, held(expected.before, name)))
        return name + (is == nullptr ? " is gone" : " is neither as it was nor as it was to be");
    }
  return "";
}

std::string first_untruth(const Deal& deal, const Expected& expected, const Answer& answer,
                          const std::string& place) {
  if (answer.status == 0) {
    if (!deal.writes && answer.out != expected.answer.out)
      return "another answer than without the fault";
    return whole(expected, deal.writes, place);
  }
  // A sheet that could not be read is none of the logbook's troubles.
  const bool sheet = answer.status == 1 && said(answer).find(".csv") != std::string::npos;
  // Done and kept, though its answer could not be put together or printed.
  if (answer.status == 4) {
    const std::string trouble = whole(expected, true, place);
    return trouble.empty() && deal.writes ? "" : quote(answer) + ", but " + trouble;
  }
  if (answer.status != 3 && !sheet) return quote(answer);
  if (answer.err.empty()) return "refused without a word";
  for (const char* const word : untrue)
    if (said(answer).find(word) != std::string::npos) return quote(answer);
  if (!deal.writes && !expected.answer.out.starts_with(answer.out))
    return "figures were shown that are none";
  const std::string trouble = whole(expected, false, place);
  if (!trouble.empty()) return quote(answer) + ", and " + trouble;
  if (said(answer).find("Nothing saved.") == std::string::npos) return "";
  Expected untouched = expected;
  untouched.after = expected.before;
  return whole(untouched, false, place).empty() ? "" : quote(answer) + ", but something was";
}

std::string works_again(const Deal& deal, const Expected& expected, const Answer& answer,
                        const std::string& place) {
  if (answer.status == 0 || answer.status == 4) return "";
  // Said to be kept though the answer could not be given: then it is, and is not to be typed again.
  if (said(answer).find("what it wrote is kept") != std::string::npos)
    return whole(expected, deal.writes, place);
  // Said not to be sure: whoever looks finds it there, and does not do it again.
  if (said(answer).find("is not sure") != std::string::npos && whole(expected, true, place).empty())
    return "";
  const Answer again = deal.run(place);
  if (again.status == 0) {
    const std::string trouble = whole(expected, deal.writes, place);
    return trouble.empty() ? "" : "after " + quote(answer) + " and once more: " + trouble;
  }
  // It had been done in spite of its refusal, which then did not say otherwise: it is no fault that
  // it cannot be done twice.
  if (said(answer).find("Nothing saved.") == std::string::npos &&
      whole(expected, true, place).empty())
    return "";
  return "after " + quote(answer) + " the next one gives " + quote(again);
}

}  // namespace plumule::tests
