// Entries of `explain`: verdicts and decisions.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "any-number",
     .title = "range after any number of tests",
     .meaning = "A range that stays true however often one tests again and whenever one stops, "
                "also if one stops because the answer pleases. It is wider for that.",
     .formula = "{p: log M(p) / deflation < log(1 / alpha)}, M the beta-binomial mixture "
                "martingale, deflation = 1 + (n - 1) rho90",
     .unit = "fraction 0 to 1",
     .assumes = "A test is a batch; seeds of one are no more alike than rho90.",
     .misleads = "Not for the daily counts of one test: what is not up yet has not failed.",
     .source = "Robbins 1970; Howard et al. 2021, Annals of Statistics 49:1055-1080 (from memory)",
     .also = "any_number deflation after-any-number-of-tests"},
    {.word = "verdict",
     .title = "the verdict on a treatment",
     .meaning =
         "More or fewer: the chance of that sign is 97.5 % and the t on sowings has p at "
         "most 0.05. Neither: the difference is under what is worth having with 95 %. Else "
         "too small a trial to tell; one sowing or one jar a treatment is always that, and so "
         "is a treatment that has a seed lot or a block to itself, or trays that nobody "
         "looked at near the end. Of several trials taken together nothing is claimed: a "
         "treatment may do one thing in one season and another in the next.",
     .formula = "",
     .unit = "",
     .assumes =
         "The trial was closed as planned, no sowings were picked out of it, and the sowings of a "
         "treatment vary; else a Bayes factor of 20 is asked. Where seed lots hold different "
         "shares of the two the t is within them. Where blocks leave 5 degrees of freedom (see "
         "within-blocks) stand and days go by the differences within blocks instead.",
     .misleads =
         "With no difference it still claims one in at most 5.8 % of balanced trials without "
         "blocks "
         "(rho to 0.1), in 0.3 to 4.4 % on average. The days are another verdict, so that one "
         "trial makes some false claim in up to 10 %, and so is every further treatment.",
     .source = "simulations of this project",
     .also = "more fewer neither too-small too_small code several-trials several_trials "
             "one-unit-each not-settled"},
    {.word = "within-blocks",
     .title = "differences within blocks",
     .meaning =
         "A bench or a day acts on all trays of its block, whatever they were treated with. Where "
         "blocks are enough, stand and days are judged by the differences within each block, so "
         "that blocks that differ neither hide a difference nor make one. Six blocks of a tray of "
         "each are enough, or two blocks of two and two.",
     .formula = "t of value = block + treatment, p at most 0.05; neither: its 90 % range within "
                "what is worth having, either way. Without any spread: lots drawn anew, likewise",
     .unit = "",
     .assumes = "Two blocks or more hold both, and trays in them less blocks less 1 is 5 or more; "
                "the trial was closed as planned. Else, or with --blocks ignored, the rule of "
                "verdict, which takes no account of blocks.",
     .misleads =
         "Where blocks are alike it sees a little less: of six pairs 63 % instead of 71 %, "
         "at 60 against 75 %; where they spread from 43 to 75 %, 57 % instead of 19 %. With "
         "no difference it claims one in 3 to 6.3 % of trials.",
     .source = "simulations of this project; the linear model as in Cochran & Cox 1957 (from "
               "memory)",
     .also = "within_blocks blocks-to-tell blocks_to_tell t-within-blocks "
             "lots-within-blocks within-worth within-each-block differences-within-blocks"},
    {.word = "sooner",
     .title = "the verdict on days",
     .meaning =
         "Sooner or later: the t on the sowings' mean days has p at most 0.05; where seed "
         "was wetted before sowing both clocks must say so, else it is sooner, or later, after "
         "sowing only. Where looks were far apart or uneven the ratio of times, which allows for "
         "the gaps, must say so too. Neither: the 90 % range lies within one day either way.",
     .formula = "",
     .unit = "",
     .assumes = "Two sowings or jars of each treatment with anything up; else too small to tell.",
     .misleads = "Sowings with nothing up have no days and are left out, with their number. Days "
                 "look alike where nobody looked at the late ones: then it is never neither.",
     .source = "two one-sided tests: Schuirmann 1987 (from memory)",
     .also = "sooner-after-sowing sooner-after-sowing-only later-after-sowing-only later"},
    {.word = "standard",
     .title = "the line a lot is held to",
     .meaning = "The least germination at which the crop's seed may be sold, or what the label "
                "says, or your own figure.",
     .formula = "",
     .unit = "fraction 0 to 1",
     .assumes = "",
     .misleads =
         "It is a line for sale, not for sowing: a lot below it may still be worth a thicker "
         "sowing.",
     .source = "7 CFR 201.31; state lists where the law has none",
     .also = "least-for-sale"},
    {.word = "p-meets",
     .title = "chance that it meets its standard",
     .meaning =
         "How sure one may be that the true percentage is at or above the standard, from the "
         "same posterior as the interval. Hard seed counts for the least for sale (7 CFR 201.31), "
         "not for a label or a figure of your own; p_now and p_alive are without it and with it.",
     .formula = "P(p >= standard | tests)",
     .unit = "0 to 1",
     .assumes = "The prior of rho printed beside it.",
     .misleads = "Ten seeds, all up, can show no more than 74 %.",
     .source = "as tray-aware",
     .also = "p_meets p_now p_alive counts_hard"},
    {.word = "best-lower",
     .title = "what so many seeds can show",
     .meaning = "Had every seed of the test come up, one could be 95 % sure of this percentage and "
                "no more.",
     .formula = "0.05^(1/n)",
     .unit = "fraction 0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "",
     .source = "Clopper & Pearson 1934",
     .also = "best_lower"},
    {.word = "seeds-to-show",
     .title = "seeds that would show the standard",
     .meaning =
         "The fewest seeds that, all up, would make one 95 % sure of the standard: 19 for 85 "
         "%.",
     .formula = "log 0.05 / log standard",
     .unit = "seeds",
     .assumes = "Seeds are independent.",
     .misleads = "One that fails asks for many more.",
     .source = "by computing",
     .also = "seeds_to_show what-seeds-can-show"},
    {.word = "viability",
     .title = "the verdict on a lot",
     .meaning =
         "Sow as usual: the chance to meet the standard is 90 %, or even at the lower limit "
         "a tenth of the stand is lost at most. Sow thicker: the chance is 10 % or less. "
         "Replace: so low that twice as thick would hardly make up for it; nick the seed where it "
         "is only hard. Else test more.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "A lot that can't be replaced is never told to be: sow all, each in its own cell.",
     .source = "rules of this program",
     .also =
         "sow-as-usual sow-thicker nick-seed test-more replace sow-all wait no-test no-standard "
         "nick-the-seed what-to-do wait-for-more"},
    {.word = "times",
     .title = "how much thicker",
     .meaning = "Sow so many times as thick to get the stand that seed at the standard would give.",
     .formula = "standard / expected percentage, rounded up",
     .unit = "times",
     .assumes = "",
     .misleads = "Weak seed is also slow, and fails more in cold ground.",
     .source = "common practice, no source",
     .also = "times_nicked times-as-thick thicker"},
    {.word = "more-seeds",
     .title = "seeds to test",
     .meaning = "So many more, in one test, would settle the matter six times of ten.",
     .formula = "beta-binomial predictive of one more sowing",
     .unit = "seeds",
     .assumes = "",
     .misleads = "",
     .source = "by computing",
     .also = "more_seeds decides"},
    {.word = "p-short",
     .title = "chance that it falls short",
     .meaning = "One less the chance that it meets its standard.",
     .formula = "1 - p_meets",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "",
     .source = "as p-meets",
     .also = "p_short"},
    {.word = "sure-of",
     .title = "the least one may be 90 % sure of",
     .meaning = "With a chance of 90 % the true percentage of the lot is this or more. It is the "
                "limit by which a lot near its standard is judged near enough.",
     .formula = "one-sided 90 % limit of the tray-aware posterior",
     .unit = "fraction 0 to 1",
     .assumes = "The prior of rho printed beside it.",
     .misleads = "It is another limit than the 95 % one in the table, and higher.",
     .source = "as p-meets",
     .also = "sure_of"},
    {.word = "stand-if-wrong",
     .title = "the cost of being wrong",
     .meaning = "If the lot is as poor as its lower limit (90 %, one-sided), this share of the "
                "stand you planned comes up.",
     .formula = "lower limit / standard",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "Field emergence is lower than a towel's.",
     .source = "common practice, no source",
     .also = "stand_if_wrong"},
    {.word = "alive",
     .title = "seeds that came up in the tests",
     .meaning = "Of the seeds tested, those that came up: the lot's tests on towels, in dishes and "
                "trays, taken together where they count the same thing. It is what was seen; the "
                "true percentage of the lot lies in the range below it.",
     .formula = "100 x came up / tested",
     .unit = "%",
     .assumes = "Tested seeds were drawn from the whole lot.",
     .misleads =
         "Hard and firm seed may be alive and not come up. Hard seed that was found has a row "
         "of its own beside what comes up now.",
     .source = "7 CFR 201.53 to 201.57",
     .also = "dead test tests comes-up-now alive-hard-ones-too"},
};

}  // namespace

std::span<const Explanation> words_of_decisions() { return entries; }

}  // namespace plumule::analysis
