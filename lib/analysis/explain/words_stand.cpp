// Entries of `explain`: percentages and their intervals.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "stand",
     .title = "share that came up",
     .meaning = "Of all sown, the share that came up, also of those that were lost afterwards (see "
                "standing). With several sowings it is the pooled share: all up over all sown.",
     .formula = "100 x emerged / seeds",
     .unit = "%",
     .assumes = "Every unit sown is counted, also the dead ones.",
     .misleads = "It is the share of this sowing, not of the lot: the interval beside it says how "
                 "far the lot may differ.",
     .source = "7 CFR 201.53 to 201.56",
     .also = "fraction percent percentage germination share final-stand came-up"},
    {.word = "mean-of-sowings",
     .title = "share in the mean of the sowings",
     .meaning =
         "The mean of the sowings' own percentages, each counting once, however many seeds it "
         "had. Where sowings differ much in size it may lie far from the stand, which goes "
         "by seeds; the range of the true percentage then lies to that side of the stand.",
     .formula = "sum (x_i / n_i) / k",
     .unit = "fraction 0 to 1",
     .assumes = "",
     .misleads = "A tray of ten seeds weighs in it as much as a row of three hundred.",
     .source = "definition; the range weighs sowings by n / (1 + (n - 1) rho)",
     .also = "mean_of_sowings mean-of-them pooled ~"},
    {.word = "interval",
     .title = "range of the true percentage",
     .meaning =
         "The range in which the true percentage lies, in 95 of 100 such answers. A wide one "
         "says that too few seeds, or too few sowings, were tried. Where sowings of very unlike "
         "size would leave the percentage itself out of it, the end next to it is moved there, "
         "and that is said (=).",
     .formula = "",
     .unit = "fraction 0 to 1",
     .assumes = "",
     .misleads = "It speaks of seed like this in places like this, no more.",
     .source = "Neyman 1937 (from memory)",
     .also = "intervals lower upper sides limits range true-percentage true-share 95-%-range "
             "of-the-true-percentage interval_moved = confidence-interval credible-interval"},
    {.word = "tray-aware",
     .title = "the default interval",
     .meaning = "Seeds of one tray share its water, warmth and mishaps, so 100 seeds in one tray "
                "tell less than 25 in each of four. This interval allows for that, with an "
                "assumption of how alike they are, printed beside it.",
     .formula = "x_i of n_i beta-binomial (p, rho); p ~ Beta(1/2, 1/2), rho ~ Beta(1, B); "
                "equal-tailed ends of the posterior of p",
     .unit = "fraction 0 to 1",
     .assumes = "B = 49 for towels and dishes, 24 for trays, cells and pots, 14 for rows; of a "
                "mixture the smallest.",
     .misleads = "If your sowings are more unlike than that (rho 0.1) it holds the truth in 84 to "
                 "91 % of trials of trays, in 70 to 88 % of towels",
     .source = "Brown, Cai & DasGupta 2001, Statistical Science 16:101-133 for the prior of p; "
               "coverage by simulation",
     .also = "",
     .after_misleads = records::Advice::take_own_rho},
    {.word = "rho",
     .title = "how alike seeds of one sowing are",
     .meaning =
         "The correlation of seeds that share a sowing: 0, no more alike than any two of the "
         "lot; 1, a tray comes up whole or not at all. Public data give 0.003 to 0.04.",
     .formula = "p and rho of a beta-binomial",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "A single sowing tells nothing of it.",
     .source = "Ridout, Demetrio & Firth 1999, Biometrics 55:137-148",
     .also = "b prior alike beta"},
    {.word = "own-groups",
     .title = "how alike your own sowings are",
     .meaning =
         "With --rho own the prior of rho is learned from your logbook: how much sowings that "
         "should agree do agree. A group is two sowings or more of one lot, treated and sown "
         "alike (in one trial, or on one day), seen to their end, their number counted. Ten groups "
         "of a setting are needed; where there are fewer the published prior stands.",
     .formula = "B of rho ~ Beta(1, B) that makes all groups together likeliest, p and rho of each "
                "integrated out, times a normal density of log B about the published one, sd 1; "
                "from 2 to 2000",
     .unit = "",
     .assumes = "What made your sowings differ will do so again: blocks that differ are in it.",
     .misleads =
         "From N groups B is known to one part in the square root of N at best, to a third "
         "from ten, so few groups move what is published little: of growers whose sowings "
         "are as unlike as B = 6 or 12 the 95 % range covers 92 to 93 % by ten groups, 94 % "
         "by a hundred, and 85 to 91 % without them. Sowings that failed, or met an "
         "accident, are not in it.",
     .source = "Skellam 1948 for the likelihood; Efron & Morris 1973 for learning a prior (from "
               "memory); coverage by simulation",
     .also = "own groups published asked your-own-groups own-sowings"},
    {.word = "rho90",
     .title = "how alike at most, as assumed",
     .meaning = "Nine of ten times rho is believed to lie below this.",
     .formula = "1 - 0.1^(1/B)",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "",
     .source = "the prior of the tray-aware interval",
     .also = "below"},
    {.word = "wilson",
     .title = "score interval",
     .meaning = "A range for one percentage when seeds are independent. It is short and honest for "
                "small numbers.",
     .formula = "(x + z^2/2 +- z sqrt(x(n-x)/n + z^2/4)) / (n + z^2)",
     .unit = "fraction 0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "For several trays it is too short.",
     .source = "Wilson 1927, J. Am. Stat. Assoc. 22:209-212",
     .also = ""},
    {.word = "clopper-pearson",
     .title = "exact interval",
     .meaning = "A range that is never wrong more often than it says, when seeds are independent. "
                "It is wider than need be.",
     .formula = "beta quantiles of (x, n - x + 1) and (x + 1, n - x)",
     .unit = "fraction 0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "For several trays it is still too short.",
     .source = "Clopper & Pearson 1934, Biometrika 26:404-413",
     .also = "exact exact-interval the-same-exact"},
    {.word = "jeffreys",
     .title = "posterior interval",
     .meaning = "A range from an even-handed belief before the test, when seeds are independent.",
     .formula = "quantiles of Beta(x + 1/2, n - x + 1/2), closed at 0 and n",
     .unit = "fraction 0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "For several trays it is too short.",
     .source = "Brown, Cai & DasGupta 2001, Statistical Science 16:101-133",
     .also = ""},
    {.word = "design-effect",
     .title = "interval by the spread between sowings",
     .meaning = "A range widened by how much the sowings differ among themselves. It needs two "
                "sowings or more.",
     .formula = "Clopper-Pearson at n / deff, deff kept at 1 or above, t on sowings - 1 df",
     .unit = "fraction 0 to 1",
     .assumes = "The sowings are like a random sample.",
     .misleads = "With two or three sowings the spread itself is hardly known.",
     .source = "Korn & Graubard 1998, Survey Methodology 24:193-201",
     .also = ""},
    {.word = "by-day",
     .title = "share up by a day",
     .meaning = "How many were up by the day asked for. Where nobody looked on that day itself it "
                "lies between what the look before and the look after found, and the range "
                "reaches from the low end of the one to the high end of the other.",
     .formula = "tray-aware interval of the fewest and of the most",
     .unit = "fraction 0 to 1",
     .assumes = "Days are counted from sowing.",
     .misleads = "Sowings last looked at before that day are left out, with their number.",
     .source = "definition",
     .also = "by_day at_least at_most not_followed"},
    {.word = "agreement",
     .title = "do the sowings agree?",
     .meaning = "Whether sowings of one lot differ by no more than chance would have it. If they "
                "differ more, one of them was treated otherwise, or miscounted.",
     .formula = "highest less lowest, against the tolerated range",
     .unit = "percent",
     .assumes = "Sowings of one size.",
     .misleads = "About one honest test in forty falls outside by chance alone.",
     .source = "7 CFR 201.55 for 4 x 100 and 2 x 100; the same rule computed for other layouts",
     .also = "tolerated_seeds tolerated_percent sowings-agree"},
    {.word = "beta-binomial",
     .title = "likeliest share, and how alike",
     .meaning = "The share p and the likeness rho of seeds of one sowing that make these sowings "
                "likeliest. rho 0: they vary no more than independent seeds would.",
     .formula = "maximum likelihood of x_i of n_i beta-binomial (p, rho); errors by its curvature "
                "there",
     .unit = "fraction 0 to 1",
     .assumes = "Two sowings or more of one treatment.",
     .misleads = "A handful of sowings hardly tells rho: its error is as large as itself, and 0 is "
                 "a frequent answer even where seeds are alike.",
     .source = "Crowder 1978, Applied Statistics 27:34-37",
     .also = "beta_binomial se_p se_rho likeliest"},
    {.word = "heterogeneity",
     .title = "chi-squared between sowings",
     .meaning = "Another way to ask whether sowings differ more than chance: a small p says they "
                "do.",
     .formula = "sum (x - n p)^2 / (n p (1 - p)), p pooled",
     .unit = "",
     .assumes = "Seeds are independent within a sowing.",
     .misleads = "Few sowings can differ much and still give a large p.",
     .source = "Pearson 1900; p by drawing lots where counts are small",
     .also = "chi_squared df"},
    {.word = "difference",
     .title = "difference of two stands",
     .meaning = "One percentage less the other, in points. Its interval says how small or large it "
                "may truly be.",
     .formula = "p1 - p2",
     .unit = "points (fraction -1 to 1)",
     .assumes = "",
     .misleads =
         "If the interval holds both nought and something worth having, nothing is told yet.",
     .source = "Newcombe 1998, Statistics in Medicine 17:873-890",
     .also = "difference-in-stand difference-came-up difference-standing"},
    {.word = "ratio",
     .title = "one stand over the other",
     .meaning = "How many times as many came up.",
     .formula = "p1 / p2",
     .unit = "times",
     .assumes = "",
     .misleads = "With few up below the line it can be anything.",
     .source = "Miettinen & Nurminen 1985, Statistics in Medicine 4:213-226",
     .also = ""},
    {.word = "odds-ratio",
     .title = "odds over odds",
     .meaning =
         "The odds of coming up (up to not up) of one over those of the other. Near 100 % it "
         "tells more than a difference does.",
     .formula = "p1 (1 - p2) / ((1 - p1) p2)",
     .unit = "times",
     .assumes = "",
     .misleads = "It is not \"times as many\": it is further from 1 than the ratio.",
     .source = "Newcombe 2001, American Statistician 55:200-202; Miettinen & Nurminen 1985",
     .also = "odds_ratio"},
    {.word = "newcombe",
     .title = "hybrid score interval",
     .meaning = "A range for a difference from the two Wilson ranges, when seeds are independent.",
     .formula = "Wilson limits squared and added",
     .unit = "points",
     .assumes = "Seeds are independent.",
     .misleads = "Four trays a treatment at rho 0.03: the 95 % interval covered 75 %.",
     .source = "Newcombe 1998, Statistics in Medicine 17:873-890, method 10",
     .also = ""},
    {.word = "miettinen-nurminen",
     .title = "score interval of a comparison",
     .meaning = "A range for a difference, ratio or odds ratio by inverting a test, when seeds are "
                "independent.",
     .formula = "restricted maximum likelihood, variance times N / (N - 1)",
     .unit = "as the estimate",
     .assumes = "Seeds are independent.",
     .misleads = "For several trays it is too short.",
     .source = "Miettinen & Nurminen 1985, Statistics in Medicine 4:213-226",
     .also = ""},
};

}  // namespace

std::span<const Explanation> words_of_the_stand() { return entries; }

}  // namespace plumule::analysis
