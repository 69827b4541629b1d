// The sentence for each fault of a course: what was seen before, what may have happened, what to
// type. One function a fault; `Telling` holds what all of them need.
#include <algorithm>
#include <array>
#include <string>

#include "records/course.hpp"
#include "records/words.hpp"

namespace plumule::records {
namespace {

constexpr std::array number_words = {"None",  "One",   "Two",  "Three", "Four",   "Five",  "Six",
                                     "Seven", "Eight", "Nine", "Ten",   "Eleven", "Twelve"};

// "Two", at the start of a question; figures above twelve.
std::string how_many(std::int64_t n) {
  if (n >= 0 && n < static_cast<std::int64_t>(number_words.size()))
    return number_words[static_cast<std::size_t>(n)];
  return std::to_string(n);
}

std::string day_name(Date date) {
  static constexpr std::array days = {"Sunday",   "Monday", "Tuesday", "Wednesday",
                                      "Thursday", "Friday", "Saturday"};
  return days[std::chrono::weekday(date).c_encoding()];
}

std::string clock(int minute) {
  const auto two = [](int n) {
    return std::string{static_cast<char>('0' + n / 10), static_cast<char>('0' + n % 10)};
  };
  return two(minute / 60) + ':' + two(minute % 60);
}

class Telling {
 public:
  Telling(const Sowing& sowing, const std::vector<Count>& counts, const Trouble& trouble,
          std::size_t entered, std::optional<Date> today)
      : sowing_(sowing),
        counts_(counts),
        at_(trouble.index),
        entered_(entered),
        today_(today),
        name_(sowing.open() ? sowing.label : sowing.dated_label()) {}

  std::string tell(Fault fault) const {
    switch (fault) {
      case Fault::before_sowing:
        return before_sowing();
      case Fault::up_at_sowing:
        return up_at_sowing();
      case Fault::after_ending:
        return after_ending();
      case Fault::total_falls:
        return total_falls();
      case Fault::guess_below:
        return guess_below();
      case Fault::more_than_sown:
        return more_than_sown();
      case Fault::standing_rises:
        return standing_rises();
      case Fault::seedlings_fall:
        return seedlings_fall();
      case Fault::seedlings_below_units:
        return seedlings_below_units();
      case Fault::seedlings_over_seeds:
        return seedlings_over_seeds();
      case Fault::total_where_taken_out:
        return total_where_taken_out();
      case Fault::absurd_number:
        break;
    }
    return name_ + ": a count below 0 or above 1,000,000,000 cannot be. Type it again.";
  }

  // The same without any figure of an earlier or later look; empty where `tell` names none.
  std::string tell_hidden(Fault fault) const {
    if (fault == Fault::before_sowing || fault == Fault::up_at_sowing ||
        fault == Fault::after_ending || fault == Fault::seedlings_over_seeds ||
        fault == Fault::absurd_number || !entering())
      return {};
    const Entered& typed = counts_[entered_].entered;
    if (!own())
      return name_ + ": with " + in_words(typed) + ' ' + when(entered_) + " the look of " +
             day(at_) + " cannot be; its figure is hidden, since the trial is blind. " +
             mend_later();
    const std::string earlier = "An earlier look wrong? plumule amend " + name_ +
                                " shows them; plumule amend " + name_ + " --on DATE " +
                                right(typed) + " puts one right.";
    const std::string figures = figure(at_);
    switch (fault) {
      case Fault::total_falls:
        return name_ + ": " + figures + (typed.kind == CountKind::standing ? " standing" : "") +
               ' ' + when(at_) + " is below what stood before" +
               (typed.kind == CountKind::standing
                    ? " by more than the " + std::to_string(typed.lost) + " lost"
                    : std::string()) +
               ". Some died? Type how many stand and how many were lost since the last look, such "
               "as " +
               pair('=' + std::to_string(typed.value) + '-' + std::to_string(typed.lost + 1)) +
               ". " + earlier;
      case Fault::guess_below:
        return name_ + ": a guess that begins at " + std::to_string(typed.value) + ' ' + when(at_) +
               " is below what stood before. " + earlier;
      case Fault::more_than_sown:
        if (typed.kind != CountKind::newly || !sowing_.units) return {};
        return name_ + ": " + std::to_string(*sowing_.units) + " sown, and " + figures + " new " +
               when(at_) + " make more with those up before. " +
               (sowing_.taken_out ? std::string()
                                  : figures + " in all? " + pair('=' + figures) + ". ") +
               earlier;
      case Fault::standing_rises:
        return name_ + ": " + std::to_string(typed.lost) + " lost " + when(at_) +
               " is more than stood before. Lost are those gone since the last look. " + earlier;
      case Fault::seedlings_fall:
        return name_ + ": " + std::to_string(*typed.seedlings) + " seedlings " + when(at_) +
               " is below what was counted before. Seedlings are counted as ever up, also those "
               "gone since: type them in all. " +
               earlier;
      case Fault::seedlings_below_units:
        return name_ + ": " + std::to_string(*typed.seedlings) + " seedlings " + when(at_) +
               " is fewer than the units that are up, and each of these has a seedling at least. "
               "Units come first, seedlings in all second: " +
               pair("=5/9") + '.';
      case Fault::total_where_taken_out:
        return name_ + ": sprouts are taken out of it at each look, so only new ones count. " +
               figures + " new? " + pair('+' + std::to_string(typed.value)) + '.';
      default:
        return {};
    }
  }

