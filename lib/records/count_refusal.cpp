// Refusing a count: for each fault of a course what was seen before, in a sentence, and what may
// have happened, as hints. One function a fault; `Telling` holds what all of them need.
#include <algorithm>
#include <array>
#include <string>

#include "records/course.hpp"
#include "records/words.hpp"

namespace plumule::records {
namespace {

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

  Refusal tell(Fault fault) const {
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
      case Fault::two_readings:
        return two_readings(std::to_string(prior().total) + " had come up by " + day(at_ - 1) +
                            " and " + std::to_string(standing_at(counts_, at_ - 1)) + " stood");
      case Fault::absurd_number:
        break;
    }
    return {name_ + ": a count below 0 or above 1,000,000,000 cannot be. Type it again.", {}};
  }

  // The same without any figure of an earlier or later look; none where `tell` names none.
  std::optional<Refusal> tell_hidden(Fault fault) const {
    if (fault == Fault::before_sowing || fault == Fault::up_at_sowing ||
        fault == Fault::after_ending || fault == Fault::seedlings_over_seeds ||
        fault == Fault::absurd_number || !entering())
      return std::nullopt;
    const Entered& typed = counts_[entered_].entered;
    if (!own())
      return Refusal{name_ + ": with " + in_words(typed) + ' ' + when(entered_) + " the look of " +
                         day(at_) + " cannot be; its figure is hidden, since the trial is blind.",
                     mend_later()};
    const Hint earlier = hint(Advice::amend_earlier_look, form_of(typed));
    const std::string figures = figure(at_);
    switch (fault) {
      case Fault::total_falls:
        return Refusal{name_ + ": " + figures + ' ' + below() + '.',
                       {hint(Advice::say_how_many_died_since, typed), earlier}};
      case Fault::guess_below:
        return Refusal{name_ + ": a guess that begins at " + std::to_string(typed.value) + ' ' +
                           when(at_) + " is below what stood before.",
                       {earlier}};
      case Fault::more_than_sown:
        if (typed.kind == CountKind::standing && sowing_.units && !first())
          return Refusal{name_ + ": " + std::to_string(*sowing_.units) + " sown, and " + figures +
                             " standing " + when(at_) + " make more with all that were lost.",
                         {hint(Advice::count_again), earlier}};
        if (typed.kind != CountKind::newly || !sowing_.units) return std::nullopt;
        return Refusal{name_ + ": " + std::to_string(*sowing_.units) + " sown, and " + figures +
                           " new " + when(at_) + " make more with those up before.",
                       sowing_.taken_out || first() || typed.value < prior().total
                           ? std::vector{earlier}
                           : std::vector{in_all(figures, as_total(typed)), earlier}};
      case Fault::standing_rises:
        return Refusal{name_ + ": " + std::to_string(typed.lost) + " lost " + when(at_) +
                           " is more than stood before. Lost are those gone since the last look.",
                       {hint(Advice::say_how_many_came_and_died, typed), earlier}};
      case Fault::seedlings_fall:
        return Refusal{name_ + ": " + std::to_string(*typed.seedlings) + " seedlings " + when(at_) +
                           " is below what was counted before. Seedlings are counted as ever up, "
                           "also those gone since: type them in all.",
                       {earlier}};
      case Fault::seedlings_below_units:
        return Refusal{
            name_ + ": " + std::to_string(*typed.seedlings) + " seedlings " + when(at_) +
                " is fewer than the units that are up, and each of these has a seedling at least.",
            {hint(Advice::units_then_seedlings)}};
      case Fault::total_where_taken_out:
        return Refusal{only_new_count(), {fitting(typed.value)}};
      case Fault::two_readings:
        return two_readings("some were lost before");
      default:
        return std::nullopt;
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

  Hint hint(Advice advice, std::optional<Entered> figure = std::nullopt) const {
    return {.advice = advice, .name = name_, .figure = figure};
  }
  Hint amend(std::size_t index) const {
    Hint wrong = hint(Advice::amend_look, form_of(counts_[index].entered));
    wrong.at = counts_[index].at;
    wrong.said = day(index);
    return wrong;
  }
  // After a loss a number alone would be asked about again.
  Hint in_all(const std::string& typed, const Entered& meant) const {
    const bool again = meant.kind == CountKind::total && !first() && lost_to(at_ - 1) > 0;
    Hint all = hint(again ? Advice::ever_up : Advice::in_all, meant);
    all.said = typed;
    return all;
  }
  Hint newly_up(const std::string& typed, std::int64_t value) const {
    Hint fresh = hint(Advice::newly_up, Entered{.kind = CountKind::newly, .value = value});
    fresh.said = typed;
    return fresh;
  }
  // How the right figure is given: new where sprouts are taken out, with seedlings where the wrong
  // one had them.
  Entered form_of(const Entered& wrong) const {
    return {.kind = sowing_.taken_out ? CountKind::newly : CountKind::total,
            .seedlings = wrong.seedlings};
  }
  // "now is below what stood before", in a blind trial.
  std::string below() const {
    const Entered& typed = here().entered;
    if (typed.kind == CountKind::standing)
      return "standing " + when(at_) + " is below what stood before by more than the " +
             std::to_string(typed.lost) + " lost";
    const bool fewer_than_stood = typed.value < standing_at(counts_, at_ - 1);
    return when(at_) + " is below what " + (fewer_than_stood ? "stood" : "had come up") + " before";
  }
  Refusal two_readings(const std::string& before) const {
    const Entered& typed = here().entered;
    return {name_ + ": " + before + "; " + figure(at_) + ' ' + when(at_) +
                " may be all that ever came up, or what stands.",
            {in_all(figure(at_), typed), hint(Advice::none_died, standing(typed.value, 0))}};
  }
  static Entered as_total(const Entered& typed) { return {.value = typed.value}; }
  static Entered standing(std::int64_t stand, std::int64_t lost) {
    return {.kind = CountKind::standing, .value = stand, .lost = lost};
  }
  // What may be wrong where a later count breaks by what is entered now (or by the change).
  std::vector<Hint> mend_later() const {
    if (!entering()) return {amend(at_)};
    return {hint(Advice::type_again), amend(at_)};
  }

  Refusal before_sowing() const {
    const std::string text = name_ + " was sown on " + to_text(sowing_.sown);
    if (!entering())
      return {text + ", and was counted on " + to_text(here().at) +
                  ". The sowing date must not come after a count.",
              {}};
    Hint earlier = hint(Advice::named_by_year);
    earlier.name = sowing_.label;
    return {text + ", after " + to_text(here().at) + '.',
            {hint(Advice::other_day), earlier, hint(Advice::amend_sown_day)}};
  }

  Refusal up_at_sowing() const {
    std::string text = name_ + " was sown on " + to_text(sowing_.sown.date) +
                       "; something up on that very day cannot be.";
    if (!entering()) return {text, {}};
    return {text,
            {hint(Advice::other_day), hint(Advice::only_looked), hint(Advice::amend_sown_day)}};
  }

  Refusal after_ending() const {
    const std::string text = name_ + " ended on " + to_text(sowing_.ending->at);
    if (!entering())
      return {text + ", and was counted on " + to_text(here().at) +
                  ". The ending must not come before a count.",
              {}};
    return {text + (sowing_.ending->why.empty() ? "" : " (" + sowing_.ending->why + ')') +
                ", before " + to_text(here().at) + '.',
            {hint(Advice::counted_earlier), hint(Advice::ended_too_soon)}};
  }

  Refusal total_falls() const {
    const std::int64_t before = prior().total;
    const std::int64_t lost = lost_to(at_ - 1);
    const std::int64_t stood = before - lost;
    if (!own()) {
      const std::size_t typed = entering() ? entered_ : at_ - 1;
      return {name_ + ": with " + in_words(counts_[typed].entered) + ' ' + when(typed) +
                  " there were " + std::to_string(before) + " ever up, but " +
                  std::to_string(here().total) + " on " + day(at_) + '.',
              mend_later()};
    }
    if (here().entered.kind == CountKind::standing) {
      const std::int64_t gone = stood - here().entered.value;
      return {name_ + ": " + std::to_string(stood) + " stood " + when(at_ - 1) + ", " +
                  figure(at_) + ' ' + when(at_) + ": that is " + std::to_string(gone) +
                  " fewer, not " + std::to_string(here().entered.lost) + '.',
              {hint(Advice::some_died, standing(here().entered.value, gone)), amend(at_ - 1)}};
    }
    const std::int64_t least = least_to(at_ - 1);
    if (here().entered.high || least < before) return falls_with_a_guess(before, least);
    const std::int64_t now = here().entered.value;
    const std::string stand = lost == 0
                                  ? std::to_string(stood) + " stood " + when(at_ - 1)
                                  : std::to_string(before) + " had come up by " + day(at_ - 1) +
                                        " and " + std::to_string(stood) + " stood";
    return {name_ + ": " + stand + ", " + std::to_string(now) + ' ' + when(at_) + '.',
            {stood > now ? hint(Advice::some_died, standing(now, stood - now))
                         : hint(Advice::none_died, standing(now, 0)),
             amend(at_ - 1)}};
  }

  // Fewer than at the look before, where one of the two is a guess or rests on one.
  Refusal falls_with_a_guess(std::int64_t before, std::int64_t least) const {
    const bool told = prior().entered.kind != CountKind::newly && prior().entered.high;
    const std::string stood =
        told || least == before
            ? figure_up(at_ - 1) + " up " + when(at_ - 1) +
                  (told ? " (taken as " + std::to_string(before) + ')' : "")
            : std::to_string(before) + " up by " + day(at_ - 1) + " with a guess";
    const std::int64_t now = here().total;
    const std::int64_t gone = least - lost_to(at_ - 1) - now;
    return {name_ + ": " + stood + ", " + figure(at_) + ' ' + when(at_) + ": fewer than before.",
            {gone > 0 ? hint(Advice::say_how_many_died, standing(now, gone))
                      : hint(Advice::none_died, standing(now, 0)),
             amend(at_ - 1)}};
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

  Refusal guess_below() const {
    if (!own())
      return {name_ + ": " + std::to_string(prior().total) + " up " + when(at_ - 1) +
                  ", but the guess of " + day(at_) + " begins at " +
                  std::to_string(here().entered.value) + '.',
              mend_later()};
    const Entered meant{.value = prior().total, .high = here().entered.high};
    return {name_ + ": " + figure(at_ - 1) + " up " + when(at_ - 1) + ", so a guess " + when(at_) +
                " cannot begin at " + std::to_string(here().entered.value) + '.',
            {hint(Advice::this_guess, meant), amend(at_ - 1)}};
  }

  Refusal more_than_sown() const {
    const std::string sown = sowing_.units ? std::to_string(*sowing_.units) + " sown"
                                           : std::string("1,000,000,000 is the most taken");
    const Entered& typed = here().entered;
    if (!entering())
      return {name_ + ": " + (typed.high ? "as many as " : "") + std::to_string(most_here()) +
                  " up " + when(at_) + (typed.high ? " by the guess" : "") + ", so " + sown +
                  " cannot be.",
              {amend(at_)}};
    if (!own())
      return {name_ + ": with " + in_words(counts_[entered_].entered) + ' ' + when(entered_) +
                  ", there would be " + std::to_string(most_here()) + " up on " + day(at_) +
                  " of " + sown + '.',
              mend_later()};
    Refusal refusal{name_ + ": " + sown + ", ", {}};
    if (typed.kind == CountKind::newly && !first())
      refusal.fact += std::to_string(prior().total) + " up " + when(at_ - 1) + " and " +
                      figure(at_) + " new make " + (typed.high ? "as many as " : "") +
                      std::to_string(most_here()) + '.';
    else if (typed.kind == CountKind::standing && most_here() > typed.value)
      refusal.fact += figure(at_) + " standing " + when(at_) + " and " +
                      std::to_string(lost_to(at_)) + " lost make " + std::to_string(most_here()) +
                      '.';
    else
      refusal.fact += figure(at_) + " up " + when(at_) + '.';
    if (typed.kind == CountKind::newly && !sowing_.taken_out && !first() &&
        typed.value >= prior().total)
      refusal.hints.push_back(in_all(figure(at_), as_total(typed)));
    else if (sowing_.unit == UnitKind::cluster && typed.kind == CountKind::total)
      refusal.hints.push_back(
          hint(Advice::seedlings_of_clusters,
               Entered{.value = sowing_.units.value_or(1), .seedlings = typed.value}));
    else
      refusal.hints.push_back(hint(Advice::count_again));
    if (!sowing_.units || most_here() > most_units) return refusal;
    Hint more = hint(Advice::more_sown);
    more.said = std::string(word(sowing_.unit)) + 's';
    more.number = most_here();
    refusal.hints.push_back(more);
    return refusal;
  }

  Refusal standing_rises() const {
    const std::int64_t stood = first() ? 0 : standing_at(counts_, at_ - 1);
    const std::string text =
        name_ + ": " + std::to_string(here().entered.lost) + " lost " + when(at_) + ", but " +
        (first() ? "none stood before."
                 : "only " + std::to_string(stood) + " stood " + when(at_ - 1) + '.');
    if (!own()) return {text, mend_later()};
    Refusal refusal{text + " Lost are those gone since the last look.",
                    {hint(Advice::fewer_lost, standing(here().entered.value, stood))}};
    Hint came = hint(Advice::came_and_died, here().entered);
    came.number = here().entered.lost - stood;
    refusal.hints.push_back(came);
    if (!first()) refusal.hints.push_back(amend(at_ - 1));
    return refusal;
  }

  // The last look before this one at which seedlings were counted.
  std::size_t last_seedlings() const {
    std::size_t i = at_;
    while (i > 0 && !counts_[i - 1].entered.seedlings) --i;
    return i - 1;
  }

  Refusal seedlings_fall() const {
    const std::size_t then = last_seedlings();
    const std::string text = name_ + ": " + std::to_string(*counts_[then].entered.seedlings) +
                             " seedlings in all " + when(then) + ", " +
                             std::to_string(*here().entered.seedlings) + ' ' + when(at_) + '.';
    if (!own()) return {text, mend_later()};
    return {text + " Seedlings are counted as ever up, also those gone since: type them in all.",
            {amend(then)}};
  }

  Refusal seedlings_below_units() const {
    const std::string text = name_ + ": " + std::to_string(here().total) + " units up and " +
                             std::to_string(*here().entered.seedlings) + " seedlings " + when(at_) +
                             ": each unit that is up has a seedling at least.";
    if (!own()) return {text, mend_later()};
    return {text, {hint(Advice::units_then_seedlings)}};
  }

  Refusal seedlings_over_seeds() const {
    const std::int64_t seedlings = *here().entered.seedlings;
    Hint more = hint(Advice::more_in_a_cell);
    more.number = (seedlings + *sowing_.units - 1) / *sowing_.units;
    return {name_ + ": " + std::to_string(*sowing_.units) + " cells of " +
                std::to_string(sowing_.seeds_per_cell) + " seeds, and " +
                std::to_string(seedlings) + " seedlings " + when(at_) + '.',
            {hint(Advice::count_again), more}};
  }

  std::string only_new_count() const {
    return name_ + ": sprouts are taken out of it at each look, so only new ones count.";
  }

  // So many new ones, where there is room for them.
  Hint fitting(std::int64_t value) const {
    const std::int64_t before = first() ? 0 : prior().total;
    if (sowing_.units && before + value > *sowing_.units) return hint(Advice::count_again);
    return newly_up(figure(at_), value);
  }

  Refusal total_where_taken_out() const {
    if (!entering()) return {only_new_count(), {amend(at_)}};
    const std::int64_t value = here().entered.value;
    const std::int64_t before = first() ? 0 : prior().total;
    Refusal refusal{only_new_count(), {}};
    if (before > 0 && value >= before)
      refusal.hints.push_back(
          in_all(figure(at_), Entered{.kind = CountKind::newly, .value = value - before}));
    if (refusal.hints.empty() || fitting(value).advice == Advice::newly_up)
      refusal.hints.push_back(fitting(value));
    return refusal;
  }

  const Sowing& sowing_;
  const std::vector<Count>& counts_;
  std::size_t at_;
  std::size_t entered_;
  std::optional<Date> today_;
  std::string name_;
};

}  // namespace

Refusal explain(const Sowing& sowing, const std::vector<Count>& counts, const Trouble& trouble,
                std::size_t entered, std::optional<Date> today, Figures figures) {
  const Telling telling(sowing, counts, trouble, entered, today);
  if (figures == Figures::hidden)
    if (auto hidden = telling.tell_hidden(trouble.fault)) return *std::move(hidden);
  return telling.tell(trouble.fault);
}

}  // namespace plumule::records
