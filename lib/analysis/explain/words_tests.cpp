// Entries of `explain`: tests and their p values.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "t",
     .title = "t on sowings",
     .meaning = "Whether the days of two treatments differ by more than those of their sowings "
                "differ among themselves. It takes each sowing as one value, as it should. (The "
                "stand goes by a model of its own: see standardised.)",
     .formula = "difference / standard error, pooled variance; Welch where the numbers of sowings "
                "differ by more than one",
     .unit = "",
     .assumes = "Values of sowings scatter alike and roughly normally.",
     .misleads = "With two or three sowings each the scatter is hardly known.",
     .source = "Student 1908; Welch 1947 (from memory)",
     .also = "lower90 upper90 welch t-test t-on-sowings t-on-trays t-on-jars "
             "t-on-the-days student"},
    {.word = "fisher",
     .title = "Fisher's exact test",
     .meaning = "Whether two shares differ, counting seeds. Its p is the chance of a split as "
                "unlikely as this one if they did not.",
     .formula = "hypergeometric probabilities no larger than that seen",
     .unit = "0 to 1",
     .assumes = "Seeds are independent: it is labelled seed level.",
     .misleads = "Where seeds share trays it finds differences that are none.",
     .source = "Fisher 1935 (from memory)",
     .also = ""},
    {.word = "fisher-mid-p",
     .title = "Fisher's test, mid-p",
     .meaning = "The same, less half the chance of the very split seen: less cautious.",
     .formula = "p less half the probability of the table",
     .unit = "0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "As of Fisher's test.",
     .source = "Lancaster 1961, J. Am. Stat. Assoc. 56:223-234",
     .also = ""},
    {.word = "barnard",
     .title = "Barnard's exact test",
     .meaning = "Whether two shares differ, fixing only how many were sown. It finds more than "
                "Fisher's test.",
     .formula = "largest p over the common share; statistic the pooled z",
     .unit = "0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "As of Fisher's test.",
     .source = "Barnard 1947, Biometrika 34:123-138; Suissa & Shuster 1985",
     .also = ""},
    {.word = "boschloo",
     .title = "Boschloo's exact test",
     .meaning = "Fisher's test made less cautious: never larger than its p.",
     .formula = "largest p over the common share; statistic Fisher's p",
     .unit = "0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "As of Fisher's test.",
     .source = "Boschloo 1970, Statistica Neerlandica 24:1-9",
     .also = ""},
    {.word = "mantel-haenszel",
     .title = "difference within blocks, seed level",
     .meaning = "Whether two shares differ when each block is compared within itself, counting "
                "seeds.",
     .formula = "Cochran-Mantel-Haenszel chi-squared",
     .unit = "",
     .assumes = "Seeds are independent within a sowing.",
     .misleads = "As of Fisher's test.",
     .source = "Cochran 1954; Mantel & Haenszel 1959 (from memory)",
     .also = "mantel_haenszel common_odds_ratio"},
    {.word = "breslow-day",
     .title = "do the blocks agree?",
     .meaning = "Whether the treatment acts alike in all blocks. A small p says that it helped in "
                "some and not in others.",
     .formula = "Breslow & Day 1980; tarone: the same with Tarone's correction, which is shown",
     .unit = "",
     .assumes = "Seeds are independent within a sowing.",
     .misleads = "Seeds that share a tray make blocks look unlike.",
     .source = "Breslow & Day 1980; Tarone 1985 (from memory)",
     .also = "breslow_day tarone blocks-alike"},
    {.word = "log-rank",
     .title = "whole course compared",
     .meaning = "Whether one treatment's seeds come up earlier or more, over the whole course with "
                "its gaps. The p by permuting sowings is the one to trust.",
     .formula = "Sun 1996 scores from the pooled estimate; Wilcoxon: S(L) + S(R) - 1; score "
                "chi-squared of proportional hazards (Finkelstein 1986), seed level",
     .unit = "",
     .assumes = "Sowings are looked at alike.",
     .misleads = "The seed-level p beside it takes seeds as independent.",
     .source = "Sun 1996, Statistics in Medicine 15:1387-1395; Fay & Shaw 2010",
     .also = "log_rank u z p_seeds p_sowings wilcoxon score_test score"},
    {.word = "uneven-looks",
     .title = "looks too far apart, or at uneven gaps",
     .meaning = "A seedling is dated by the middle of the gap it came in. Where gaps are long and "
                "uneven the middles are wrong for all sowings alike, and no spread between sowings "
                "shows it. Then the ratio of times leads, and a verdict on the days needs both.",
     .formula = "longest gap (with a tenth of a treatment's seedlings) of 1.5 days or more, and as "
                "long as the spread of days while half as long again as the shortest, or twice the "
                "spread",
     .unit = "days",
     .assumes = "The model's curve within the gaps.",
     .misleads =
         "With half the days missed at random the difference of middles covers down to 87 % "
         "where a treatment is 15 % sooner; the ratio keeps its 95 %.",
     .source = "simulations of this project; grouping error by the first Fourier term (Sheppard's "
               "corrections, from memory)",
     .also = "uneven looks-too-uneven looked-at-too-seldom shortest_gap longest_gap spread_of_days "
             "gaps_allowed_for ratio_lower95 ratio_upper95 days_lower90 "
             "days_upper90 days_earliest days_latest middle-of-the-count-interval middle-of-a-gap "
             "count-interval"},
    {.word = "time-ratio",
     .title = "days over days",
     .meaning = "By the time model: t50 of one treatment over that of the other; 0.9 is a tenth "
                "sooner.",
     .formula = "t50 of the treatment / t50 of what it is held against",
     .unit = "times",
     .assumes = "Both follow curves of one family.",
     .misleads = "Its error without clustering covers 60 to 96 % only.",
     .source = "Kalbfleisch & Prentice 2002 (from memory)",
     .also = "time_ratio log_se log_se_clustered time-by-the-model by-the-model ratio-of-t50 "
             "ratio-of-times"},
    {.word = "trend",
     .title = "trend with dose",
     .meaning = "Whether more of it goes with more seedlings, or fewer, counting seeds.",
     .formula = "Cochran-Armitage z",
     .unit = "",
     .assumes = "Seeds are independent.",
     .misleads = "A rise and fall can give no trend at all.",
     .source = "Armitage 1955, Biometrics 11:375-386",
     .also = ""},
    {.word = "p-value",
     .title = "p",
     .meaning = "The chance of figures at least as far out as these if there were no difference. "
                "Below 0.05 is commonly called significant.",
     .formula = "",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "It is not the chance that there is no difference. Read every day until it is "
                 "small, it always gets small.",
     .source = "Fisher 1925 (from memory)",
     .also = "p p-values exact-tests two-sided-p"},
};

}  // namespace

std::span<const Explanation> words_of_tests() { return entries; }

}  // namespace plumule::analysis