 private:
  const Count& here() const { return counts_[at_]; }
  const Count& prior() const { return counts_[at_ - 1]; }
  bool first() const { return at_ == 0; }
  // The rule breaks at the count that is being entered, not at a later one that it moves.
  bool own() const { return at_ == entered_; }
  // One is being entered (else the sowing was changed).
  bool entering() const { return entered_ < counts_.size(); }
  std::int64_t lost_to(std::size_t index) const {
    return counts_[index].total - standing_at(counts_, index);
  }

  // "Friday" within a week of the count entered, else "Mon 6 Apr"; with the time where it has one.
  std::string day(std::size_t index) const {
    const Moment& at = counts_[index].at;
    std::string text = spoken(at.date, !entering());
    if (entering()) {
      const Date near = counts_[entered_].at.date;
      const auto apart = (near - at.date).count();
      if (apart >= 0 && apart < 7)
        text = day_name(at.date);
      else
        text = spoken(at.date, std::chrono::year_month_day(near).year() !=
                                   std::chrono::year_month_day(at.date).year());
    }
    if (at.minute_of_day) text += ' ' + clock(*at.minute_of_day);
    return text;
  }
  // "now" for the count entered today, else "on Friday".
  std::string when(std::size_t index) const {
    if (index == entered_ && (!today_ || *today_ == counts_[index].at.date)) return "now";
    return "on " + day(index);
  }
  std::string figure(std::size_t index) const {
    const Entered& entered = counts_[index].entered;
    std::string text = std::to_string(entered.value);
    if (entered.high) text += " to " + std::to_string(*entered.high);
    return text;
  }
  std::string amend(std::size_t index) const {
    return day(index) + " wrong? plumule amend " + name_ + " --on " + to_text(counts_[index].at) +
           ' ' + right(counts_[index].entered) + '.';
  }
  // The right figure instead, as it is typed.
  std::string right(const Entered& wrong) const {
    return std::string(sowing_.taken_out ? "+" : "=") + (wrong.seedlings ? "UNITS/SEEDLINGS" : "N");
  }
  std::string other_date() const {
    return "The sowing date wrong? plumule amend " + name_ + " --sown DATE.";
  }
  std::string pair(const std::string& value) const { return name_ + value; }
  // What may be wrong where a later count breaks by what is entered now (or by the change).
  std::string mend_later() const {
    return (entering() ? "The figure entered wrong? Type it again. " : "") + amend(at_);
  }

  std::string before_sowing() const {
    std::string text = name_ + " was sown on " + to_text(sowing_.sown);
    if (!entering())
      return text + ", and was counted on " + to_text(here().at) +
             ". The sowing date must not come after a count.";
    return text + ", after " + to_text(here().at) + ". Another day meant? --on DATE. An earlier " +
           sowing_.label + "? Name it with its year, such as " + sowing_.label + "@2025. " +
           other_date();
  }

  std::string up_at_sowing() const {
    std::string text = name_ + " was sown on " + to_text(sowing_.sown.date) +
                       "; something up on that very day cannot be.";
    if (!entering()) return text;
    return text + " Another day meant? --on DATE. Only looked? " + pair("=same") + ". " +
           other_date();
  }

  std::string after_ending() const {
    std::string text = name_ + " ended on " + to_text(sowing_.ending->at);
    if (!entering())
      return text + ", and was counted on " + to_text(here().at) +
             ". The ending must not come before a count.";
    return text + (sowing_.ending->why.empty() ? "" : " (" + sowing_.ending->why + ')') +
           ", before " + to_text(here().at) + ". Counted earlier? --on DATE. Ended too soon? " +
           "plumule amend " + name_ + " --reopen.";
  }

