// Entries of `explain`: chance, ranges and the words of reckoning that many answers share.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "chance",
     .title = "how sure one may be",
     .meaning = "How far the counts bear something out: of a hundred things said with a chance of "
                "90 %, ninety are true. It speaks of the lot or the treatment, not of a single "
                "seed. Each kind has its own word: p-better, p-meets, p-within, to-tell.",
     .formula = "share of the posterior for which it holds; of what would tell, share of simulated "
                "trials",
     .unit = "% on the screen, 0 to 1 in JSON",
     .assumes = "How alike seeds of one sowing are: the prior printed beside it.",
     .misleads = "A chance of 50 % says that the counts do not tell, not that nothing is there. It "
                 "is another thing than a p value.",
     .source = "as tray-aware",
     .also = "probability likelihood certainty how-sure"},
    {.word = "posterior",
     .title = "what may be believed after the counts",
     .meaning = "All values that the true percentage may have, each weighed by how well it agrees "
                "with the counts. The range, and every chance that something is so, are read from "
                "it.",
     .formula = "likelihood of the counts x prior, over all p and rho",
     .unit = "",
     .assumes = "The prior: nothing known of the percentage before the test, and seeds of a sowing "
                "about as alike as is printed.",
     .misleads = "With ten seeds the prior of rho weighs nearly as much as the counts.",
     .source = "Brown, Cai & DasGupta 2001, Statistical Science 16:101-133 for the prior of p",
     .also = "belief bayes bayesian tray-aware-posterior"},
    {.word = "one-sided-limits",
     .title = "at least, and at most",
     .meaning = "Each by itself is true of 95 in 100 such answers: that the percentage is at least "
                "the one, or at most the other. Use it where only one side can hurt, as when a lot "
                "must reach a line.",
     .formula = "5 % and 95 % points of the posterior; exact: beta quantiles at 5 % and 95 %",
     .unit = "%",
     .assumes = "As the range beside it.",
     .misleads = "Both together are a 90 % range, not one of 95 %.",
     .source = "Clopper & Pearson 1934, Biometrika 26:404-413 for the exact ones",
     .also = "one-sided one-sided-limit at-least-at-most"},
    {.word = "significant",
     .title = "p at or below a line",
     .meaning = "A test is called significant where its p is at most 0.05: were there no "
                "difference, figures so far out would come one time in twenty. It says that "
                "something differs, not that it is worth having.",
     .formula = "p <= 0.05",
     .unit = "",
     .assumes = "The line, and when to stop, were fixed before counting.",
     .misleads = "Many seeds make the smallest difference significant, few seeds hide a large one: "
                 "read the range of the difference.",
     .source = "Fisher 1925 (from memory)",
     .also = "significance alpha"},
    {.word = "standard-error",
     .title = "how far an estimate may be off",
     .meaning = "The usual distance between an estimate and the truth. About two of them either "
                "way make a 95 % range, where sowings are many.",
     .formula = "root of the variance of the estimate",
     .unit = "as the figure",
     .assumes = "",
     .misleads = "Reckoned seed by seed it is too small where seeds share a tray.",
     .source = "definition",
     .also = "error errors"},
    {.word = "points",
     .title = "percentage points",
     .meaning = "The plain difference of two percentages: from 60 % to 75 % is 15 points. It is "
                "that many more plants from every hundred seeds.",
     .formula = "100 (p1 - p2)",
     .unit = "points",
     .assumes = "",
     .misleads = "15 points more is a quarter more here: 75 / 60. Points and per cent of the old "
                 "value are often mixed up.",
     .source = "definition",
     .also = "point percentage-points"},
    {.word = "seed-level",
     .title = "counted seed by seed",
     .meaning = "Marks a test that takes every seed as if it had been sown alone. Seeds that share "
                "a tray are not alone, so it finds too much; it is shown for those who are used "
                "to it, and no verdict rests on it.",
     .formula = "",
     .unit = "",
     .assumes = "Seeds are independent.",
     .misleads = "Four trays of 50 a treatment at rho 0.05: 200 seeds tell about as much as 58.",
     .source = "Kish 1965 design effect (from memory): 200 / (1 + 49 x 0.05)",
     .also = "seed-by-seed independent independent-seeds if-independent"},
    {.word = "sowing-level",
     .title = "counted sowing by sowing",
     .meaning = "Takes each tray or row as one value. That is what lots were drawn for, so it is "
                "what a claim rests on.",
     .formula = "",
     .unit = "",
     .assumes = "Sowings were treated and placed each by itself.",
     .misleads = "One jar for all trays of a treatment makes them one value, however many trays.",
     .source = "Experimental unit: Fisher 1935 (from memory)",
     .also = "tray-level unit-level"},
    {.word = "level",
     .title = "how often a range is right",
     .meaning =
         "At 95 %, of a hundred such ranges ninety-five hold the truth. A higher level makes "
         "a wider range.",
     .formula = "1 - alpha",
     .unit = "% on the screen, 0 to 1 in JSON",
     .assumes = "",
     .misleads = "A narrow range at a low level knows no more than a wide one at a high level.",
     .source = "Neyman 1937 (from memory)",
     .also = "confidence confidence-level coverage"},
    {.word = "correction",
     .title = "continuity correction",
     .meaning = "Widens a Wilson range by half a seed either way, so that it is wrong less often "
                "than it says. It is given only where it is asked for.",
     .formula = "x -+ 1/2 in the score interval",
     .unit = "",
     .assumes = "Seeds are independent.",
     .misleads = "It is wider than need be, nearly as wide as Clopper-Pearson.",
     .source = "Newcombe 1998, Statistics in Medicine 17:857-872, method 4",
     .also = "corrected continuity"},
};

}  // namespace

std::span<const Explanation> words_of_chance() { return entries; }

}  // namespace plumule::analysis
