// Laboratory methods by test_methods.csv.
#include "crops/test_method.hpp"

#include <algorithm>

#include "crops/table.hpp"

namespace plumule::crops {

std::vector<TestMethod> test_methods(const Crop& crop) {
  static const Table table("test_methods.csv");
  std::vector<TestMethod> methods;
  for (const auto& row : table.rows_of(crop.slug)) {
    TestMethod method;
    method.alternate = row["alternate"] == "yes";
    method.substrata = row["substrata"];
    method.temperature_c = row["temperature_c"];
    if (const auto first = row.number("first_count_days"))
      method.first_count_days = static_cast<int>(*first);
    method.final_count_days = static_cast<int>(row.number("final_count_days").value_or(0));
    method.hard_seed = row["hard_seed"] == "yes";
    method.specific = row["specific"];
    method.dormant = row["dormant"];
    method.origin = origin(row);
    methods.push_back(method);
  }
  std::stable_sort(methods.begin(), methods.end(),
                   [](const auto& a, const auto& b) { return !a.alternate && b.alternate; });
  return methods;
}

std::string_view substratum(std::string_view code) {
  static const Table table("substrata.csv");
  const auto found = table.rows_of(code);
  return found.empty() ? std::string_view() : found[0]["meaning"];
}

}  // namespace plumule::crops
