// Answers as JSON: what --json prints, and how records look in it. Each command's answer has its
// schema in schema/json.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "cli/command.hpp"
#include "records/count.hpp"
#include "records/lot.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

using Json = nlohmann::ordered_json;

// One object, indented, with a new line at its end. Bytes that are no UTF-8 are replaced.
void print_json(const Context& context, const Json& answer);

// Null where there is nothing.
template <class Value>
Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json();
}
Json or_null(const std::string& text);
Json or_null(const std::optional<records::Date>& date);
Json or_null(const std::optional<records::Moment>& moment);

Json to_json(const records::Sowing& sowing);
Json to_json(const records::Count& count);
Json to_json(const records::Lot& lot);

}  // namespace plumule::cli
