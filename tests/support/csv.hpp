// Reading the reference tables of tests/reference and tests/data: CSV with a header row.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace plumule::tests {

using Row = std::map<std::string, std::string>;

// Where this project's tests/ lies.
std::string tests_folder();

// The rows of a file below tests/, each a map from column name to text. A missing file throws, so
// that a test over a table cannot pass for want of it.
std::vector<Row> read_csv(const std::string& path_below_tests);

// A cell as a number; throws where it is not one.
double number(const Row& row, const std::string& column);

}  // namespace plumule::tests
