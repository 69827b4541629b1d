// See the header.
#include "reference_cases.hpp"

#include <cctype>
#include <stdexcept>

namespace plumule::tests {

std::vector<double> numbers_in(const std::string& text) {
  std::vector<double> numbers;
  for (std::size_t i = 0; i < text.size();) {
    if (std::isdigit(static_cast<unsigned char>(text[i])) == 0) {
      ++i;
      continue;
    }
    std::size_t used = 0;
    numbers.push_back(std::stod(text.substr(i), &used));
    i += used;
  }
  return numbers;
}

std::vector<stats::TwoByTwo> strata_in(const std::string& text) {
  const std::vector<double> v = numbers_in(text);
  if (v.empty() || v.size() % 4 != 0) throw std::runtime_error("no tables in: " + text);
  std::vector<stats::TwoByTwo> tables;
  for (std::size_t i = 0; i < v.size(); i += 4)
    tables.emplace_back(v[i], v[i + 1], v[i + 2], v[i + 3]);
  return tables;
}

stats::TwoByTwo table_in(const std::string& text) { return strata_in(text).at(0); }

std::vector<stats::DoseGroup> doses_in(const std::string& text) {
  const std::vector<double> v = numbers_in(text);
  if (v.empty() || v.size() % 3 != 0) throw std::runtime_error("no doses in: " + text);
  const std::size_t k = v.size() / 3;
  std::vector<stats::DoseGroup> groups;
  for (std::size_t i = 0; i < k; ++i) groups.push_back({v[2 * k + i], {v[i], v[k + i]}});
  return groups;
}

}  // namespace plumule::tests
