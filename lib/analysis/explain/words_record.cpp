// Entries of `explain`: what was sown, seen and counted.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "seeds",
     .title = "units sown",
     .meaning = "How many units were sown: seeds, clusters or cells, as the sowing says. Sowings "
                "whose number is not known are not in it.",
     .formula = "",
     .unit = "units",
     .assumes = "",
     .misleads = "A number that was estimated makes every percentage as rough as itself.",
     .source = "the record",
     .also = "sown units_sown"},
    {.word = "emerged",
     .title = "ever up",
     .meaning = "How many units have come up at any time, also those that were lost afterwards. A "
                "guess counts by its middle, rounded down (see guess).",
     .formula = "",
     .unit = "units",
     .assumes = "",
     .misleads = "Where it was counted as root seen, shoot up or usable seedling the figures are "
                 "three different things and are never put together.",
     .source = "the record",
     .also = "up ever-up"},
    {.word = "standing",
     .title = "what stands, and what was lost",
     .meaning = "Of those that came up some may die, be eaten or be pulled out. Where a count said "
                "so (=12-2: twelve stand, two were lost since the last look) both are told: what "
                "came up, and what stands, each of all that was sown and each with its range.",
     .formula = "up less all that was lost, by the last look",
     .unit = "units",
     .assumes = "Losses were written down as they were seen.",
     .misleads = "A loss that nobody wrote down still stands. Where a treatment brings up more and "
                 "fewer of them last, what came up praises it for plants that are gone.",
     .source = "the record",
     .also = "lost losses stands still-stand still-standing lost-so-far"},
    {.word = "sowings",
     .title = "sowings",
     .meaning =
         "How many trays, rows, towels or sets of cells the figures come from. The sowing is "
         "what a treatment is applied to, so the number of sowings, not of seeds, says how "
         "much a difference can be trusted.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "Experimental unit: Fisher 1935, The Design of Experiments (from memory)",
     .also = "sowings_against units units_against trays sowing"},
    {.word = "open",
     .title = "not ended",
     .meaning = "Sowings that have not been ended: more may still come up in them. A trial is open "
                "until its planned last day, or until something is up in every sowing and nothing "
                "new came for max(5 days, half the days to the last emergence).",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "A percentage of an open sowing is the share so far.",
     .source = "definition of this program",
     .also = "still-open so-far *"},
    {.word = "not-looked-at",
     .title = "no look yet",
     .meaning =
         "Sowings without a count. They are in no figure but the number of sowings; what was "
         "sown in them stands apart.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "the record",
     .also = "not_looked_at seeds_not_looked_at"},
    {.word = "units-unknown",
     .title = "number sown unknown",
     .meaning =
         "Sowings sown by weight or by the metre. They give days and seedlings to the metre, "
         "and no percentage; what came up in them is told apart from the rest.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "the record",
     .also = "units_unknown seeds_unknown about-unknown"},
    {.word = "looks",
     .title = "looks",
     .meaning = "Days on which every sowing of the trial that had not ended was counted. Only such "
                "days can be read while a trial is open, for a look at half of it would favour the "
                "half.",
     .formula = "",
     .unit = "days",
     .assumes = "",
     .misleads = "",
     .source = "definition of this program",
     .also = ""},
    {.word = "day",
     .title = "days since sowing",
     .meaning = "Whole days from the day of sowing to the day asked about.",
     .formula = "",
     .unit = "days",
     .assumes = "",
     .misleads = "",
     .source = "the record",
     .also = ""},
    {.word = "per-unit",
     .title = "seedlings to a cluster",
     .meaning =
         "How many seedlings one cluster that came up gave: beet and chard seed are clusters "
         "of several. Units up and seedlings up are two different counts.",
     .formula = "seedlings / units up, over looks that counted both",
     .unit = "seedlings",
     .assumes = "",
     .misleads = "A rubbed or graded lot gives fewer than natural clusters.",
     .source = "7 CFR 201.56 counts a cluster once",
     .also = "per_unit seedlings units_up"},
    {.word = "per-metre",
     .title = "seedlings to a metre",
     .meaning = "How many seedlings stand in a metre of row, where how many seeds were sown is not "
                "known.",
     .formula = "seedlings / metres",
     .unit = "a metre",
     .assumes = "",
     .misleads = "It says nothing of the seed unless the seed rate is known.",
     .source = "common practice, no source",
     .also = "per_metre metres"},
    {.word = "rest",
     .title = "what became of the rest",
     .meaning =
         "What was found when those that did not come up were dug or cut. Rotted and empty "
         "ones can never come up; hard, firm and not found ones might have: not found is not "
         "dead.",
     .formula = "",
     .unit = "units",
     .assumes = "",
     .misleads = "An assessment may cover only part of them.",
     .source = "7 CFR 201.54 and 201.57 on hard and firm seed (from memory)",
     .also = "hard firm rotted empty abnormal died eaten not-found"},
    {.word = "worth",
     .title = "smallest difference worth having",
     .meaning =
         "How many points more would make the treatment worth its trouble: 10 unless you say "
         "otherwise, since less than 10 is out of reach of most trials a grower can sow. A "
         "difference smaller than that is as good as none.",
     .formula = "",
     .unit = "points",
     .assumes = "",
     .misleads = "Below about 7 points no trial that a grower can sow will ever tell.",
     .source = "simulations of this project",
     .also = "worth-having smallest-difference"},
    {.word = "seed-of-lots",
     .title = "seed of what is drawn by lot",
     .meaning = "Where there are too many ways of drawing lots to go through all, some are drawn; "
                "the same seed draws the same ones, so the answer can be had again.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "common practice, no source",
     .also = "seed draws"},
    {.word = "quiet-days",
     .title = "days without anything new",
     .meaning = "Days from the last new seedling to the last look. When they reach max(5, half the "
                "days to the last emergence) the sowing is taken as done; in soil a test of a lot "
                "runs on past its give-up day until five such days.",
     .formula = "",
     .unit = "days",
     .assumes = "",
     .misleads = "A cold spell also makes things quiet.",
     .source = "rule of this program; common practice, no source",
     .also = "quiet_days needed"},
    {.word = "expected-day",
     .title = "day by which it should be up",
     .meaning = "The published days to emergence at the soil temperature that was read, or the "
                "give-up day past which no more are to be waited for. Which, and from which table, "
                "stands beside it.",
     .formula = "",
     .unit = "days after sowing",
     .assumes = "",
     .misleads = "A morning reading is the cold end of the day, not its mean. Published days are "
                 "from trials in fine beds.",
     .source = "Harrington & Minges 1954, by way of extension tables; see crops NAME",
     .also = "expected_day not-before"},
    {.word = "give-up-day",
     .title = "day of the last count",
     .meaning =
         "The day after sowing past which no more are to be waited for. An open sowing is "
         "judged only once it has been looked at on that day or later. In a towel or dish it "
         "is the laboratory's last count; in soil twice the published days at its "
         "temperature, and with none known no sooner than a week after that count.",
     .formula = "",
     .unit = "days after sowing",
     .assumes = "28 days where nothing is known of the crop.",
     .misleads =
         "Twice the published days, and the week, are rules of thumb: a cold spell asks for "
         "more.",
     .source = "7 CFR 201.58; Harrington & Minges 1954; the rest common practice, no source",
     .also = "give_up_day last_count_day last-count-was-due last-count-is-due"},
};

}  // namespace

std::span<const Explanation> words_of_the_record() { return entries; }

}  // namespace plumule::analysis
