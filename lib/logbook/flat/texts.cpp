#include "logbook/flat/texts.hpp"

#include <algorithm>
#include <functional>

namespace plumule::logbook {

Texts::Texts() : texts_(1), slots_(1024, 0) {}

TextId Texts::id(std::string_view text) {
  if (text.empty()) return 0;
  if (size() * 2 > slots_.size()) grow();
  const std::size_t mask = slots_.size() - 1;
  std::size_t slot = std::hash<std::string_view>{}(text)&mask;
  while (slots_[slot] != 0) {
    if (this->text(slots_[slot]) == text) return slots_[slot];
    slot = (slot + 1) & mask;
  }
  texts_.push_back(keep(text));
  return slots_[slot] = static_cast<TextId>(size() - 1);
}

TextId Texts::find(std::string_view text) const {
  if (text.empty()) return 0;
  const std::size_t mask = slots_.size() - 1;
  std::size_t slot = std::hash<std::string_view>{}(text)&mask;
  while (slots_[slot] != 0 && this->text(slots_[slot]) != text) slot = (slot + 1) & mask;
  return slots_[slot] != 0 ? slots_[slot] : none;
}

std::string_view Texts::keep(std::string_view text) {
  constexpr std::size_t least = 4 * 1024, most = 64 * 1024;  // a chunk, the first and the last
  if (text.size() > left_) {
    left_ =
        std::max(std::min(least << std::min<std::size_t>(chunks_.size(), 4), most), text.size());
    chunks_.push_back(std::make_unique_for_overwrite<char[]>(left_));
    free_ = chunks_.back().get();
  }
  char* const begin = free_;
  std::copy(text.begin(), text.end(), begin);
  free_ += text.size();
  left_ -= text.size();
  return {begin, text.size()};
}

void Texts::grow() {
  std::vector<TextId> wider(slots_.size() * 4, 0);
  const std::size_t mask = wider.size() - 1;
  for (const TextId id : slots_) {
    if (id == 0) continue;
    std::size_t slot = std::hash<std::string_view>{}(text(id)) & mask;
    while (wider[slot] != 0) slot = (slot + 1) & mask;
    wider[slot] = id;
  }
  slots_.swap(wider);
}

std::uint32_t FactTable::thing(Texts& texts, std::string_view key, TextId name,
                               std::uint32_t line) {
  const TextId id = texts.id(key);
  if (id >= of_key_.size()) of_key_.resize(std::max<std::size_t>(texts.size(), id + 1), none);
  if (of_key_[id] == none) {
    of_key_[id] = size();
    things_.push_back({name, line});
    texts_.resize(texts_.size() + columns_, 0);
  }
  return of_key_[id];
}

std::uint32_t FactTable::find(const Texts& texts, std::string_view key) const {
  const TextId id = texts.find(key);
  return id < of_key_.size() ? of_key_[id] : none;
}

TextId FactTable::say(std::uint32_t thing, std::size_t column, TextId text) {
  TextId& there = texts_[thing * columns_ + column];
  if (there == 0) there = text;
  return there == text || text == 0 ? 0 : there;
}

}  // namespace plumule::logbook
