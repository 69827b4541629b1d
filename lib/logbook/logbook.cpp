#include "logbook/logbook.hpp"

#include "logbook/store/store.hpp"
#include "logbook/upkeep/migrations.hpp"
#include "logbook/upkeep/opening.hpp"

namespace plumule::logbook {

Logbook::Logbook(std::unique_ptr<Store> store) : store_(std::move(store)) {}
Logbook::Logbook(Logbook&&) noexcept = default;
Logbook& Logbook::operator=(Logbook&&) noexcept = default;
Logbook::~Logbook() = default;

Logbook Logbook::create(const std::string& path) { return Logbook(create_store(path)); }

Leftovers Logbook::create_filled(const std::string& path,
                                 const std::function<void(Logbook&)>& fill) {
  return create_file(path, fill);
}

Logbook Logbook::open(const std::string& path, Access access) {
  return open(path, access, ladder());
}

Logbook Logbook::open(const std::string& path, Access access, const Ladder& ladder) {
  return Logbook(open_store(path, access, ladder));
}

Logbook Logbook::open_as_found(const std::string& path) {
  return Logbook(open_store(path, Access::read, ladder(), Seals::noted));
}

Logbook Logbook::in_memory() {
  auto store = std::make_unique<Store>(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  lay_schema(*store, ladder());
  store->writable = true;
  return Logbook(std::move(store));
}

const std::string& Logbook::path() const { return store_->path(); }

const std::optional<std::string>& Logbook::migration_backup() const {
  return store_->migration_backup;
}

const Leftovers& Logbook::leftovers() const { return store_->leftovers(); }

bool Logbook::rolled_back() const { return store_->rolled_back(); }

void Logbook::tell_kept(bool& kept) { store_->kept = &kept; }

}  // namespace plumule::logbook
