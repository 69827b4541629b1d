// Whether a JSON answer is as its schema in schema/json says: the part of JSON Schema that these
// use (https://json-schema.org/draft/2020-12), fast enough for every answer of a long random test.
#pragma once

#include <string>

namespace plumule::tests {

// Of `plumule NAME --json`. Empty, or where it is not so. A keyword that is not known here is told,
// too: a schema must not say what nobody checks.
std::string against_schema(const std::string& name, const std::string& answer);

}  // namespace plumule::tests