  std::string total_falls() const {
    const std::int64_t before = prior().total;
    const std::int64_t lost = lost_to(at_ - 1);
    const std::int64_t stood = before - lost;
    if (!own())
      return name_ + ": with " + in_words(counts_[entering() ? entered_ : at_ - 1].entered) + ' ' +
             when(entering() ? entered_ : at_ - 1) + " there were " + std::to_string(before) +
             " ever up, but " + std::to_string(here().total) + " on " + day(at_) + ". " +
             mend_later();
    if (here().entered.kind == CountKind::standing) {
      const std::int64_t gone = stood - here().entered.value;
      return name_ + ": " + std::to_string(stood) + " stood " + when(at_ - 1) + ", " + figure(at_) +
             ' ' + when(at_) + ": that is " + std::to_string(gone) + " fewer, not " +
             std::to_string(here().entered.lost) + ". " + how_many(gone) + " died? " +
             pair('=' + std::to_string(here().entered.value) + '-' + std::to_string(gone)) + ". " +
             amend(at_ - 1);
    }
    const std::int64_t least = least_to(at_ - 1);
    if (here().entered.high || least < before) {
      const bool told = prior().entered.kind != CountKind::newly && prior().entered.high;
      return name_ + ": " +
             (told || least == before
                  ? figure_up(at_ - 1) + " up " + when(at_ - 1) +
                        (told ? " (taken as " + std::to_string(before) + ')' : "")
                  : std::to_string(before) + " up by " + day(at_ - 1) + " with a guess") +
             ", " + figure(at_) + ' ' + when(at_) +
             ": fewer than before. Some died? Type how many stand "
             "and how many were lost, such as " +
             pair('=' + std::to_string(here().total) + '-' +
                  std::to_string(std::max<std::int64_t>(1, least - here().total))) +
             ". " + amend(at_ - 1);
    }
    const std::int64_t now = here().entered.value;
    std::string text = name_ + ": ";
    if (lost == 0)
      text += std::to_string(stood) + " stood " + when(at_ - 1);
    else
      text += std::to_string(before) + " had come up by " + day(at_ - 1) + " and " +
              std::to_string(stood) + " stood";
    text += ", " + std::to_string(now) + ' ' + when(at_) + ". ";
    const std::int64_t gone = stood - now;
    if (gone > 0)
      text += how_many(gone) + " died? " +
              pair('=' + std::to_string(now) + '-' + std::to_string(gone)) + ". ";
    else
      text += std::to_string(now) + " stand, and none died since? " +
              pair('=' + std::to_string(now) + "-0") + ". ";
    return text + amend(at_ - 1);
  }

  // Up for sure by that look: of guesses the low ends.
  std::int64_t least_to(std::size_t index) const {
    const Entered& entered = counts_[index].entered;
    if (entered.kind == CountKind::total) return entered.value;
    if (entered.kind == CountKind::standing) return counts_[index].total;
    const std::int64_t before = index == 0 ? 0 : least_to(index - 1);
    return before + entered.value;
  }

  // "8 to 12" of a guess of all that are up, else the total.
  std::string figure_up(std::size_t index) const {
    if (counts_[index].entered.kind == CountKind::total) return figure(index);
    return std::to_string(counts_[index].total);
  }

  // The most that may be up here: of a guess its high end.
  std::int64_t most_here() const {
    const Entered& entered = here().entered;
    if (!entered.high) return here().total;
    return *entered.high + (entered.kind == CountKind::newly && !first() ? prior().total : 0);
  }

  std::string guess_below() const {
    if (!own())
      return name_ + ": " + std::to_string(prior().total) + " up " + when(at_ - 1) +
             ", but the guess of " + day(at_) + " begins at " +
             std::to_string(here().entered.value) + ". " + mend_later();
    return name_ + ": " + figure(at_ - 1) + " up " + when(at_ - 1) + ", so a guess " + when(at_) +
           " cannot begin at " + std::to_string(here().entered.value) + ". " +
           pair('=' + std::to_string(prior().total) + ".." + std::to_string(*here().entered.high)) +
           "? " + amend(at_ - 1);
  }

