#include "report/own_rho.hpp"

#include <fmt/format.h>

#include "analysis/rho/own_rho.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

std::string own_rho_text(const Style& style, const analysis::RhoChoice& choice) {
  if (!choice.own) return "";
  static constexpr const char* names[] = {"towels and dishes", "trays, cells and pots", "rows"};
  std::string few;
  bool any = false;
  for (std::size_t kind = 0; kind < analysis::setting_kinds; ++kind) {
    const auto& own = (*choice.own)[kind];
    any = any || own.b;
    if (own.b || own.groups == 0) continue;
    few += fmt::format("{}{} of {}", few.empty() ? "" : ", ",
                       counted(own.groups, "group", "groups"), names[kind]);
  }
  if (few.empty() && any) return "";
  return toned(
      style, Tone::faint,
      paragraph(style,
                fmt::format("Your own sowings are too few yet to tell how alike seeds of one "
                            "are: {}. {} of a setting are needed; until then what is "
                            "published stands. A group is two or more sowings of one lot, "
                            "treated and sown alike, each seen to its end.",
                            few.empty() ? "no group" : few, stats::LearnedRho::fewest_groups)));
}

}  // namespace plumule::report
