// Entries of `explain`: one treatment against another.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "p-better",
     .title = "chance that it is better",
     .meaning = "How sure one may be that the treatment truly gives more, given these counts and "
                "how alike seeds of one sowing are assumed to be.",
     .formula = "P(p1 > p2), tray-aware posterior with one rho",
     .unit = "0 to 1",
     .assumes = "The prior of rho printed beside it.",
     .misleads = "By itself it errs in up to 27 % of trials with no difference: a claim also needs "
                 "the t on sowings.",
     .source = "prior: Brown, Cai & DasGupta 2001; error rates by simulation",
     .also = "p_better chance-it-is-better better"},
    {.word = "p-within",
     .title = "chance that the difference is not worth having",
     .meaning = "How sure one may be that the two differ by less than is worth having. At 95 % the "
                "verdict is \"neither\".",
     .formula = "P(|p1 - p2| < d)",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "It takes many trays: at 90 % and d = 10 points, six of 50 each.",
     .source = "simulations of this project",
     .also = "p_within"},
    {.word = "bayes-factor",
     .title = "Bayes factor",
     .meaning = "How many times likelier the counts are if the stands differ than if they are the "
                "same. It is the one figure on the stand that may be used when sowings were added, "
                "or the trial closed, after looking; 20 is asked.",
     .formula = "rho ~ Beta(1, 19); angles differ ~ N(0, 0.2^2) against equal",
     .unit = "times",
     .assumes = "",
     .misleads = "It asks much: four trays of 25 rarely give 20.",
     .source = "Kass & Raftery 1995 for the term (from memory); at 20 wrong in at most 3.7 % by "
               "simulation",
     .also = "bayes_factor"},
    {.word = "within-sources",
     .title = "difference within seed lots",
     .meaning = "One seed lot may come up far better than another. Where the lots (or trials) hold "
                "different shares of the two treatments, that could pass for what the treatment "
                "does, so the two are held against each other within each lot.",
     .formula = "least squares of sowing fraction = lot + treatment",
     .unit = "-1 to 1",
     .assumes = "The treatment does as much to one lot as to the other.",
     .misleads = "A lot that holds one treatment only tells nothing, and is left out.",
     .source = "the two-way linear model",
     .also = "within_sources within-each within-each-seed-lot"},
    {.word = "randomisation",
     .title = "drawing lots anew",
     .meaning = "Lots decided which tray got which treatment. If the treatment did nothing any "
                "other draw would have given the same trays: the p is the share of draws with a "
                "difference as large as yours.",
     .formula = "difference of mean sowing fractions, within blocks; all draws up to 200,000, else "
                "99,999 of them",
     .unit = "0 to 1",
     .assumes = "Treatments were given to sowings by lot.",
     .misleads = "With two trays each no draw can give less than 1/3, whatever comes up.",
     .source = "Fisher 1935; Pitman 1937 (from memory)",
     .also = "draws-anew drawing-lots-anew lots-drawn-anew drawing-lots drawing-of-lots "
             "sowings-permuted permuted "
             "randomization permutation lots-anew redrawn"},
    {.word = "smallest-p",
     .title = "the least p the layout can give",
     .meaning = "However large the difference, drawing lots anew can't give a smaller p than this: "
                "two trays each 1/3, three each 1/10, four each 1/35, four pairs 1/8.",
     .formula = "2 / arrangements where the design is its own mirror, else 1 / arrangements",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "A p equal to it says only that this layout can give no smaller one.",
     .source = "by counting",
     .also = "smallest_p least-possible least-p"},
    {.word = "arrangements",
     .title = "ways of drawing lots",
     .meaning =
         "In how many ways the same treatments could have fallen on the same sowings, within "
         "the blocks.",
     .formula = "product over blocks of binomial coefficients",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "by counting",
     .also = ""},
    {.word = "holm",
     .title = "allowing for several comparisons",
     .meaning = "With several treatments one of them looks good by luck more often: these p values "
                "allow for all that are held against the same treatment, or (holm_pairs) for all "
                "pairs. The t on the stand, the drawing of lots and the t on the days have one "
                "each.",
     .formula = "Holm's step-down adjustment; a comparison that has no p counts as one with p = 1",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "The verdict of each comparison speaks of that one alone; where it would not "
                 "outlast the others that is said beside it.",
     .source = "Holm 1979, Scandinavian Journal of Statistics 6:65-70",
     .also = "holm_pairs comparisons p-over-all over-all-pairs"},
    {.word = "joint",
     .title = "one curve or two",
     .meaning = "The time model of both treatments together, each with its own timing: with its "
                "own spread and share in the end, or with one of these, or both, in common. The "
                "least AIC says which does best: whether the treatment only shifted the days, or "
                "drew them out, or changed how many come.",
     .formula = "AIC = 2 parameters - 2 log likelihood",
     .unit = "",
     .assumes = "AIC here takes seeds as independent.",
     .misleads = "A difference of less than about 2 in AIC says little; and where seeds of one "
                 "tray are alike, less still.",
     .source = "Burnham & Anderson 2002 (from memory)",
     .also = "shared_spread shared_fraction each-its-own-spread-and-share one-spread-and-one-share "
             "one-spread one-share own-shares own-spreads"},
    {.word = "global",
     .title = "do the treatments differ at all?",
     .meaning = "One question before all pairs: could all differences come from the drawing of "
                "lots?",
     .formula = "between-treatment sum of squares of block-centred values",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "A yes does not say which differ.",
     .source = "Fisher 1935 (from memory)",
     .also = "all-treatments-alike"},
    {.word = "evidence",
     .title = "what may be read while a trial is open",
     .meaning =
         "Whether the treatments are coming up differently, by a test that may be read any "
         "day, and beside it evidence seed by seed. Neither says which is better in the end, "
         "nor whether it is sooner or more.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Closing a trial because this looks good turns it into one closed after looking.",
     .source = "Lan & DeMets 1983; Plamadeala & Rosenberger 2012; ter Schure et al. (from memory)",
     .also = "claimed seed-level-evidence"},
    {.word = "deflated",
     .title = "evidence, allowing for trays",
     .meaning =
         "How many times likelier the order of emergence is if the treatments differ than if "
         "not, seed by seed, toned down as if seeds of a tray were alike at rho 0.05. Twenty "
         "would be strong; it may rise and fall.",
     .formula = "average over odds ratios of (product over looks of likelihood ratios)^(1 / phi)",
     .unit = "times",
     .assumes = "rho of 0.05 within a tray.",
     .misleads = "Raw, not toned down, it errs in 19 % of trials with trays of 100.",
     .source = "Grunwald, de Heide & Koolen; ter Schure et al. (grouped safe log-rank, from "
               "memory)",
     .also = "highest_deflated raw highest_raw factor"},
    {.word = "phi",
     .title = "how much it is toned down",
     .meaning = "One plus the seeds a sowing less one, times 0.05.",
     .formula = "1 + (mean n - 1) 0.05",
     .unit = "times",
     .assumes = "",
     .misleads = "",
     .source = "Kish 1965 design effect (from memory)",
     .also = ""},
    {.word = "to-tell",
     .title = "what would tell",
     .meaning = "How many sowings of each treatment a fresh trial would need to reach a verdict on "
                "the stand, eight times of ten, if things are as they look now.",
     .formula = "simulated trials judged by the verdict rule itself",
     .unit = "sowings each",
     .assumes =
         "The stands and rho are as this trial has them, and sowings of its middle size (the "
         "median).",
     .misleads = "A guide: this trial's own figures are rough.",
     .source = "simulation",
     .also = "to_tell most_tried would-tell would-settle"},
    {.word = "dose",
     .title = "best dose",
     .meaning =
         "Where treatments are hours of soaking: whether more of it brings more, and whether "
         "there is a best one with a fall beyond it. It is given only where the fall is sure "
         "and the peak lies inside what was tried.",
     .formula = "log odds = b0 + b1 d + b2 d^2; peak at -b1 / (2 b2), Fieller's set",
     .unit = "hours",
     .assumes =
         "The curve is a parabola in the log odds. Doses differ in the hours alone: what was also "
         "nicked, chilled or primed, or lay in other water, is left out and named.",
     .misleads = "Three doses fit any parabola: of three, only the one that did best is named.",
     .source = "Fieller 1954 (from memory)",
     .also = "best_dose tried coefficients"},
    {.word = "prior-in-force",
     .title = "prior in force",
     .meaning = "What is assumed of how alike seeds of one sowing are.",
     .formula = "rho ~ Beta(1, B)",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "see tray-aware",
     .also = ""},
    {.word = "better-by",
     .title = "chance that it is worth having",
     .meaning = "How sure one may be that the treatment gives more by as many points as are worth "
                "having, or, of fewer, takes as many away.",
     .formula = "P(p1 - p2 >= d), tray-aware posterior with one rho",
     .unit = "% on the screen, 0 to 1 in JSON",
     .assumes = "The prior of rho printed beside it.",
     .misleads = "Better by something is more easily had than better by so much: do not read the "
                 "one for the other.",
     .source = "prior: Brown, Cai & DasGupta 2001",
     .also = "p_worth p_worth_less better-by-points-or-more"},
};

}  // namespace

std::span<const Explanation> words_of_comparison() { return entries; }

}  // namespace plumule::analysis
