#include "faults/power_cut.hpp"

#include <algorithm>

#include "logbook/folder.hpp"

namespace plumule::tests {
namespace {

constexpr std::size_t sector = 512;

void apply(const Deed& deed, std::string& bytes) {
  const auto at = static_cast<std::size_t>(deed.at);
  if (deed.what == Deed::What::cut) {
    bytes.resize(at);
    return;
  }
  if (bytes.size() < at + deed.bytes.size()) bytes.resize(at + deed.bytes.size());
  bytes.replace(at, deed.bytes.size(), deed.bytes);
}

}  // namespace

Disk::Disk(const std::string& folder, const std::vector<std::string>& names) {
  for (std::size_t i = 0; i < names.size(); ++i) {
    files_[static_cast<int>(i)].synced = bytes_of(folder + '/' + names[i]);
    names_[names[i]] = static_cast<int>(i);
  }
  now_ = names_;
}

void Disk::take(const Deed& deed) {
  switch (deed.what) {
    case Deed::What::write:
    case Deed::What::cut:
      files_[deed.file].since.push_back(deed);
      return;
    case Deed::What::sync: {
      File& file = files_[deed.file];
      for (const Deed& each : file.since) apply(each, file.synced);
      file.since.clear();
      return;
    }
    case Deed::What::sync_folder:
      names_ = now_;
      since_.clear();
      return;
    case Deed::What::make:
      files_[deed.file];
      now_[deed.name] = deed.file;
      break;
    case Deed::What::link:
      now_[deed.name] = now_[deed.former];
      break;
    case Deed::What::rename:
      now_[deed.name] = now_[deed.former];
      now_.erase(deed.former);
      break;
    case Deed::What::remove:
      now_.erase(deed.name);
      break;
  }
  since_.push_back(now_);
}

std::string Disk::drawn(const File& file, Survives survives, std::mt19937& random) {
  std::string kept = file.synced;
  if (survives == Survives::nothing || survives == Survives::names_only) return kept;
  std::string now = file.synced;
  const std::size_t moments = file.since.size();
  const std::size_t length = random() % (moments + 1);
  std::size_t size = kept.size();
  std::map<std::size_t, std::size_t> last;  // by sector: after how many writes it was kept
  for (std::size_t i = 0; i < moments; ++i) {
    const Deed& deed = file.since[i];
    apply(deed, now);
    if (i + 1 == length) size = now.size();
    if (deed.what == Deed::What::cut) continue;
    const auto first = static_cast<std::size_t>(deed.at) / sector;
    const auto end = (static_cast<std::size_t>(deed.at) + deed.bytes.size() + sector - 1) / sector;
    for (std::size_t s = first; s < end; ++s) {
      const auto found = last.try_emplace(s, random() % (moments + 1)).first;
      if (i + 1 > found->second) continue;
      const std::string piece = now.substr(s * sector, sector);
      if (kept.size() < s * sector + piece.size()) kept.resize(s * sector + piece.size());
      kept.replace(s * sector, piece.size(), piece);
    }
  }
  if (survives == Survives::all) return now;
  kept.resize(size);
  return kept;
}

std::map<std::string, std::string> Disk::after_cut(Survives survives, std::mt19937& random) const {
  const Names* names = &names_;
  if (survives == Survives::all || survives == Survives::names_only) names = &now_;
  if (survives == Survives::by_lot)
    if (const std::size_t some = random() % (since_.size() + 1); some > 0)
      names = &since_[some - 1];
  std::map<std::string, std::string> found;
  for (const auto& [name, file] : *names) found[name] = drawn(files_.at(file), survives, random);
  return found;
}

}  // namespace plumule::tests
