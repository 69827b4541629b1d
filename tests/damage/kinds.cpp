#include "damage/kinds.hpp"

#include <algorithm>
#include <random>

namespace plumule::tests {
namespace {

std::string word(std::size_t number) { return std::to_string(number); }

std::size_t pages_of(const std::string& file) { return file.size() / page_size; }

// What stands at each place of the page is put there from another file or page.
std::string with_page(std::string file, std::size_t page, const std::string& from,
                      std::size_t from_page) {
  return file.replace(page * page_size, page_size, from, from_page * page_size, page_size);
}

std::string with_byte(std::string file, std::size_t at, char byte) {
  file[at] = byte;
  return file;
}

void damage_header(const Images& images, std::vector<Damaged>& all) {
  for (std::size_t at = 0; at < 100; ++at)
    for (const int byte : {0x00, 0xff, 0x01}) {
      const int was = static_cast<unsigned char>(images.log[at]);
      const int is = byte == 0x01 ? was ^ byte : byte;
      if (was != is)
        all.push_back({"byte " + word(at) + " of the header is " + std::to_string(is),
                       with_byte(images.log, at, static_cast<char>(is))});
    }
}

void damage_pages(const Images& images, std::vector<Damaged>& all) {
  const std::size_t pages = pages_of(images.log), older = pages_of(images.older);
  for (std::size_t page = 0; page < pages; ++page) {
    const std::string name = "page " + word(page + 1);
    all.push_back({name + " is lost",
                   std::string(images.log).replace(page * page_size, page_size, page_size, '\0')});
    all.push_back({name + " is another's",
                   with_page(images.log, page, images.log, (page + 1 + page % 7) % pages)});
    if (page < older && images.older.compare(page * page_size, page_size, images.log,
                                             page * page_size, page_size) != 0)
      all.push_back(
          {name + " is of a while ago", with_page(images.log, page, images.older, page), {}, true});
    if (page < pages_of(images.other))
      all.push_back(
          {name + " is of another logbook", with_page(images.log, page, images.other, page)});
    all.push_back({"cut short before " + name, images.log.substr(0, page * page_size)});
    all.push_back({"cut short in " + name, images.log.substr(0, page * page_size + 1000)});
  }
}

void damage_journal(const Images& images, std::vector<Damaged>& all) {
  all.push_back({"stopped in the midst of a commit", images.half, images.journal});
  all.push_back({"stopped, and the journal is lost", images.half});
  all.push_back({"stopped, and the journal is another's", images.half, images.other_journal});
  all.push_back({"sound, beside another's journal", images.log, images.other_journal});
  all.push_back({"sound, beside the journal of a later commit", images.log, images.journal});
  all.push_back({"of a while ago, beside a journal of now", images.older, images.journal});
  for (std::size_t at = 0; at < 120; ++at)
    all.push_back({"stopped, byte " + word(at) + " of the journal's head is hurt", images.half,
                   with_byte(images.journal, at, static_cast<char>(images.journal[at] ^ 0x41))});
  for (std::size_t size = 0; size < images.journal.size(); size += 1024)
    all.push_back({"stopped, the journal is cut to " + word(size), images.half,
                   images.journal.substr(0, size)});
}

class Draw {
 public:
  explicit Draw(std::uint32_t number) : random_(number) {}
  std::size_t below(std::size_t end) { return end == 0 ? 0 : random_() % end; }

 private:
  std::mt19937 random_;
};

void hurt(std::string& file, Draw& draw) {
  if (file.size() < 2 * page_size) return;
  const std::size_t at = draw.below(file.size());
  switch (draw.below(6)) {
    case 0:
      file[at] = static_cast<char>(file[at] ^ (1 << draw.below(8)));
      break;
    case 1:
      file[at] = static_cast<char>(draw.below(256));
      break;
    case 2:  // a run of a disk's sectors
      for (std::size_t i = at / 512 * 512, end = std::min(file.size(), i + 512); i < end; ++i)
        file[i] = static_cast<char>(draw.below(256));
      break;
    case 3: {
      const std::size_t a = draw.below(pages_of(file)), b = draw.below(pages_of(file));
      const std::string page = file.substr(a * page_size, page_size);
      file.replace(a * page_size, page_size, file, b * page_size, page_size);
      file.replace(b * page_size, page_size, page);
      break;
    }
    case 4:  // a few bytes left out, all after them moved up
      file.erase(at, 1 + draw.below(16));
      break;
    default:  // a small number where another stood: rows' sizes, links from page to page
      file[at] = static_cast<char>(file[at] + 1);
  }
}

}  // namespace

std::vector<Damaged> each_damage(const Images& images) {
  std::vector<Damaged> all;
  damage_header(images, all);
  damage_pages(images, all);
  damage_journal(images, all);
  return all;
}

Damaged drawn_damage(const Images& images, std::uint32_t number) {
  Draw draw(number);
  Damaged damaged{"drawn by number " + std::to_string(number), images.log};
  if (draw.below(4) == 0) damaged = {damaged.what + ", stopped", images.half, images.journal};
  for (std::size_t times = 1 + draw.below(4); times > 0; --times)
    hurt(damaged.journal.empty() || draw.below(2) == 0 ? damaged.log : damaged.journal, draw);
  return damaged;
}

}  // namespace plumule::tests
