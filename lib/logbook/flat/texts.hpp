// Texts of a file, each kept once and known by a number: so that a hundred thousand sowings with a
// dozen facts each are held in a few MiB and compared by number.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace plumule::logbook {

using TextId = std::uint32_t;  // 0 is the empty text

// A text stays where it is once it is kept: a view of it holds as long as this does.
class Texts {
 public:
  Texts();
  static constexpr TextId none = 0xFFFFFFFF;

  TextId id(std::string_view text);
  TextId find(std::string_view text) const;  // none where it is not kept
  std::string_view text(TextId id) const { return texts_[id]; }
  std::size_t size() const { return texts_.size(); }

 private:
  void grow();
  std::string_view keep(std::string_view text);

  std::vector<std::unique_ptr<char[]>> chunks_;
  std::size_t left_ = 0;  // bytes free in the last chunk
  char* free_ = nullptr;
  std::vector<std::string_view> texts_;
  std::vector<TextId> slots_;  // open addressing; 0 is free (the empty text is never sought)
};

// What a file's rows say of things of one kind: for each thing its name, the line where it was
// first met, and a text for each of the columns that the file has.
class FactTable {
 public:
  static constexpr std::uint32_t none = 0xFFFFFFFF;

  explicit FactTable(std::size_t columns) : columns_(columns) {}

  // The thing of that key (a folded name), made if new. `name` is the spelling to keep.
  std::uint32_t thing(Texts& texts, std::string_view key, TextId name, std::uint32_t line);
  std::uint32_t find(const Texts& texts, std::string_view key) const;  // or none

  // Says `text` of a column. Returns the other text where one is there that differs, else 0.
  TextId say(std::uint32_t thing, std::size_t column, TextId text);
  TextId said(std::uint32_t thing, std::size_t column) const {
    return texts_[thing * columns_ + column];
  }
  TextId name(std::uint32_t thing) const { return things_[thing].name; }
  std::uint32_t line(std::uint32_t thing) const { return things_[thing].line; }
  std::size_t columns() const { return columns_; }
  std::uint32_t size() const { return static_cast<std::uint32_t>(things_.size()); }

 private:
  struct Thing {
    TextId name;
    std::uint32_t line;
  };
  std::size_t columns_;
  std::vector<Thing> things_;
  std::vector<TextId> texts_;
  std::vector<std::uint32_t> of_key_;  // by the key's number
};

}  // namespace plumule::logbook
