#include "report/explanation.hpp"

#include <nlohmann/json.hpp>

#include "report/parts/json_parts.hpp"

namespace plumule::report {

namespace {

Json entry_json(const analysis::Explanation& entry) {
  const auto words = [](std::string_view text) { return text_or_null(std::string(text)); };
  return {{"word", words(entry.word)},         {"title", words(entry.title)},
          {"meaning", words(entry.meaning)},   {"formula", words(entry.formula)},
          {"unit", words(entry.unit)},         {"assumes", words(entry.assumes)},
          {"misleads", words(entry.misleads)}, {"source", words(entry.source)},
          {"also", words(entry.also)}};
}

}  // namespace

std::string explain_json(const analysis::Explanation& entry) { return written(entry_json(entry)); }

std::string explain_list_json(const std::vector<const analysis::Explanation*>& entries) {
  Json list = Json::array();
  for (const auto* entry : entries) list.push_back(entry_json(*entry));
  return written({{"words", list}});
}

}  // namespace plumule::report
