// Random commands, valid and invalid, against a plain model: the command takes what can be and
// refuses the rest with nothing written; after each the logbook is sound, the figures are the
// model's, each JSON answer is as its schema says, undo gives back what stood before row for row,
// and what is exported comes back the same.
//   random_commands [COMMANDS [SEED]]    (600 unless said; the long form is 100000)
#include <iostream>

#include "logbook/folder.hpp"
#include "logbook/processes.hpp"
#include "random/player.hpp"

using namespace plumule::tests;

int main(int argc, char** argv) {
  const int wanted = number_typed(argc, argv, 1, 600);
  const int seed = number_typed(argc, argv, 2, 1);
  if (wanted < 1 || seed < 1) return fail("random_commands [COMMANDS [SEED]]");
  int typed = 0, taken = 0, refused = 0, taken_back = 0, answers = 0, trips = 0;
  // A logbook lives for some 150 commands.
  for (unsigned game = static_cast<unsigned>(seed); typed < wanted; ++game) {
    const Folder folder;
    Player player(folder.path(), game);
    try {
      while (player.typed() < 150) player.step();
      player.round_trip();
    } catch (const std::exception& error) {
      return fail("seed " + std::to_string(game) + ": " + error.what());
    }
    typed += player.typed();
    taken += player.taken;
    refused += player.refused;
    taken_back += player.taken_back;
    answers += player.answers;
    ++trips;
  }
  std::cout << typed << " commands: " << taken << " taken, " << refused << " refused, "
            << taken_back << " taken back; " << answers << " JSON answers, " << trips
            << " round trips\n";
  if (taken < typed / 5 || refused < typed / 5 || taken_back < typed / 50 || answers < typed / 10)
    return fail("too little of a kind to show anything");
  return 0;
}
