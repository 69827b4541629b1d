// The looks of one sowing joined with what the logbook has of it, derived and checked as a whole.
#pragma once

#include <vector>

#include "logbook/flat/bulk_insert.hpp"
#include "logbook/flat/merge.hpp"
#include "logbook/record/course_rows.hpp"
#include "records/course.hpp"

namespace plumule::logbook {

class FlatCourses {
 public:
  explicit FlatCourses(FlatMerge& merge);

  // The looks of the sowing, which must come in the order of the file's sowings. `record` is the
  // sowing as it is now in the logbook, with its id.
  void take(std::uint32_t sowing, const records::Sowing& record);
  // Once all sowings were taken.
  void finish() { insert_.finish(); }

 private:
  // Where a count of the course comes from.
  struct Place {
    static constexpr std::size_t of_logbook = static_cast<std::size_t>(-1);
    std::size_t look = 0;  // in looks_, or of_logbook where the file has none for it
    bool stood = false;    // the logbook has a count at that moment
  };

  void gather(std::uint32_t sowing);
  void join(const std::vector<records::Count>& stored);
  void derive_all(const records::Sowing& record, std::uint32_t line);
  void check_assessed(const records::Sowing& record);
  void check_figures(const records::Sowing& record);
  void insert(records::Id sowing);
  void write(records::Id sowing, const std::vector<CountRow>& was);
  void bad(const FlatLook& look, std::string_view column, std::string reason,
           std::vector<records::Hint> hints = {});

  FlatMerge& merge_;
  BulkInsert insert_;
  const FlatLook* next_;
  std::vector<FlatLook> looks_;
  std::vector<records::Count> counts_;
  std::vector<Place> places_;
};

// What a fault of a course is in a row of the flat log: the column to look at, and why.
struct FlatFault {
  std::string_view column;
  std::string reason;
};
FlatFault flat_fault(const records::Sowing& sowing, const std::vector<records::Count>& counts,
                     const records::Trouble& trouble, const FlatLook& look);

}  // namespace plumule::logbook
