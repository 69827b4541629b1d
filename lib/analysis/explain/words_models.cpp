// Entries of `explain`: days that allow for the gaps between looks, and the time model.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "npmle",
     .title = "days allowing for the gaps",
     .meaning =
         "What can be said of the days when a seedling is only known to have come up between "
         "two looks. Nothing is assumed of the shape; where in the gap it lies cannot be "
         "known, so ranges are given.",
     .formula = "Turnbull's maximum likelihood over intervals (L, R], with those never up",
     .unit = "days",
     .assumes = "Looking does not depend on what comes up.",
     .misleads = "Late figures rest on the few sowings still looked at.",
     .source = "Turnbull 1976, J. R. Stat. Soc. B 38:290-295",
     .also = "left right mass gaps"},
    {.word = "kkt-gap",
     .title = "how near the best",
     .meaning = "How far the estimate may still be from the best one: at most 1e-8 is accepted.",
     .formula = "largest directional derivative less 1",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "Gentleman & Geyer 1994 (from memory)",
     .also = "kkt_gap"},
    {.word = "model",
     .title = "time model",
     .meaning = "A curve of emergence: a share that will come up in the end, and the days it takes "
                "them. It fills gaps, and says how many more may come.",
     .formula = "up by t: pi F(t); F log-logistic, lognormal, Weibull or gamma",
     .unit = "",
     .assumes = "One kind of seed; times follow the curve.",
     .misleads = "Where the last look still had emergence the final share is a guess: it is called "
                 "not yet settled.",
     .source = "Berkson & Gage 1952; Ritz, Pipper & Streibig 2013, Eur. J. Agron. 45:1-6",
     .also = "family parameters time-model curve"},
    {.word = "lag",
     .title = "time before which none can come",
     .meaning = "With --lag the time model begins only after a lag, which is estimated too. It is "
                "left out where none does better than no lag.",
     .formula = "up by t: pi F(t - lag)",
     .unit = "days",
     .assumes = "",
     .misleads = "It lies just before the first that came up, wherever that is; its error is worth "
                 "little, and spread and middle change with it.",
     .source = "three-parameter distributions; judgement",
     .also = "none-before-day"},
    {.word = "estimate",
     .title = "estimate and its errors",
     .meaning = "The best value, its error taking seeds as independent (se), its error by the "
                "differences between sowings (se_clustered), and the range from the latter where "
                "there are two sowings.",
     .formula = "clustered: sums of products of the sowings' scores times k / (k - 1), t on k - 1 "
                "df",
     .unit = "as the figure",
     .assumes = "",
     .misleads = "With one sowing only the smaller error can be given, and it is too small.",
     .source = "Liang & Zeger 1986 (from memory)",
     .also = "se se_clustered"},
    {.word = "loglik",
     .title = "log likelihood",
     .meaning = "How well the curve fits: larger is better. Only differences mean anything.",
     .formula = "sum count x log(probability of its interval), without the multinomial coefficient",
     .unit = "",
     .assumes = "",
     .misleads = "Takes seeds as independent.",
     .source = "Fisher 1922 (from memory)",
     .also = ""},
    {.word = "aic",
     .title = "fit less cost",
     .meaning = "Fit with a penalty for each parameter: the smallest of several curves is taken. "
                "With several sowings the QAIC, which divides by how much more they differ than "
                "chance, decides.",
     .formula = "2 k - 2 loglik; QAIC: -2 loglik / dispersion + 2 (k + 1)",
     .unit = "",
     .assumes = "",
     .misleads = "A difference under 2 says nothing.",
     .source = "Akaike 1974; Burnham & Anderson 2002, section 2.5",
     .also = "qaic"},
    {.word = "dispersion",
     .title = "how unlike the sowings are",
     .meaning = "How many times more the sowings scatter about the curve than chance would have "
                "them: 1 is chance.",
     .formula = "Pearson chi-squared / df, at least 1",
     .unit = "times",
     .assumes = "",
     .misleads = "",
     .source = "Burnham & Anderson 2002, section 2.5",
     .also = ""},
    {.word = "t50",
     .title = "half up",
     .meaning = "The day by which half are up: of a model, of those that will come up in the end; "
                "of an estimate by intervals, the gap in which it lies; of a comparison, of those "
                "that came up.",
     .formula = "F(t50) = 1/2",
     .unit = "days",
     .assumes = "",
     .misleads = "Half of what, is said beside it: compare like with like.",
     .source = "Coolbear et al. 1984 for the term",
     .also = "t10 t25 t75 t90 t50_sown half-up half half-of-those of-those-up of-those-sown "
             "half-of-them"},
    {.word = "shape",
     .title = "spread of the curve",
     .meaning =
         "Says how close together emergence is: of a log-logistic or Weibull curve larger is "
         "closer, of a lognormal smaller.",
     .formula = "the family's second parameter",
     .unit = "",
     .assumes = "",
     .misleads = "Shapes of two families are not to be compared.",
     .source = "Ritz, Pipper & Streibig 2013",
     .also = "scale"},
    {.word = "fraction-least",
     .title = "the least that will come up",
     .meaning = "Where the best curve has all come up in the end, ordinary errors mean nothing; "
                "this is the lowest share that the counts still allow.",
     .formula = "least pi with 2 (l_max - l(pi)) <= 2.706",
     .unit = "fraction 0 to 1",
     .assumes = "Seeds are independent.",
     .misleads = "",
     .source = "Self & Liang 1987 (from memory)",
     .also = "fraction_least"},
    {.word = "share-seen",
     .title = "share of the curve seen",
     .meaning = "How much of what will come was up by the last look, as modelled. Under 95 % the "
                "final share is not yet settled.",
     .formula = "F(last look)",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "",
     .source = "definition of this program",
     .also = "share_seen"},
    {.word = "t50-between",
     .title = "half up lies between",
     .meaning = "Where too little is known for a curve: half of those that came up were up after "
                "the first of these days and by the second.",
     .formula = "",
     .unit = "days",
     .assumes = "",
     .misleads = "",
     .source = "Turnbull 1976",
     .also = "t50_after t50_by"},
    {.word = "in-the-end",
     .title = "share that will come up in the end",
     .meaning =
         "By the time model: of all sown, the share that would be up if one went on looking. "
         "Less what is up now, it is what may still come.",
     .formula = "pi of up by t: pi F(t)",
     .unit = "fraction 0 to 1",
     .assumes = "Late ones follow the same curve as early ones.",
     .misleads = "While many still come it is a guess: see share-seen.",
     .source = "Berkson & Gage 1952 (from memory)",
     .also = "will-come-up-in-the-end final-share pi"},
    {.word = "log-logistic",
     .title = "a curve of days, with a tail",
     .meaning = "Rises slowly, then fast, then slowly again, with some stragglers: the curve most "
                "used for germination. One of four that are tried; the one that fits best is "
                "named.",
     .formula = "F(t) = 1 / (1 + (t / t50)^-shape)",
     .unit = "",
     .assumes = "One kind of seed.",
     .misleads = "Its tail is long: the last few percent are drawn out for ever.",
     .source = "Ritz, Pipper & Streibig 2013, Eur. J. Agron. 45:1-6",
     .also = "loglogistic"},
    {.word = "lognormal",
     .title = "a curve of days, even in their logarithm",
     .meaning = "As if each seed's speed were the product of many small causes: early ones close "
                "together, late ones drawn out. One of four curves that are tried.",
     .formula = "F(t) = Phi(ln(t / t50) / shape)",
     .unit = "",
     .assumes = "One kind of seed.",
     .misleads = "Can hardly be told from the log-logistic by a tray or two.",
     .source = "Scott, Jones & Williams 1984, Crop Science 24:1192-1199 (from memory)",
     .also = "log-normal"},
    {.word = "weibull",
     .title = "a curve of days that can end at once",
     .meaning = "Can be drawn out early and close off quickly: it suits seed whose last come in a "
                "body. One of four curves that are tried.",
     .formula = "F(t) = 1 - exp(-(t / scale)^shape)",
     .unit = "",
     .assumes = "One kind of seed.",
     .misleads = "It allows some to come on the first day.",
     .source = "Weibull 1951, J. Appl. Mech. 18:293-297 (from memory)",
     .also = ""},
    {.word = "gamma",
     .title = "a curve of days, between the others",
     .meaning = "As if each seed had to go through several steps one after the other. One of four "
                "curves that are tried.",
     .formula = "F(t) = regularised incomplete gamma(shape, t / scale)",
     .unit = "",
     .assumes = "One kind of seed.",
     .misleads = "Can hardly be told from the others by a tray or two.",
     .source = "textbook distribution (from memory)",
     .also = ""},
};

}  // namespace

std::span<const Explanation> words_of_models() { return entries; }

}  // namespace plumule::analysis
