// Entries of `explain`: one treatment against another.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "p-better",
     .title = "chance that it is better",
     .meaning = "How sure one may be that the treatment truly gives more, given these counts and "
                "how unlike the trays are.",
     .formula = "P(D > 0) by the model of the stand (see standardised); of its two weighings of "
                "rho the more cautious",
     .unit = "0 to 1",
     .assumes = "The prior of rho printed beside it.",
     .misleads = "It is of this comparison by itself: of several the best looks surer than it is.",
     .source = "the model of the stand; error rates by simulation",
     .also = "p_better chance-it-is-better chance-it-is-worse chance-more-come-up "
             "chance-fewer-come-up better worse"},
    {.word = "p-within",
     .title = "chance that the difference is not worth having",
     .meaning = "How sure one may be that the two differ by less than is worth having, either way. "
                "At 95 % the verdict is \"neither\"; of several comparisons 95 % must be left "
                "after allowing for all of them.",
     .formula = "P(|D| < d) by the model of the stand; of its two weighings of rho the smaller",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "It takes many trays: at 90 % and d = 10 points, six of 50 each.",
     .source = "simulations of this project",
     .also = "p_within within_p chance-that-it-is-within-that"},
    {.word = "bayes-factor",
     .title = "Bayes factor",
     .meaning =
         "How many times likelier the difference is if the stands differ than if they are "
         "the same. Where sowings were added, or the trial closed, after looking, a claim on "
         "the stand asks for 20 besides what it always asks for.",
     .formula = "angles (arcsine of the root) differ ~ N(0, 0.2^2) against equal, blocks and all; "
                "of both weighings of rho the smaller",
     .unit = "times",
     .assumes = "",
     .misleads = "It asks much: few trays rarely give 20, however far apart the two are.",
     .source = "Kass & Raftery 1995 for the term (from memory); error rates by simulation",
     .also = "bayes_factor weak-evidence"},
    {.word = "within-each",
     .title = "difference within each block, seed lot, place or day",
     .meaning = "A warm block, an old seed lot, a windowsill or a late sowing acts on all trays "
                "that lie in it, and where it holds more of one treatment it could pass for what "
                "the treatment does. So the two are held against each other within each, whatever "
                "share of them it holds.",
     .formula = "logit p = block (lot, place, day) + treatment; means over those that hold all "
                "treatments, each with the same weight for every treatment",
     .unit = "points (fraction -1 to 1)",
     .assumes = "The treatment does as much, on that scale, in one as in another. Days of sowing "
                "up to three after the first are one.",
     .misleads = "One that holds a single treatment tells nothing of the difference. Where none "
                 "holds both nothing can be told at all, however many trays there are.",
     .source =
         "randomised blocks: Fisher 1935; the limit of three days: common practice, no source",
     .also = "within_each within-each-block within-each-seed-lot within-each-trial "
             "within-each-place kept_apart kept-apart jar_across parted_by gaps_filled "
             "same-share-of-every whatever-made-it partly-recorded strata-alike "
             "lots-are-drawn-anew"},
    {.word = "standardised",
     .title = "one model of the stand",
     .meaning = "Difference, range, chances, verdict and each treatment's own range all come from "
                "one model of all trays, so that none denies another. A tray counts by what it "
                "tells, blocks and seed lots are allowed for, and every treatment is given the "
                "same share of each.",
     .formula = "logit p = stratum + treatment; var y = p (1 - p) (1 + (n - 1) rho) / n; rho "
                "weighed once by how this trial's trays differ, once as trays do at large; the "
                "wider ends of both",
     .unit = "",
     .assumes = "Seeds of all its trays are alike to one degree (rho).",
     .misleads = "Where the few trays of one treatment differ far more than the many of another "
                 "a claim errs more often; that is said beside it.",
     .source = "quasi-likelihood: Wedderburn 1974, Biometrika 61:439; penalty: Firth 1993, "
               "Biometrika 80:27; error rates by simulation",
     .also = "stand-model stand_model model-of-the-stand judged_by plain_difference "
             "of-all-that-was-sown difference-of-all-sown p-by-the-model claim_p spreads_more "
             "unlike were-trays-more-unlike"},
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
     .meaning =
         "With several treatments one of them looks good by luck more often. So verdicts go "
         "by p values that allow for all that are held against the same treatment, or "
         "(holm_pairs) for all pairs: what came up, what stands and the days each by itself.",
     .formula = "Holm's step-down adjustment over the comparisons that can be judged",
     .unit = "0 to 1",
     .assumes = "",
     .misleads = "The range beside a difference is of that one alone: it may be clear of 0 without "
                 "a claim.",
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
                "the stand, eight times of ten, if things are as they look now; where there were "
                "blocks, how many of them with a sowing of each.",
     .formula = "simulated trials, judged nearly as the verdict judges",
     .unit = "sowings each, or blocks",
     .assumes =
         "The stands and rho are as this trial has them, and sowings of its middle size (the "
         "median).",
     .misleads = "A guide: this trial's own figures are rough.",
     .source = "simulation",
     .also = "to_tell most_tried in_pairs would-tell would-tell-the-stand would-settle"},
    {.word = "dose",
     .title = "best dose",
     .meaning =
         "Where treatments are hours of soaking: whether more of it brings more, and whether "
         "there is a best one with a fall beyond it. It is given only where the fall is sure "
         "and the peak lies inside what was tried.",
     .formula = "log odds = b0 + b1 d + b2 d^2; peak at -b1 / (2 b2), Fieller's set; a tray counts "
                "as n / (1 + (n - 1) rho) seeds",
     .unit = "hours",
     .assumes =
         "The curve is a parabola in the log odds. Doses differ in the hours alone: what was also "
         "nicked, chilled or primed, or lay in other water, is left out and named.",
     .misleads = "Three doses fit any parabola: of three, only the one that did best is named.",
     .source = "Fieller 1954 (from memory); Williams 1982, Applied Statistics 31:144",
     .also =
         "best_dose tried coefficients no-best-dose best-at-about curve-through-all off_the_curve "
         "single_unit"},
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
     .formula = "P(D > d), P(D < -d) by the model of the stand",
     .unit = "% on the screen, 0 to 1 in JSON",
     .assumes = "The prior of rho printed beside it.",
     .misleads = "Better by something is more easily had than better by so much: do not read the "
                 "one for the other.",
     .source = "the model of the stand",
     .also = "p_worth p_worth_less better-by-points-or-more chance-it-is-worse-by-as-much "
             "worse-by-points-or-more"},
};

}  // namespace

std::span<const Explanation> words_of_comparison() { return entries; }

}  // namespace plumule::analysis
