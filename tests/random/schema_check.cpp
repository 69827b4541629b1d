#include "random/schema_check.hpp"

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>

#include "logbook/folder.hpp"
#include "support/csv.hpp"

namespace plumule::tests {
namespace {

using Json = nlohmann::json;

bool is_of(const Json& value, const std::string& type) {
  if (type == "integer")
    return value.is_number_integer() ||
           (value.is_number_float() && std::floor(value.get<double>()) == value.get<double>());
  return (type == "number" && value.is_number()) || (type == "string" && value.is_string()) ||
         (type == "boolean" && value.is_boolean()) || (type == "null" && value.is_null()) ||
         (type == "array" && value.is_array()) || (type == "object" && value.is_object());
}

const std::regex& pattern(const std::string& text) {
  static std::map<std::string, std::regex> known;
  const auto found = known.find(text);
  return found != known.end()
             ? found->second
             : known.emplace(text, std::regex(text, std::regex::ECMAScript)).first->second;
}

class Check {
 public:
  explicit Check(const Json& schema) : root_(schema) {}

  std::string first_fault(const Json& schema, const Json& value, const std::string& at) const {
    if (schema.is_boolean()) return schema.get<bool>() ? "" : at + " may not be there";
    for (const auto& [word, says] : schema.items()) {
      const std::string fault = one(schema, word, says, value, at);
      if (!fault.empty()) return fault;
    }
    return "";
  }

 private:
  std::string one(const Json& schema, const std::string& word, const Json& says, const Json& value,
                  const std::string& at) const {
    const auto unless = [&](bool right) {
      return right ? "" : at + " is " + value.dump() + ", against " + word + ' ' + says.dump();
    };
    if (word == "type") {
      if (says.is_string()) return unless(is_of(value, says));
      return unless(std::any_of(says.begin(), says.end(),
                                [&](const Json& type) { return is_of(value, type); }));
    }
    if (word == "enum") return unless(std::find(says.begin(), says.end(), value) != says.end());
    if (word == "minimum") return unless(!value.is_number() || value >= says);
    if (word == "maximum") return unless(!value.is_number() || value <= says);
    if (word == "maxItems") return unless(!value.is_array() || value.size() <= says);
    if (word == "pattern")
      return unless(!value.is_string() ||
                    std::regex_search(value.get_ref<const std::string&>(), pattern(says)));
    if (word == "$ref")
      return first_fault(root_.at(Json::json_pointer(says.get<std::string>().substr(1))), value,
                         at);
    if (word == "anyOf" || word == "oneOf") {
      const auto fit = std::count_if(says.begin(), says.end(), [&](const Json& each) {
        return first_fault(each, value, at).empty();
      });
      return unless(word == "anyOf" ? fit > 0 : fit == 1);
    }
    if (word == "items") return of_items(says, value, at);
    if (word == "required") return of_required(says, value, at);
    if (word == "properties" || word == "additionalProperties")
      return of_members(schema, word, value, at);
    if (word == "title" || word == "description" || word == "$schema" || word == "$defs") return "";
    return "the schema says " + word + ", which is not checked";
  }

  std::string of_items(const Json& says, const Json& value, const std::string& at) const {
    if (!value.is_array()) return "";
    for (std::size_t i = 0; i < value.size(); ++i)
      if (std::string fault = first_fault(says, value[i], at + '/' + std::to_string(i));
          !fault.empty())
        return fault;
    return "";
  }

  static std::string of_required(const Json& says, const Json& value, const std::string& at) {
    if (!value.is_object()) return "";
    for (const Json& name : says)
      if (!value.contains(name.get<std::string>())) return at + " has no " + name.dump();
    return "";
  }

  std::string of_members(const Json& schema, const std::string& word, const Json& value,
                         const std::string& at) const {
    if (!value.is_object()) return "";
    const Json none = Json::object();
    const Json& named = schema.contains("properties") ? schema["properties"] : none;
    for (const auto& [name, member] : value.items()) {
      const bool known = named.contains(name);
      if (known != (word == "properties")) continue;
      const Json& says = known ? named[name] : schema[word];
      if (std::string fault = first_fault(says, member, at + '/' + name); !fault.empty())
        return fault;
    }
    return "";
  }

  const Json& root_;
};

}  // namespace

std::string against_schema(const std::string& name, const std::string& answer) {
  static std::map<std::string, Json> schemas;
  auto found = schemas.find(name);
  if (found == schemas.end())
    found =
        schemas
            .emplace(name,
                     Json::parse(bytes_of(tests_folder() + "/../schema/json/" + name + ".json")))
            .first;
  const Json value = Json::parse(answer, nullptr, false);
  if (value.is_discarded()) return "it is no JSON";
  return Check(found->second).first_fault(found->second, value, "");
}

}  // namespace plumule::tests
