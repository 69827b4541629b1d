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
         "More or fewer: were there no difference, one so large would come at most one time in "
         "twenty, by the model of the stand. Neither: the difference is under what is worth having "
         "with 95 %. Else too small a trial to tell; one sowing or one jar a treatment is always "
         "that, and so is what can't be told from a block, seed lot, place or day, or trays that "
         "nobody looked at near the end. Where losses were recorded what came up and what stands "
         "have a verdict each.",
     .formula = "2 min(P(D > 0), P(D < 0)) at most 0.05; of several comparisons by Holm",
     .unit = "",
     .assumes =
         "The trial was closed as planned, and no sowings were picked out of it; else a Bayes "
         "factor of 20 is asked as well. Of several trials together nothing is claimed.",
     .misleads =
         "What came up, what stands and the days are questions of their own, each wrong about one "
         "time in twenty where nothing differs (at worst 6.5 in a hundred, by simulation). Of "
         "what came up and the days together up to 10 trials in a hundred made some false claim, "
         "12 where the daily reading counts as well; where losses are recorded a third question "
         "is asked beside them.",
     .source = "simulations of this project",
     .also = "more fewer neither too-small too_small code several-trials several_trials "
             "one-unit-each not-settled nothing-decided confounded more-standing "
             "fewer-standing more-came-up fewer-came-up fewer-stand more-stand "
             "more-seedlings fewer-seedlings too-small-a-trial-to-tell no-verdict "
             "neither-more-nor-sooner no-difference-in-stand-worth-having "
             "no-difference-worth-having nothing-to-claim evidence-of-20-to-1"},
    {.word = "within-blocks",
     .title = "days within blocks",
     .meaning =
         "A bench or a day acts on all trays of its block, whatever they were treated with. The "
         "stand is always reckoned within them (see within-each). Days are where blocks are "
         "enough, or hold different shares of the two: six blocks of a tray of each are enough, "
         "or two blocks of two and two.",
     .formula = "t of days = block + treatment",
     .unit = "",
     .assumes = "Two blocks or more hold both, and trays in them less blocks less 1 is 5 or more.",
     .misleads = "Blocks that hold one treatment only tell nothing of its days.",
     .source = "the linear model as in Cochran & Cox 1957 (from memory); simulations of this "
               "project",
     .also = "within_blocks differences-within-blocks"},
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
         "How sure one may be that so much of the lot is alive on the day asked about, every test "
         "at its age. Hard seed counts for the least for sale (7 CFR 201.31), not for a label or a "
         "figure of your own; p_now and p_alive are without it and with it. Of tests in soil it is "
         "of the seed alive, not of what soil gives.",
     .formula = "P(p >= standard | tests, day)",
     .unit = "0 to 1",
     .assumes = "The prior of rho, and how fast the lot ages (see ageing).",
     .misleads = "Ten seeds, all up, can show no more than 74 %.",
     .source = "as ageing",
     .also = "p_meets p_now p_alive counts_hard shops-must-reach its-label-says held-to"},
    {.word = "ageing",
     .title = "what is alive on a later day",
     .meaning =
         "A test speaks of the day it was laid; seed dies since, and how fast is known only "
         "roughly. So the range widens with every year. Tests half a year apart show it for this "
         "lot; else the lists of seed life lead, a lot at half or twice their speed being no "
         "surprise. An untested lot goes by its harvest.",
     .formula = "probit p(day) = probit p(test) - days / sigma; log sigma ~ N(log(years / 0.88), "
                "0.7^2); untested: probit at harvest ~ N(1.4, 0.5^2)",
     .unit = "fraction 0 to 1; of 100",
     .assumes = "It is kept as it was before. Of tests in soil: f ~ 0.95 Beta(18, 2) + 0.05 "
                "Beta(1, 19) under cover, 0.9 Beta(4, 2) + 0.1 Beta(1, 9) in rows (judgement).",
     .misleads = "Lists differ by up to five times for one crop. A damp or warm summer can end a "
                 "lot that they call good.",
     .source = "Ellis & Roberts 1980, Annals of Botany 45:13-30; simulations of this project",
     .also = "expected listed_years alive-now alive-then in-soil"},
    {.word = "retest-by",
     .title = "when to test again",
     .meaning = "The day from which the chance that the lot meets its standard is under 9 in 10. "
                "Where that is past, the day from which it is as likely as not under it. In JSON "
                "the days of a chance of 5, 50 and 95 %.",
     .formula = "P(p(day) < standard) = 0.10; 0.05, 0.50, 0.95",
     .unit = "date",
     .assumes = "As ageing.",
     .misleads = "It is no promise: the days of 5 and of 95 % lie years apart.",
     .source = "as ageing",
     .also = "retest_by test-again falls-below-that falls_below"},
    {.word = "stock-left",
     .title = "what is left",
     .meaning = "Seeds by the lot's ledger, and how many were sown in soil in the last year in "
                "which any was. A test never asks for more than is left after so many; sowing "
                "thicker than the ledger allows is not advised, and not more than twice where "
                "there is none.",
     .formula = "",
     .unit = "seeds",
     .assumes = "",
     .misleads = "",
     .source = "your own ledger",
     .also = "stock_left seeds-left"},
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
         "Of sowing it as usual, 1.5, 2, 3 or 4 times as thick, with a fresh packet at hand, or "
         "replacing it, the one that the season is expected to lose least by; a test first where "
         "it saves more than it costs. Plants missing cost their share of the crop, at most three "
         "tenths of it and a packet fetched late, half of that with one at hand. Replace is said "
         "only where the chance to meet "
         "the standard is 10 % or less by towels, one under a year old, or of half of it by two "
         "sowings under cover. Hard seed is nicked where that mends it.",
     .formula = "least expected loss; in packets: fetching 2/3, the crop 6, a seedling too many "
                "2 % of a plant, a test 1/6 and 1/100 a seed, half of an unopened packet",
     .unit = "",
     .assumes = "The crop is worth six packets; else --price and --season-value.",
     .misleads = "A lot that can't be replaced is never told to be.",
     .source = "rules of this program; its costs are judgement",
     .also =
         "sow-as-usual sow-thicker sow-and-buy nick-seed test-more replace sow-in-two-goes wait "
         "no-test no-standard nick-the-seed what-to-do wait-for-more"},
    {.word = "clash",
     .title = "tests that cannot both be right",
     .meaning =
         "By day sown, a test clashes where what the older ones say gives so few, or so many, in "
         "under 2.5 % of cases. Then they are not taken together, and replace is never said. The "
         "next test that agrees with one side and not with the other settles it: those that agree "
         "are taken together, and the odd one is only shown. Until then sow by the lower, if it "
         "can't wait.",
     .formula = "P(total < x) + P(total = x) / 2 < 0.025, or its mirror; total beta-binomial, one "
                "draw a tray, p ~ Beta(1/2, 1/2) and rho by what the older tests say",
     .unit = "0 to 1",
     .assumes = "The lot ages as the lists say, or its own tests (see ageing); in soil not at all.",
     .misleads =
         "Of sound pairs some 5 % clash by chance. Of a first test spoilt to half, where 90 % "
         "are alive, two towels of 50 find 91 %, two of ten no more than half.",
     .source = "predictive check: Box 1980; mid-p: Lancaster 1961 (from memory)",
     .also = "clashes tests-clash clashing-tests older-test older-tests newer-test newer-tests "
             "later-test later-tests meanwhile"},
    {.word = "times",
     .title = "how much thicker",
     .meaning = "Sow so many times as thick as seed at its standard: of 1.5, 2, 3 and 4 what loses "
                "least. Of hard seed, and of tests that clash, what makes up for the lack.",
     .formula = "least expected loss; else standard / expected percentage, rounded up",
     .unit = "times",
     .assumes = "",
     .misleads = "Weak seed is also slow, and fails more in cold ground.",
     .source = "as viability",
     .also = "times_nicked times-as-thick thicker"},
    {.word = "more-seeds",
     .title = "seeds to test",
     .meaning = "So many more, in one towel, save more than the test and its seed cost: 10, 20 or "
                "40. Of tests that clash so many settle it six times of ten.",
     .formula = "expected loss now less that after each count, weighed by its chance",
     .unit = "seeds",
     .assumes = "",
     .misleads = "",
     .source = "value of a sample: Raiffa & Schlaifer 1961 (from memory)",
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
     .meaning = "With a chance of 90 % so much of the lot or more is alive on the day asked about.",
     .formula = "one-sided 90 % limit (see ageing)",
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
