#include "random/player.hpp"

#include <filesystem>
#include <stdexcept>

#include "logbook/folder.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "random/schema_check.hpp"
#include "records/date.hpp"

namespace plumule::tests {
namespace {

using logbook::Access;
using logbook::Logbook;

constexpr std::int64_t first_day = 20544;  // 2026-04-01, in days since 1970

}  // namespace

Player::Player(const std::string& folder, unsigned seed) : folder_(folder), random_(seed) {
  if (type("init").status != 0) fail("no logbook");
  Logbook book = Logbook::open(folder_ + "/log.db", Access::read);
  record_ = record_of(book);
}

std::int64_t Player::below(std::int64_t end) {
  return static_cast<std::int64_t>(random_() % static_cast<unsigned>(end));
}

std::string Player::label() { return "A" + std::to_string(1 + below(5)); }

std::string Player::date(std::int64_t day) {
  return records::to_text(records::Date(std::chrono::days(day)));
}

void Player::fail(const std::string& why) const {
  std::string story = why + "\n" + lines_.back() + "\nwhat was typed:\n";
  for (const std::string& line : lines_) story += "  plumule " + line + '\n';
  throw std::runtime_error(story);
}

Answer Player::type(const std::string& line) {
  lines_.push_back(line);
  std::vector<std::string> words = words_of(line);
  words.insert(words.end(), {"--log", "{}/log.db", "--today", "2026-05-20", "--who", "ada"});
  const std::string command = words.front();
  const bool json = command != "nonsense" && command != "export" && chance(3);
  if (json) words.emplace_back("--json");
  const Answer answer = run_command(words, folder_);
  if (answer.status < 0 || answer.status > 2 || answer.err.find("went wrong") != std::string::npos)
    fail("status " + std::to_string(answer.status) + ": " + answer.err);
  if (answer.status != 0 && answer.err.empty()) fail("refused without a word");
  if (json && answer.status == 0) {
    ++answers;
    if (const std::string fault = against_schema(command, answer.out); !fault.empty())
      fail("its JSON is not as its schema says: " + fault);
  }
  return answer;
}

void Player::step() {
  switch (below(26)) {
    case 0:
    case 1:
      return sow();
    case 2:
    case 3:
      return amend();
    case 4:
      return remove();
    case 5:
      return change_seeds();
    case 6:
    case 7:
      return end_or_reopen();
    case 8:
      return assess();
    case 9:
    case 10:
      return observe();
    case 11:
      return ask();
    case 12:
    case 13:
      return take_back();
    case 14:
    case 15:
      return nonsense();
    default:
      return count();
  }
}

void Player::expect(const std::string& line, Fate fate, Trays next) {
  const Answer answer = type(line);
  if ((answer.status == 0) != (fate != Fate::refused))
    fail((answer.status == 0 ? "taken, but it cannot be: " : "refused, but it can be: ") +
         answer.out + answer.err);
  Logbook book = Logbook::open(folder_ + "/log.db", Access::read);
  for (const records::Refusal& wrong : check(book)) fail("not sound: " + wrong.fact);
  const std::string now = record_of(book);
  if ((now != record_) != (fate == Fate::taken))
    fail(fate == Fate::taken ? "taken, and nothing changed" : "something changed in the record");
  refused += fate == Fate::refused ? 1 : 0;
  if (fate != Fate::taken) return;
  ++taken;
  before_.emplace_back(std::move(record_), std::move(trays_));
  record_ = now;
  trays_ = std::move(next);
  compare();
}

// What the logbook holds of each tray is what the model works out.
void Player::compare() {
  Logbook book = Logbook::open(folder_ + "/log.db", Access::read);
  for (const auto& [name, tray] : trays_) {
    const records::Sowing sowing = sowing_named(book, name);
    const auto counts = counts_of(book, sowing.id);
    const auto up = tray.up();
    if (sowing.units != tray.units || sowing.open() == tray.ended_day.has_value() ||
        counts.size() != up.size())
      fail(name + " is not as in the model");
    std::size_t i = 0;
    for (const auto& [minute, look] : tray.looks) {
      if (counts[i].at.minutes() != minute || counts[i].total != up[i])
        fail(name + ": " + std::to_string(counts[i].total) + " up in the logbook, " +
             std::to_string(up[i]) + " in the model");
      ++i;
    }
  }
}

void Player::sow() {
  const std::string name = label();
  Notebook tray;
  tray.sown_day = first_day + below(15);
  tray.units = 1 + below(30);
  Trays next = trays_;
  const bool free = next.emplace(name, tray).second;
  // One that ended may be sown again; the model keeps one of a label, and does not.
  if (!free && trays_[name].ended_day) return;
  expect("sow " + name + " --crop bean --seeds " + std::to_string(*tray.units) + " --on " +
             date(tray.sown_day),
         free ? Fate::taken : Fate::refused, next);
}

bool Player::any_lost(const Notebook& tray) {
  return std::any_of(tray.looks.begin(), tray.looks.end(),
                     [](const auto& each) { return each.second.lost > 0; });
}

std::string Player::written(const Look& look) {
  std::string text = look.kind == 1 ? "+" : "=";
  text += std::to_string(look.value);
  if (look.high) text += ".." + std::to_string(*look.high);
  if (look.kind == 2) text += '-' + std::to_string(look.lost);
  if (look.seedlings) text += '/' + std::to_string(*look.seedlings);
  return text;
}

// Mostly near what could be, at times far from it. A plain total is typed only where none was lost,
// for after a loss it may be meant in two ways.
Look Player::a_look(const Notebook& tray, std::int64_t minute) {
  std::int64_t before = 0;
  std::size_t i = 0;
  const auto up = tray.up();
  for (const auto& [other, unused] : tray.looks) {
    if (other >= minute) break;
    before = up[i++];
  }
  Look made;
  const std::int64_t slip = chance(4) ? below(9) - 3 : below(3);
  made.kind = any_lost(tray) ? static_cast<int>(1 + below(2)) : static_cast<int>(below(3));
  if (made.kind == 0) made.value = before + slip;
  if (made.kind == 1) made.value = slip;
  if (made.kind == 2) {
    made.lost = 1 + below(2);
    made.value = before - made.lost + slip;
  }
  made.value = std::max<std::int64_t>(made.value, 0);
  if (made.kind < 2 && chance(6)) made.high = made.value + 1 + below(3);
  return made;
}

void Player::count() {
  const std::string name = label();
  if (!trays_.contains(name)) return trays_.size() < 3 ? sow() : nonsense();
  Notebook tray = trays_[name];
  const std::int64_t day = tray.sown_day - 1 + below(25);
  const std::int64_t minute = day * 1440 + 720;
  const Look made = a_look(tray, minute);
  const auto stands = tray.looks.find(minute);
  Fate fate = Fate::refused;
  if (stands != tray.looks.end()) {
    const Look& had = stands->second;
    const bool same = written(had) == written(made) ||
                      (made.kind == 1 && made.value == 0 && !made.high && !made.seedlings);
    if (same) fate = Fate::nothing_new;
  } else {
    tray.looks[minute] = made;
    const bool too_late = tray.accident && tray.ended_day == day;
    if (tray.can_be() && !too_late) fate = Fate::taken;
  }
  Trays next = trays_;
  next[name] = tray;
  expect("count " + name + written(made) + " --on " + date(day), fate, next);
}

void Player::amend() {
  const std::string name = label();
  if (!trays_.contains(name) || trays_[name].looks.empty()) return count();
  Notebook tray = trays_[name];
  auto found = tray.looks.begin();
  std::advance(found, below(static_cast<std::int64_t>(tray.looks.size())));
  const Look made = a_look(tray, found->first);
  const bool same = written(found->second) == written(made);
  found->second = made;
  Trays next = trays_;
  next[name] = tray;
  const Fate fate = same ? Fate::nothing_new : tray.can_be() ? Fate::taken : Fate::refused;
  expect("amend " + name + " --on " + date(found->first / 1440) + ' ' + written(made), fate, next);
}

void Player::remove() {
  const std::string name = label();
  if (!trays_.contains(name) || trays_[name].looks.empty()) return count();
  Notebook tray = trays_[name];
  auto found = tray.looks.begin();
  std::advance(found, below(static_cast<std::int64_t>(tray.looks.size())));
  const std::int64_t day = found->first / 1440;
  tray.looks.erase(found);
  Trays next = trays_;
  next[name] = tray;
  expect("amend " + name + " --on " + date(day) + " --remove",
         tray.can_be() ? Fate::taken : Fate::refused, next);
}

void Player::change_seeds() {
  const std::string name = label();
  if (!trays_.contains(name)) return trays_.size() < 3 ? sow() : nonsense();
  Notebook tray = trays_[name];
  const auto had = tray.units;
  tray.units = 1 + below(30);
  Trays next = trays_;
  next[name] = tray;
  const bool can = tray.can_be() && tray.assessed <= *tray.units;
  expect("amend " + name + " --seeds " + std::to_string(*tray.units),
         tray.units == had ? Fate::nothing_new
         : can             ? Fate::taken
                           : Fate::refused,
         next);
}

void Player::end_or_reopen() {
  const std::string name = label();
  if (!trays_.contains(name)) return trays_.size() < 3 ? sow() : nonsense();
  Notebook tray = trays_[name];
  Trays next = trays_;
  if (tray.ended_day) {
    next[name].ended_day.reset();
    next[name].accident = false;
    return expect("amend " + name + " --reopen", Fate::taken, next);
  }
  const std::int64_t day = tray.sown_day - 1 + below(28);
  const char* const how[] = {"", " --failed 'dried out'", " --given-up", " --accident eaten"};
  const std::int64_t ending = below(4);
  tray.ended_day = day;
  tray.accident = ending == 3;
  next[name] = tray;
  expect("end " + name + how[ending] + " --on " + date(day),
         day >= tray.sown_day && tray.can_be() ? Fate::taken : Fate::refused, next);
}

void Player::assess() {
  const std::string name = label();
  if (!trays_.contains(name)) return trays_.size() < 3 ? sow() : nonsense();
  Notebook tray = trays_[name];
  const std::int64_t units = 1 + below(4);
  tray.assessed += units;
  Trays next = trays_;
  next[name] = tray;
  const bool can = tray.can_be() && tray.assessed <= *tray.units;
  expect("assess " + name + " rotted=" + std::to_string(units) + " --on 2026-05-19",
         can ? Fate::taken : Fate::refused, next);
}

void Player::observe() {
  const std::string name = label();
  if (!trays_.contains(name)) return trays_.size() < 3 ? sow() : nonsense();
  const std::string number = std::to_string(below(1'000'000));
  if (chance(2)) return expect("note " + name + " 'word " + number + "'", Fate::taken, trays_);
  if (chance(2)) return expect("lot L" + number + " --crop leek", Fate::taken, trays_);
  expect("temp " + name + '=' + std::to_string(5 + below(20)) + ".5 --on " +
             date(first_day + 20 + below(20)) + 'T' + (chance(2) ? "07" : "18") + ':' +
             std::to_string(10 + below(50)),
         Fate::taken, trays_);
}

void Player::ask() {
  const char* const questions[] = {"summary", "summary --by crop", "today",          "check",
                                   "lot",     "undo --list",       "summary --full", "export"};
  expect(questions[below(8)], Fate::nothing_new, trays_);
}

void Player::take_back() {
  if (before_.empty()) return expect("undo", Fate::refused, trays_);
  const Answer answer = type("undo");
  if (answer.status != 0) fail("nothing is taken back: " + answer.err);
  ++taken_back;
  Logbook book = Logbook::open(folder_ + "/log.db", Access::read);
  for (const records::Refusal& wrong : check(book)) fail("not sound: " + wrong.fact);
  const std::string now = record_of(book);
  record_ = std::move(before_.back().first);
  trays_ = std::move(before_.back().second);
  before_.pop_back();
  if (now != record_) fail("taken back, and the record is not as it was before");
  compare();
}

void Player::nonsense() {
  const std::string name = label();
  const std::string lines[] = {
      "count Z9=3",
      "count " + name + "==",
      "count " + name + "=12-",
      "count " + name + "=-3",
      "count " + name + "=5 --on 2026-02-30",
      "count " + name + "=1e3",
      "count " + name + "=99999999999999999999",
      "count " + name + "=1 --on 2027-01-01",
      "amend " + name + " --seeds 0",
      "amend Z9 =4",
      "end Z9",
      "temp " + name + "=4000",
      "sow B1 --crop bean --seeds -4",
      "sow B1 --crop bean --seeds many",
      "note Z9 word",
      "assess " + name + " lost=3",
      "lot",
      "nonsense " + name,
      "undo --of nobody",
      "import {}/none.csv",
      "count " + name + "=1 --no-such-option",
  };
  const std::string& line = lines[below(static_cast<std::int64_t>(std::size(lines)))];
  expect(line, line == "lot" ? Fate::nothing_new : Fate::refused, trays_);
}

void Player::round_trip() {
  const auto typed_there = [&](const std::string& line) {
    std::vector<std::string> words = words_of(line);
    words.insert(words.end(), {"--today", "2026-05-20", "--who", "ada"});
    const Answer answer = run_command(words, folder_);
    if (answer.status != 0) fail(line + ": " + answer.out + answer.err);
  };
  for (const char* const name : {"first.csv", "again.db", "again.db-journal", "again.csv"})
    std::filesystem::remove(folder_ + '/' + name);
  typed_there("export {}/first.csv --log {}/log.db");
  typed_there("init --log {}/again.db");
  typed_there("import {}/first.csv --log {}/again.db");
  typed_there("export {}/again.csv --log {}/again.db");
  if (bytes_of(folder_ + "/first.csv") != bytes_of(folder_ + "/again.csv"))
    fail("exported, imported and exported again it is another:\n" +
         bytes_of(folder_ + "/first.csv") + "\n" + bytes_of(folder_ + "/again.csv"));
}

}  // namespace plumule::tests
