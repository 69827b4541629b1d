#include <algorithm>

#include "logbook/flat/merge.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/people.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"

namespace plumule::logbook {
namespace {

using records::Batch;
using records::Lot;
using records::Treatment;
using records::Trial;

// A lot's parents may come later in the file than the lot: they are joined once all are there.
void merge_parents(FlatMerge& merge, const std::vector<std::vector<records::Parent>>& parents) {
  for (std::uint32_t i = 0; i < parents.size(); ++i) {
    if (parents[i].empty()) continue;
    Lot bare;
    bare.code = merge.text(merge.file.lots.name(i));
    or_error(merge, lot_facts(), merge.file.lots, i, bare, [&] {
      if (auto lot = find_lot(merge.entry.logbook(), bare.code)) {
        lot->parents = parents[i];
        change_lot(merge.entry, *lot);
      }
    });
  }
}

void merge_lots(FlatMerge& merge) {
  const FactTable& table = merge.file.lots;
  std::vector<std::vector<records::Parent>> parents(table.size());
  for (std::uint32_t i = 0; i < table.size(); ++i) {
    Lot bare;
    bare.code = merge.text(table.name(i));
    auto there = find_lot(merge.entry.logbook(), bare.code);
    Lot lot = there ? *there : bare;
    const std::size_t had_parents = lot.parents.size();
    const bool changed = take_said(merge, "lot", lot_facts(), table, i, lot, !there);
    merge.places.lot_crops.push_back(lot.crop);
    merge.places.lot_varieties.push_back(lot.variety);
    merge.places.lots.push_back(lot.id);
    if (lot.parents.size() != had_parents) parents[i].swap(lot.parents);
    or_error(merge, lot_facts(), table, i, bare, [&] {
      if (!there) {
        merge.places.lots.back() = add_lot(merge.entry, lot);
        ++merge.summary.lots_new;
      } else if (changed) {
        change_lot(merge.entry, lot);
      }
    });
  }
  merge_parents(merge, parents);
}

void merge_treatments(FlatMerge& merge) {
  const FactTable& table = merge.file.treatments;
  for (std::uint32_t i = 0; i < table.size(); ++i) {
    Treatment bare;
    bare.label = merge.text(table.name(i));
    const auto there = find_treatment(merge.entry.logbook(), bare.label);
    Treatment treatment = there ? *there : bare;
    const bool changed =
        take_said(merge, "treatment", treatment_facts(), table, i, treatment, !there);
    merge.places.treatments.push_back(treatment.id);
    or_error(merge, treatment_facts(), table, i, bare, [&] {
      if (!there) {
        merge.places.treatments.back() = add_treatment(merge.entry, treatment);
        ++merge.summary.treatments_new;
      } else if (changed) {
        change_treatment(merge.entry, treatment);
      }
    });
  }
}

// A batch that stands keeps its day; the flat log has no way to change one.
void merge_batches(FlatMerge& merge) {
  const FactTable& table = merge.file.batches;
  for (std::uint32_t i = 0; i < table.size(); ++i) {
    Batch bare;
    bare.code = merge.text(table.name(i));
    bare.treatment = merge.text(table.said(i, merge.file.batch_treatment()));
    merge.places.batches.push_back(0);
    if (bare.treatment.empty()) bare.treatment = records::untreated;
    const auto there = find_batch(merge.entry.logbook(), bare.code);
    Batch batch = there ? *there : bare;
    const bool changed = take_said(merge, "batch", batch_facts(), table, i, batch, !there);
    if (there) {
      merge.places.batches.back() = there->id;
      if (!records::same_label(there->treatment, bare.treatment) || changed)
        merge.errors.add(table.line(i), "treated_in", bare.code,
                         "the logbook has a batch of that name, of " + there->treatment +
                             (there->made_on ? ", made on " + records::to_text(*there->made_on)
                                             : std::string(", without a day")) +
                             "; give this one another");
      continue;
    }
    or_error(merge, batch_facts(), table, i, bare, [&] {
      merge.places.batches.back() = add_batch(merge.entry, batch);
      ++merge.summary.batches_new;
    });
  }
}

// The blocks that the rows name, each trial's in the order of the file.
std::vector<std::vector<std::string>> blocks_named(FlatMerge& merge) {
  std::vector<std::vector<std::string>> named(merge.file.trials.size());
  for (std::uint32_t i = 0; i < merge.file.blocks.size(); ++i) {
    const std::string trial = folded(merge.file.texts.text(merge.file.blocks.said(i, 0)));
    named[merge.file.trials.find(merge.file.texts, trial)].push_back(
        merge.text(merge.file.blocks.name(i)));
  }
  return named;
}

void merge_trials(FlatMerge& merge) {
  const FactTable& table = merge.file.trials;
  const auto named = blocks_named(merge);
  for (std::uint32_t i = 0; i < table.size(); ++i) {
    Trial bare;
    bare.code = merge.text(table.name(i));
    const auto there = find_trial(merge.entry.logbook(), bare.code);
    Trial trial = there ? *there : bare;
    bool changed = take_said(merge, "trial", trial_facts(), table, i, trial, !there);
    const bool blocks_said = there && trial.blocks != there->blocks;
    for (const std::string& block : named[i]) {
      const auto same = [&block](const auto& one) { return records::same_label(one, block); };
      if (std::any_of(trial.blocks.begin(), trial.blocks.end(), same)) continue;
      trial.blocks.push_back(block);
      changed = true;
    }
    if (there && !blocks_said && trial.blocks != there->blocks) merge.filled_in("trial", "block");
    merge.places.trials.push_back(trial.id);
    or_error(merge, trial_facts(), table, i, bare, [&] {
      if (!there) {
        merge.places.trials.back() = add_trial(merge.entry, trial);
        ++merge.summary.trials_new;
      } else if (changed) {
        change_trial(merge.entry, trial);
      }
    });
  }
  for (std::uint32_t i = 0; i < merge.file.blocks.size(); ++i) {
    const std::string trial = folded(merge.file.texts.text(merge.file.blocks.said(i, 0)));
    Query find(merge.store, "select id from blocks where trial = ? and name = ?",
               merge.places.trials[merge.file.trials.find(merge.file.texts, trial)],
               merge.text(merge.file.blocks.name(i)));
    merge.places.blocks.push_back(find.next() ? find.integer(0) : 0);
  }
}

}  // namespace

std::optional<records::Id> FlatMerge::person_of(TextId name) {
  if (name == 0) return std::nullopt;
  const auto [found, made] = places.people.try_emplace(name);
  if (made) found->second = person(entry, text(name));
  return found->second;
}

void FlatMerge::filled_in(std::string_view kind, std::string_view column) {
  std::vector<FilledIn>& all = summary.filled_in;
  const auto same = [&](const FilledIn& one) { return one.kind == kind && one.column == column; };
  const auto there = std::find_if(all.begin(), all.end(), same);
  if (there == all.end())
    all.push_back({kind, column, 1});
  else
    ++there->things;
}

void merge_names(FlatMerge& merge) {
  merge_lots(merge);
  merge_treatments(merge);
  merge_batches(merge);
  merge_trials(merge);
}

}  // namespace plumule::logbook
