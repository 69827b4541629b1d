#include "support/csv.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>

namespace plumule::tests {
namespace {

std::vector<std::vector<std::string>> cells(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> row;
  std::string cell;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
        cell += '"';
        ++i;
      } else if (c == '"') {
        quoted = false;
      } else {
        cell += c;
      }
    } else if (c == '"') {
      quoted = true;
    } else if (c == ',') {
      row.push_back(cell);
      cell.clear();
    } else if (c == '\n') {
      row.push_back(cell);
      cell.clear();
      rows.push_back(row);
      row.clear();
    } else if (c != '\r') {
      cell += c;
    }
  }
  if (!cell.empty() || !row.empty()) {
    row.push_back(cell);
    rows.push_back(row);
  }
  return rows;
}

}  // namespace

std::string tests_folder() { return PLUMULE_TESTS_FOLDER; }

std::vector<Row> read_csv(const std::string& path_below_tests) {
  const std::string path = tests_folder() + "/" + path_below_tests;
  std::ifstream file(path, std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::stringstream text;
  text << file.rdbuf();
  const auto all = cells(text.str());
  std::vector<Row> rows;
  for (std::size_t i = 1; i < all.size(); ++i) {
    Row row;
    for (std::size_t j = 0; j < all[0].size() && j < all[i].size(); ++j) row[all[0][j]] = all[i][j];
    rows.push_back(row);
  }
  if (rows.empty()) throw std::runtime_error("no rows in " + path);
  return rows;
}

double number(const Row& row, const std::string& column) {
  std::size_t used = 0;
  const std::string& text = row.at(column);
  const double value = std::stod(text, &used);
  if (used != text.size()) throw std::runtime_error(column + ": not a number: " + text);
  return value;
}

}  // namespace plumule::tests
