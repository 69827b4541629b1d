// Where the ledger of changes does not lead to what stands: a change is missing, or a row is not as
// its last change left it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "logbook/store/store.hpp"

namespace plumule::logbook {

struct LedgerFault {
  std::int64_t line = 0;  // of the journal, whose change it is
  std::string fact;
};
using LedgerFaults = std::vector<LedgerFault>;

// But for lines whose rows were accepted as another program left them.
LedgerFaults ledger_faults(Store& store);

}  // namespace plumule::logbook
