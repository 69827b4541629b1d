#include "report/comparison/shaken_words.hpp"

#include <fmt/format.h>

#include "report/comparison/comparison_words.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

std::vector<std::string> changed_names(const records::SowingsChanged& changed) {
  std::vector<std::string> names;
  for (const auto& one : changed.changed)
    names.push_back(fmt::format("{} ({})", one.label, fmt::join(one.fields, ", ")));
  return names;
}

std::string changed_words(const records::SowingsChanged& changed) {
  std::string text;
  const auto add = [&](const std::vector<std::string>& names, const char* what) {
    if (names.empty()) return;
    text += fmt::format("{}{} {} {}", text.empty() ? "" : " and ", some_of(names),
                        names.size() == 1 ? "was" : "were", what);
  };
  add(changed.left, "taken out of it");
  add(changed.joined, "put into it");
  add(changed_names(changed), "changed");
  return text + " after its first count";
}

std::vector<std::string> jars_words(const analysis::TreatmentComparison& finding,
                                    const analysis::Contrast& contrast) {
  std::vector<std::string> list;
  const auto& layout = finding.layout;
  for (std::size_t i = 0; i < layout.jars.size(); ++i) {
    const auto& jars = layout.jars[i];
    const auto& name = layout.treatments[i];
    if (!jars.partly() || (name != contrast.treatment && name != contrast.against)) continue;
    list.push_back(fmt::format(
        "A jar is recorded of {} of the {} {}s of {}, none of {}, which may share it: a claim "
        "needs to know. plumule amend {} --jar NAME (one of its own, if it was treated by "
        "itself).",
        jars.recorded, static_cast<std::size_t>(jars.recorded) + jars.not_recorded_of.size(),
        unit_name(finding), name, some_of(jars.not_recorded_of), jars.not_recorded_of.front()));
  }
  return list;
}

}  // namespace plumule::report
