// Importing a flat log: read whole, then merged into the logbook within the entry, all or nothing.
#include <optional>

#include "logbook/flat/bulk_load.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/flat/merge.hpp"

namespace plumule::logbook {
namespace {

// Below this many looks the file's own guards test each of them; above, all are tested at once.
constexpr std::size_t many_looks = 2000;

class Savepoint {
 public:
  explicit Savepoint(Store& store) : store_(store) { store.run("savepoint flat_log"); }
  Savepoint(const Savepoint&) = delete;
  Savepoint& operator=(const Savepoint&) = delete;
  ~Savepoint() {
    if (!kept_) store_.database().tryExec("rollback to flat_log; release flat_log");
  }
  void keep() {
    store_.run("release flat_log");
    kept_ = true;
  }

 private:
  Store& store_;
  bool kept_ = false;
};

// Crops of which nothing is known, each once, as first spelled.
std::vector<std::string> unknown_crops(const FlatFile& file, const ImportOptions& options) {
  std::vector<std::string> unknown;
  if (!options.known_crop) return unknown;
  std::vector<bool> seen(file.texts.size(), false);
  const auto look_at = [&](TextId crop) {
    if (crop == 0 || seen[crop]) return;
    seen[crop] = true;
    if (!options.known_crop(file.texts.text(crop))) unknown.emplace_back(file.texts.text(crop));
  };
  std::size_t crop = 0;
  while (lot_facts()[crop].column != "crop") ++crop;
  for (std::uint32_t i = 0; i < file.lots.size(); ++i) look_at(file.lots.said(i, crop));
  const std::size_t own = FlatFile::sowing_fact("sowing_crop");
  for (std::uint32_t i = 0; i < file.sowings.size(); ++i) look_at(file.sowings.said(i, own));
  return unknown;
}

void merge_all(FlatMerge& merge) {
  std::optional<BulkLoad> bulk;
  if (merge.batch > 1) bulk.emplace(merge.store);
  merge_names(merge);
  settle_labels(merge);
  merge_sowings(merge);
  if (!merge.errors.any()) merge_seen(merge);
  if (!merge.file.looks.sound())
    merge.errors.add(0, "", "", "the rows could not be read back from a temporary file");
  if (bulk && !merge.errors.any() && !bulk->lay())
    merge.errors.add(0, "", "", "the logbook's own rules refuse a count of this file");
}

}  // namespace

ImportSummary import_flat_log(Entry& entry, const Reader& read, const ImportOptions& options) {
  ImportSummary summary;
  FlatErrors errors(options.most_errors);
  FlatFile file;
  if (read_flat_file(read, options, entry.today(), file, errors, summary.ignored_columns)) {
    Store& store = entry.logbook().store();
    Savepoint savepoint(store);
    const std::size_t batch = file.looks.size() > many_looks ? 64 : 1;
    FlatMerge merge{entry, store, file, errors, summary, batch, {}};
    merge_all(merge);
    if (!errors.any()) savepoint.keep();
    summary.unknown_crops = unknown_crops(file, options);
  }
  summary.rows = file.rows;
  errors.give(summary);
  if (!errors.any())
    entry.say("imported " + std::to_string(summary.counts_new) + " counts and " +
              std::to_string(summary.sowings_new) + " sowings from a flat log");
  return summary;
}

}  // namespace plumule::logbook
