#include "logbook/record/find.hpp"

#include <algorithm>
#include <array>

#include "logbook/record/lots.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/store/store.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Refused;

constexpr std::array<const char*, 5> kind_words = {"sowing", "trial", "lot", "treatment", "crop"};

const char* word(NameKind kind) { return kind_words[static_cast<std::size_t>(kind)]; }

std::optional<Named> crop_called(Store& store, const std::string& text) {
  // One table after the other, so that each is found by its index.
  for (const char* sql : {"select crop from lots where crop = ? collate nocase limit 1",
                          "select crop from sowings where crop = ? collate nocase limit 1"}) {
    Query find(store, sql, text);
    if (find.next()) return Named{NameKind::crop, find.text(0), 0};
  }
  return std::nullopt;
}

std::optional<Named> of_kind(Logbook& logbook, NameKind kind, const std::string& text) {
  switch (kind) {
    case NameKind::sowing:
      if (const auto sowing = find_sowing(logbook, text))
        return Named{kind,
                     text.find('@') == std::string::npos && sowing->open() ? sowing->label
                                                                           : sowing->dated_label(),
                     sowing->id};
      return std::nullopt;
    case NameKind::trial:
      if (const auto trial = find_trial(logbook, text)) return Named{kind, trial->code, trial->id};
      return std::nullopt;
    case NameKind::lot:
      if (const auto lot = find_lot(logbook, text)) return Named{kind, lot->code, lot->id};
      return std::nullopt;
    case NameKind::treatment:
      if (const auto treatment = find_treatment(logbook, text))
        return Named{kind, treatment->label, treatment->id};
      return std::nullopt;
    case NameKind::crop:
      break;
  }
  return crop_called(logbook.store(), text);
}

std::vector<std::string> all_names(Store& store) {
  std::vector<std::string> names;
  Query find(store,
             "select label from sowings union select code from lots union select code from trials "
             "union select label from treatments union select crop from lots where crop is not "
             "null union select crop from sowings where crop is not null");
  while (find.next()) names.push_back(find.text(0));
  return names;
}

}  // namespace

std::string unknown_name(const std::string& what, const std::string& text,
                         const std::vector<std::string>& known) {
  std::string sentence = "There is no " + what + " \"" + text + "\".";
  const auto near = records::nearest(text, known);
  for (std::size_t i = 0; i < near.size(); ++i)
    sentence += (i == 0 ? " Near it: " : ", ") + near[i] + (i + 1 == near.size() ? "." : "");
  if (known.empty()) sentence += " The logbook has none yet.";
  return sentence;
}

Named named(Logbook& logbook, const std::string& text) {
  if (const auto colon = text.find(':'); colon != std::string::npos) {
    const std::string kind_text = text.substr(0, colon);
    const std::string name = text.substr(colon + 1);
    for (std::size_t i = 0; i < kind_words.size(); ++i) {
      if (kind_text != kind_words[i]) continue;
      const auto kind = static_cast<NameKind>(i);
      if (const auto found = of_kind(logbook, kind, name)) return *found;
      // The refusals of these carry the nearest names.
      if (kind == NameKind::sowing) sowing_named(logbook, name);
      if (kind == NameKind::trial) trial_named(logbook, name);
      if (kind == NameKind::lot) lot_named(logbook, name);
      if (kind == NameKind::treatment) treatment_named(logbook, name);
      throw Refused(unknown_name("crop", name, all_names(logbook.store())));
    }
    throw Refused("\"" + text +
                  "\": before the colon stands sowing, trial, lot, treatment or crop.");
  }
  std::vector<Named> found;
  for (std::size_t i = 0; i < kind_words.size(); ++i)
    if (const auto one = of_kind(logbook, static_cast<NameKind>(i), text)) found.push_back(*one);
  if (found.size() == 1) return found[0];
  if (found.size() > 1) {
    std::vector<std::string> kinds;
    std::vector<std::string> ways;
    for (const Named& one : found) {
      kinds.push_back("a " + std::string(word(one.kind)));
      ways.push_back(std::string(word(one.kind)) + ':' + text);
    }
    throw Refused(text + " is " + records::listed(kinds) + ". Which is meant? Write " +
                  records::listed(ways, "or") + '.');
  }
  throw Refused(
      unknown_name("sowing, trial, lot, treatment or crop", text, all_names(logbook.store())));
}

Selection selection_of(Logbook& logbook, const Named& name) {
  (void)logbook;
  Selection selection;
  switch (name.kind) {
    case NameKind::sowing:
      selection.sowings.push_back(name.id);
      break;
    case NameKind::trial:
      selection.trial = name.name;
      break;
    case NameKind::lot:
      selection.lot = name.name;
      break;
    case NameKind::treatment:
      selection.treatment = name.name;
      break;
    case NameKind::crop:
      selection.crop = name.name;
      break;
  }
  return selection;
}

}  // namespace plumule::logbook
