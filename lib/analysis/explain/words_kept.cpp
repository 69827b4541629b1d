// Entries of `explain`: what is entered, and what the logbook keeps of it.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "lot",
     .title = "a bag of seed of one kind and age",
     .meaning = "Seed of one crop, variety, source and harvest: what a packet or a jar holds. A "
                "test speaks of its lot and no other.",
     .formula = "",
     .unit = "",
     .assumes = "It was kept together and alike.",
     .misleads = "Two packets of one variety and year may be two lots. A mixture has no age, and "
                 "seed of your own harvest never has its parent's germination.",
     .source = "7 CFR 201.2 for the term (from memory)",
     .also = "lots"},
    {.word = "treatment",
     .title = "what was done to the seed",
     .meaning = "A label and its facts: soaked so many hours, nicked, chilled, primed. Untreated "
                "is a treatment too, the one that others are held against.",
     .formula = "",
     .unit = "",
     .assumes = "A label means the same in every season.",
     .misleads = "Hours of soak alone may differ by the warmth of the water: it is kept beside.",
     .source = "the record",
     .also = "treatments untreated soak soak-hours water-c chill-days chill-c scarify priming"},
    {.word = "block",
     .title = "a part of the bench that is alike within",
     .meaning = "Trays of one block stand side by side, one or more of each treatment, in an order "
                "drawn by lot. Differences between blocks, as of warmth, then leave the comparison "
                "alone.",
     .formula = "",
     .unit = "",
     .assumes = "What varies does so between blocks rather than within.",
     .misleads = "A block that lost a treatment says little, and is left out of drawing lots anew.",
     .source = "Fisher 1935 (from memory)",
     .also = "blocks strata"},
    {.word = "jar",
     .title = "seed that was treated together",
     .meaning = "Seed soaked in one jar, or chilled in one bag, shares whatever went wrong in it. "
                "Where all sowings of a treatment came from one jar, the jar is what was treated, "
                "and no number of trays can tell the treatment from that jar. Where jars are "
                "recorded of some of its sowings only, no claim is made until the others' are.",
     .formula = "",
     .unit = "",
     .assumes = "Without a jar recorded each tray is taken as treated by itself.",
     .misleads = "Not recording the jar does not undo it: the answer is then surer than it should "
                 "be.",
     .source = "Experimental unit: Fisher 1935 (from memory)",
     .also = "batch batches mat jars"},
    {.word = "trial",
     .title = "sowings that answer one question",
     .meaning = "A code, a question, blocks and a planned last day, fixed before the first count. "
                "Until that day no verdict is given.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Stopping when it looks good is how one fools oneself: see evidence.",
     .source = "the record",
     .also = "trials last-day planned-looks blind"},
    {.word = "closed",
     .title = "when a trial is over",
     .meaning =
         "A trial closes on its planned last day, or sooner where something is up in every sowing "
         "and nothing new has come for long (see quiet-days). Closed after looking: it was ended "
         "by hand before that, or after the first count sowings were added, taken out of it or put "
         "to another treatment, block, lot or number sown; then a claim on the stand asks for "
         "more.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads =
         "The first look at most of its sowings on or after the last day finishes it; later "
         "counts change no verdict.",
     .source = "definition of this program",
     .also = "as-planned closed-as-planned by-hand closed-by-hand after-looking moved "
             "added-after-looking sowings_changed joined"},
    {.word = "ending",
     .title = "how a sowing ended",
     .meaning = "Finished: looked at to the end. Accident: knocked over or eaten, used up to its "
                "last good look. Failed: dried out or damped off, which is a result and is never "
                "dropped. Given up, or sown over by another.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Calling a failure an accident makes a treatment look better than it was.",
     .source = "definition of this program",
     .also = "endings ended finished accident failed given-up sown-over last-look last-looks x"},
    {.word = "entered",
     .title = "a count as it was typed",
     .meaning = "Total ever up (=12), newly up (+3), or standing and lost since the last look "
                "(=12-2; =12-2+1: one more came up and was lost since). From it the total ever up "
                "is worked out, and that is what the figures use. Once some were lost, a number "
                "alone that is below the total is what stands; at or above it both readings are "
                "offered: =12all in all, =12-0 standing.",
     .formula = "newly up: the total before and that; standing: standing and all lost so far",
     .unit = "units",
     .assumes = "",
     .misleads = "Correcting a new count moves all later totals; correcting a total leaves them.",
     .source = "the record",
     .also = "entered-as entered-high total newly-emerged new up-in-all "
             "looked counts"},
    {.word = "guess",
     .title = "a count that is not exact",
     .meaning =
         "28..32 says that it was between. The figures use the middle, rounded down, or less "
         "where a later count inside the guess leaves room for no more.",
     .formula = "floor((low + high) / 2), no more than the next firm total",
     .unit = "units",
     .assumes = "",
     .misleads = "No range allows for it: a wide guess makes the answer look surer than it is.",
     .source = "definition of this program",
     .also = "rough estimated about"},
    {.word = "second-reading",
     .title = "another person's figure for the same look",
     .meaning = "Kept beside the count, and in no figure, until amend keeps or discards it.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "the record",
     .also = "readings kept-aside doubtful"},
    {.word = "root-shoot-usable",
     .title = "what counts as up",
     .meaning =
         "Root: the first root is seen, as on a towel. Shoot: it stands above the soil. "
         "Usable: a seedling with all its parts, as a laboratory counts. The three are never "
         "put together.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Roots come days before shoots, and more of them.",
     .source = "7 CFR 201.56 for the usable (normal) seedling",
     .also = "root shoot usable counting normal"},
    {.word = "setting",
     .title = "where the seed lies",
     .meaning = "A towel, dish, tray, set of cells, pot or row. It says how alike its seeds are "
                "taken to be, how they are counted, and how long is waited for them.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "A towel tells whether seed is alive, a row what the ground will do to it.",
     .source = "the record",
     .also = "on towel dish tray cells pot row place depth-mm medium seeds-per-cell"},
    {.word = "stock",
     .title = "what is left of a lot",
     .meaning =
         "Seeds or grams that came in, less those sown, given or lost. Seeds a gram turn the "
         "one into the other.",
     .formula = "sum of the ledger",
     .unit = "seeds or grams",
     .assumes = "Every sowing of the lot was entered.",
     .misleads = "Below nothing: a packet was not entered, or a sowing was typed wrong.",
     .source = "the record",
     .also = "grams ledger seeds-per-gram seeds-a-gram"},
    {.word = "lot-facts",
     .title = "what the packet says, and how it is kept",
     .meaning = "Harvest or packing year, germination on the label and when it was tested, coating "
                "and dressing, and the warmth and damp it lies in. Either year may be unknown.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "The packing year is not the age: seed may be years old when it is packed.",
     .source = "the record",
     .also =
         "year harvest-year packed-year packed label label-germination label-tested tested "
         "dressing coating variety crop from kept source humidity moisture temperature-c parent"},
    {.word = "soil-temperature",
     .title = "a reading of the soil",
     .meaning = "One reading at a time, or the lowest and highest since the last. It decides how "
                "many days are expected. It is kept in Celsius, also where it was read and is "
                "shown in Fahrenheit.",
     .formula = "",
     .unit = "C",
     .assumes = "",
     .misleads = "A morning reading is the cold end of the day, not its mean, and is not used as "
                 "one.",
     .source = "the record",
     .also = "spot-c min-c max-c temp-c temp temperature temperatures plain-unit degrees"},
    {.word = "not-assessed",
     .title = "not dug up yet",
     .meaning =
         "Those that did not come up and of which nothing is recorded: not rotted, not hard, "
         "only not looked for.",
     .formula = "sown - ever up - assessed",
     .unit = "units",
     .assumes = "",
     .misleads = "It is not \"dead\".",
     .source = "the record",
     .also = "rest-not-assessed"},
    {.word = "draw",
     .title = "the order drawn by lot",
     .meaning = "The places in each block are given out by chance, so that no treatment has the "
                "warm end. The same number draws the same order again.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "An order that one chose oneself is not drawn, however mixed it looks.",
     .source = "Fisher 1935 (from memory)",
     .also = "random lots-drawn order"},
    {.word = "journal",
     .title = "who changed what, and when",
     .meaning = "Every write stands in it, with what was there before. Undo takes the last command "
                "out of the record and marks it here.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Its times are UTC, hours off from the clock on your wall.",
     .source = "the record",
     .also = "when id by who what"},
    {.word = "taken-in",
     .title = "what an import or a check counts",
     .meaning =
         "Rows read, and the lots, trials, treatments and sowings they made; rows that stand "
         "in the logbook already are counted apart. A row that is wrong is named by its "
         "line, and then nothing at all is taken in.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "",
     .source = "the record",
     .also = "rows line counts-there errors-in-all column notes filled-in things"},
    {.word = "season",
     .title = "sowings of one year taken together",
     .meaning = "All sowings of a crop, lot or treatment that were sown in one calendar year. Its "
                "range is of the season's true percentage, and is wide where few sowings made it.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Seasons differ in weather and in age of seed both: one alone shows neither.",
     .source = "definition of this program",
     .also = "seasons"},
};

}  // namespace

std::span<const Explanation> words_of_what_is_kept() { return entries; }

}  // namespace plumule::analysis