  std::string more_than_sown() const {
    const std::string sown = sowing_.units ? std::to_string(*sowing_.units) + " sown"
                                           : std::string("1,000,000,000 is the most taken");
    if (!entering())
      return name_ + ": " + (here().entered.high ? "as many as " : "") +
             std::to_string(most_here()) + " up " + when(at_) +
             (here().entered.high ? " by the guess" : "") + ", so " + sown + " cannot be. " +
             amend(at_);
    if (!own())
      return name_ + ": with " + in_words(counts_[entered_].entered) + ' ' + when(entered_) +
             ", there would be " + std::to_string(most_here()) + " up on " + day(at_) + " of " +
             sown + ". " + mend_later();
    std::string text = name_ + ": " + sown + ", ";
    if (here().entered.kind == CountKind::newly && !first())
      text += std::to_string(prior().total) + " up " + when(at_ - 1) + " and " + figure(at_) +
              " new make " + (here().entered.high ? "as many as " : "") +
              std::to_string(most_here()) + ". ";
    else
      text += figure(at_) + " up " + when(at_) + ". ";
    if (here().entered.kind == CountKind::newly && !sowing_.taken_out && !first() &&
        here().entered.value >= prior().total)
      text += figure(at_) + " in all? " + pair('=' + std::to_string(here().entered.value)) + ". ";
    else if (sowing_.unit == UnitKind::cluster && here().entered.kind == CountKind::total)
      text += "Seedlings of clusters? Type units and seedlings, such as " +
              pair('=' + std::to_string(sowing_.units.value_or(1)) + '/' +
                   std::to_string(here().entered.value)) +
              ". ";
    else
      text += "Counted wrong? Type it again. ";
    if (!sowing_.units || most_here() > most_units) return text;
    return text + "More were sown? plumule amend " + name_ + " --" +
           std::string(word(sowing_.unit)) + "s " + std::to_string(most_here()) + '.';
  }

  std::string standing_rises() const {
    const std::int64_t stood = first() ? 0 : standing_at(counts_, at_ - 1);
    std::string text =
        name_ + ": " + std::to_string(here().entered.lost) + " lost " + when(at_) + ", but ";
    if (first())
      text += "none stood before. ";
    else
      text += "only " + std::to_string(stood) + " stood " + when(at_ - 1) + ". ";
    if (!own()) return text + mend_later();
    return text + "Lost are those gone since the last look. " +
           pair('=' + std::to_string(here().entered.value) + '-' + std::to_string(stood)) + "? " +
           (first() ? "" : amend(at_ - 1));
  }

  // The last look before this one at which seedlings were counted.
  std::size_t last_seedlings() const {
    std::size_t i = at_;
    while (i > 0 && !counts_[i - 1].entered.seedlings) --i;
    return i - 1;
  }

  std::string seedlings_fall() const {
    const std::size_t then = last_seedlings();
    const std::string text = name_ + ": " + std::to_string(*counts_[then].entered.seedlings) +
                             " seedlings in all " + when(then) + ", " +
                             std::to_string(*here().entered.seedlings) + ' ' + when(at_) + ". ";
    if (!own()) return text + mend_later();
    return text + "Seedlings are counted as ever up, also those gone since: type them in all. " +
           amend(then);
  }

  std::string seedlings_below_units() const {
    const std::string text = name_ + ": " + std::to_string(here().total) + " units up and " +
                             std::to_string(*here().entered.seedlings) + " seedlings " + when(at_) +
                             ": each unit that is up has a seedling at least. ";
    if (!own()) return text + mend_later();
    return text + "Units come first, seedlings in all second: " + pair("=5/9") + '.';
  }

  std::string seedlings_over_seeds() const {
    const std::string text = name_ + ": " + std::to_string(*sowing_.units) + " cells of " +
                             std::to_string(sowing_.seeds_per_cell) + " seeds, and " +
                             std::to_string(*here().entered.seedlings) + " seedlings " + when(at_) +
                             ". ";
    const std::int64_t each = (*here().entered.seedlings + *sowing_.units - 1) / *sowing_.units;
    return text + "Counted wrong? Type it again. More seeds a cell? plumule amend " + name_ +
           " --per-cell " + std::to_string(each) + '.';
  }

  std::string total_where_taken_out() const {
    std::string text =
        name_ + ": sprouts are taken out of it at each look, so only new ones count. ";
    if (!entering()) return text + amend(at_);
    const std::int64_t value = here().entered.value;
    const std::int64_t before = first() ? 0 : prior().total;
    if (before > 0 && value >= before)
      text += figure(at_) + " in all? " + pair('+' + std::to_string(value - before)) + ". ";
    return text + figure(at_) + " new? " + pair('+' + std::to_string(value)) + '.';
  }

  const Sowing& sowing_;
  const std::vector<Count>& counts_;
  std::size_t at_;
  std::size_t entered_;
  std::optional<Date> today_;
  std::string name_;
};

}  // namespace

std::string explain(const Sowing& sowing, const std::vector<Count>& counts, const Trouble& trouble,
                    std::size_t entered, std::optional<Date> today, Figures figures) {
  const Telling telling(sowing, counts, trouble, entered, today);
  std::string text;
  if (figures == Figures::hidden) text = telling.tell_hidden(trouble.fault);
  if (text.empty()) text = telling.tell(trouble.fault);
  while (!text.empty() && text.back() == ' ') text.pop_back();
  return text;
}

}  // namespace plumule::records
