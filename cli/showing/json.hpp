// Answers as JSON: what --json prints, and how records look in it. Each command's answer has its
// schema in schema/json. The JSON library itself is included where an answer is put together.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
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
Json or_null(const std::optional<double>& value);
Json or_null(const std::optional<int>& value);
Json or_null(const std::optional<std::int64_t>& value);
Json or_null(const std::optional<std::uint64_t>& value);
Json or_null(const std::string& text);
Json or_null(const std::optional<records::Date>& date);
Json or_null(const std::optional<records::Moment>& moment);

Json to_json(const records::Sowing& sowing);
Json to_json(const records::Count& count);
Json to_json(const records::Lot& lot);

}  // namespace plumule::cli
