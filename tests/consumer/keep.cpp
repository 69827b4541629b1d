// The logbook from another program: a lot, kept and found again.
#include <cstdio>
#include <plumule/logbook/record/lots.hpp>

int main() {
  auto book = plumule::logbook::Logbook::in_memory();
  plumule::logbook::Entry entry(book, "a program", "keep", plumule::records::Date{});
  plumule::records::Lot lot;
  lot.code = "BEAN-24";
  lot.crop = "bean";
  plumule::logbook::add_lot(entry, lot);
  entry.commit();
  std::printf("%s\n", plumule::logbook::lot_named(book, "bean-24").crop.c_str());
  return plumule::logbook::lots(book).size() == 1 ? 0 : 1;
}
