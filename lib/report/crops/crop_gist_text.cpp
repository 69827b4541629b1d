// What is asked first of a crop, one line a question; sources are named by crop_text.
#include <fmt/format.h>

#include <cmath>

#include "report/crops.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

// At most one decimal, and none where it is nought.
std::string number(double value) {
  const std::string text = fmt::format("{:.1f}", value);
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

std::string span(const crops::Span& span, std::string (*one)(double)) {
  const std::string low = one(span.low);
  if (std::isinf(span.high)) return low + " or more";
  const std::string high = one(span.high);
  return low == high ? low : low + " to " + high;
}

std::string degrees(double value) { return fmt::format("{:.0f}", value); }

std::string sale_words(const crops::Standard& standard) {
  return fmt::format("at least {} must germinate ({})", percent(standard.fraction),
                     standard.scope == "federal" ? "United States, federal"
                     : standard.scope == "state" ? "a state's list; no federal figure"
                                                 : "a state's rule for kinds without a figure");
}

std::string test_words(const crops::TestMethod& test) {
  std::string text;
  if (!test.temperature_c.empty()) {
    std::string warm(test.temperature_c);
    if (const auto other = warm.find("; "); other != std::string::npos)
      warm.replace(other, 2, " or ");
    text = fmt::format("at {} C", warm);
    if (test.temperature_c.find('-') != std::string_view::npos) text += " (16 h cool, 8 h warm)";
    text += ", ";
  }
  if (test.first_count_days) text += fmt::format("first count day {}, ", *test.first_count_days);
  return text + fmt::format("last count day {}", test.final_count_days);
}

// The same days at neighbouring temperatures are said once.
std::string days_words(const std::vector<crops::Emergence>& days) {
  std::string text;
  for (std::size_t first = 0; first < days.size();) {
    std::size_t last = first;
    while (last + 1 < days.size() && *days[last + 1].days == *days[first].days) ++last;
    text += fmt::format("{}{} at {:g}", text.empty() ? "" : ", ", number(*days[first].days),
                        days[first].temp_c);
    if (last > first) text += fmt::format(" to {:g}", days[last].temp_c);
    text += " C";
    first = last + 1;
  }
  if (const auto of = days.front().borrowed_from; !of.empty()) text += fmt::format(" (for {})", of);
  return text;
}

std::string soil_words(const crops::SoilGist& soil) {
  std::string text;
  const auto add = [&](const char* what, const std::optional<crops::Span>& of) {
    if (of) text += fmt::format("{}{} {} C", text.empty() ? "" : ", ", what, span(*of, degrees));
  };
  add("lowest", soil.lowest);
  add("best", soil.best);
  add("highest", soil.highest);
  return text + fmt::format(" ({})", counted(soil.tables, "table", "tables"));
}

std::string life_words(const crops::SeedLifeSummary& life) {
  const auto years = [](const crops::Span& of) {
    return span(of, number) + (of.high == 1 ? " year" : " years");
  };
  if (life.lists == 0) {
    const double kept = *life.handbook;
    return years({kept, kept}) + ", kept well (from memory)";
  }
  std::string text = fmt::format("{} by {}", years({life.lowest, life.highest}),
                                 counted(life.lists, "list", "lists"));
  if (life.lowest < life.highest)
    text += fmt::format("; the middle one says {}", number(life.median_low));
  return text;
}

// Heat, acid and the like only by name: half of such a recipe is worse than none.
bool whole_recipe_only(std::string_view topic) {
  return topic == "hot water" || topic == "bleach" || topic == "peroxide" ||
         topic == "scarification" || topic == "priming";
}

std::string before_words(const crops::BeforeSowing& one) {
  std::string topic(one.topic);
  if (one.advised == 0) return topic + ": do not";
  if (one.refused > 0) return topic + ": some say do not";
  if (whole_recipe_only(one.topic)) return topic;
  std::string text = topic;
  if (one.topic == "light" && !one.treatment.empty())
    text = std::string(one.treatment.substr(0, one.treatment.find(':')));
  if (one.topic == "heat limit" && !one.treatment.empty() && one.amount)
    return fmt::format("{}: {} {}", one.treatment, span(*one.amount, number), one.unit);
  if (one.amount) text += fmt::format(" {} {}", span(*one.amount, number), one.unit);
  if (!one.limit.empty()) text += fmt::format(" ({})", one.limit);
  return text;
}

std::string before_words(const std::vector<crops::BeforeSowing>& list) {
  std::string text;
  for (const auto& one : list) text += (text.empty() ? "" : "; ") + before_words(one);
  return text;
}

}  // namespace

std::string crop_gist_text(const Style& style, const analysis::CropFacts& finding) {
  const auto& known = *finding.known;
  const auto& gist = finding.gist;
  const std::string title =
      toned(style, Tone::strong, fmt::format("{} ({})", known.crop.name, known.crop.botanical)) +
      '\n';
  std::string text;
  const auto line = [&](const char* name, const std::string& value) {
    text += entry(style, name, value, 15);
  };
  if (gist.standard) line("for sale", sale_words(*gist.standard));
  if (gist.test) line("laboratory test", test_words(*gist.test));
  if (!gist.days.empty()) line("days to come up", days_words(gist.days));
  if (gist.wait)
    line("wait for it",
         fmt::format("in soil until day {:.0f}, unless its temperature is known", gist.wait->days));
  if (gist.soil.tables > 0) line("soil", soil_words(gist.soil));
  if (gist.life) line("seed keeps", life_words(*gist.life));
  if (gist.seedlings)
    line("seed", fmt::format("clusters: {} seedlings from each", span(*gist.seedlings, number)));
  if (gist.hard_seed) line("hard seed", "may be present: alive, but water does not get in");
  if (!gist.before.empty()) line("before sowing", before_words(gist.before));
  if (text.empty()) return crop_text(style, finding);  // little is known: all of it
  for (const auto& caution : known.cautions)
    text += toned(style, Tone::warning,
                  paragraph(style, fmt::format("Caution: {}", caution.text), 9, 0));
  return title + text +
         paragraph(style, hinted(style.hints, "",
                                 {.advice = records::Advice::show_all_facts,
                                  .name = std::string(known.crop.slug),
                                  .number = static_cast<std::int64_t>(known.facts.size())}));
}

}  // namespace plumule::report
