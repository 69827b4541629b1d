// Entries of `explain`: the figures of a crop, and what is expected of it.
#include "analysis/explain/explanation.hpp"

namespace plumule::analysis {

namespace {

constexpr Explanation entries[] = {
    {.word = "crop-fact",
     .title = "a figure from a source",
     .meaning = "What one source says of a crop: a value, or from low to high. Sources that "
                "disagree stand side by side; none is averaged.",
     .formula = "",
     .unit = "as said beside it",
     .assumes = "",
     .misleads = "A figure of another climate, bed or variety is a guide only.",
     .source = "the one named beside it, with how far it was checked",
     .also = "low high"},
    {.word = "for-sale",
     .title = "least germination at which seed may be sold",
     .meaning = "A line of the law for seed in trade. It is the standard that a lot is held to "
                "unless you give your own.",
     .formula = "",
     .unit = "%",
     .assumes = "Hard seed counts as germinated.",
     .misleads = "Seed below it may be well worth sowing thicker.",
     .source = "7 CFR 201.31; state lists where it has none",
     .also = "minimum-germination"},
    {.word = "laboratory-test",
     .title = "how a laboratory tests the kind",
     .meaning = "On what, how warm, and on which days it is counted. 20-30 is sixteen hours of a "
                "day at the cooler and eight at the warmer.",
     .formula = "",
     .unit = "days after sowing",
     .assumes = "",
     .misleads = "In soil they take longer and fewer come.",
     .source = "7 CFR 201.58, Table 2; the international rules from memory",
     .also = "first-count first-count-day last-count final-count"},
    {.word = "days-to-come-up",
     .title = "published days to emergence",
     .meaning = "How long half or most took at a steady soil temperature. Between two printed "
                "temperatures the speed is taken to go straight, not the days.",
     .formula = "1 / days is straight in temperature",
     .unit = "days",
     .assumes = "Steady warmth, a fine bed, sound seed.",
     .misleads = "Nothing is read beyond the coldest and warmest that were tried.",
     .source = "Harrington & Minges 1954, by way of extension tables",
     .also = "days-to-emergence days"},
    {.word = "wait-for-it",
     .title = "the last day worth waiting to",
     .meaning = "See give-up-day: the day after sowing past which no more are to be waited for. "
                "Where the soil's temperature is known the day moves with it.",
     .formula = "",
     .unit = "days after sowing",
     .assumes = "",
     .misleads = "Hard, dormant and chilled seed may come a season later.",
     .source = "7 CFR 201.58; Harrington & Minges 1954; common practice, no source",
     .also = "wait-until"},
    {.word = "soil",
     .title = "soil temperatures at which it comes up",
     .meaning = "The lowest, the best and the highest, over every table that has the crop. Where "
                "tables differ the range takes all of them in",
     .formula = "",
     .unit = "C",
     .assumes = "",
     .misleads = "At the lowest it takes weeks, and seed rots meanwhile.",
     .source = "the tables",
     .also = "lowest best highest tables",
     .after_meaning = records::Advice::show_each_table,
     .after_source = records::Advice::look_sources_up},
    {.word = "seed-life",
     .title = "how many years seed keeps",
     .meaning = "The fewest and most years that lists give, and the one in the middle. Most lists "
                "copy a few old ones and do not say how the seed was kept.",
     .formula = "median of the lists' low ends",
     .unit = "years",
     .assumes = "Cool, dry keeping.",
     .misleads = "They differ five times over for one crop. A test of your own overrules them.",
     .source = "the lists",
     .also = "seed-keeps lists handbook median",
     .after_source = records::Advice::look_sources_up},
    {.word = "clusters",
     .title = "seed that is a fruit of several",
     .meaning = "A natural beet or chard \"seed\" is a cluster that can give several seedlings. "
                "Clusters with at least one up, and seedlings, are two counts.",
     .formula = "",
     .unit = "seedlings a cluster",
     .assumes = "",
     .misleads = "Seedlings over clusters can pass 100 %: it is not a germination.",
     .source = "7 CFR 201.56 counts a cluster once",
     .also = "cluster seed-cluster"},
    {.word = "hard-seed",
     .title = "a coat that lets no water in",
     .meaning = "Alive, but it does not swell: it may come up next year, or after the coat is "
                "nicked. In the least for sale it counts as germinated; a label shows it apart.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "A cut too deep kills it.",
     .source = "7 CFR 201.57; 201.31 (the least for sale); 201.21 and 201.30 (labels)",
     .also = "hard-seeds"},
    {.word = "before-sowing",
     .title = "what is done to seed first",
     .meaning = "Soaking, nicking, chilling, priming, light, and heat for health: how long, and "
                "what harms. Whether it helps your seed is what a trial is for.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Much of it is advice that no trial bears out",
     .source = "the sources",
     .also = "soaking scarification chilling light heat-limit hot-water bleach peroxide advised-by "
             "refused-by",
     .after_misleads = records::Advice::show_which_are_proven,
     .after_source = records::Advice::look_sources_up},
    {.word = "thermal-time",
     .title = "warmth added up",
     .meaning = "Each day counts for the degrees above a base below which nothing happens; a crop "
                "needs about the same sum whatever the warmth.",
     .formula = "days x (temperature - base)",
     .unit = "degree-days C",
     .assumes = "Temperatures between the base and the best.",
     .misleads = "Near the base and above the best it fails.",
     .source = "Bierhuizen & Wagenvoort 1974, Scientia Horticulturae 2:213-219 (from memory)",
     .also = "heat-sum degree-days base-temperature"},
    {.word = "should-be-up",
     .title = "later than it is expected",
     .meaning = "Nothing is up in it, and the day by which it is expected at its temperature has "
                "come. Look, and scratch a few seeds up before you give up.",
     .formula = "today >= expected day",
     .unit = "",
     .assumes = "",
     .misleads = "One cold week explains it as well.",
     .source = "Harrington & Minges 1954; rule of this program",
     .also = "late should-be-up-by-now overdue"},
    {.word = "unlikely-to-give-more",
     .title = "nothing new for long",
     .meaning =
         "Somebody has looked on the give-up day or later, and nothing new had come. Done, as "
         "far as can be seen: all are up, or nothing new came for as many days as "
         "quiet-days asks.",
     .formula = "",
     .unit = "",
     .assumes = "",
     .misleads = "Unlikely is not never: a towel of old seed can wake late.",
     .source = "rule of this program; common practice, no source",
     .also = "done unlikely retest"},
};

}  // namespace

std::span<const Explanation> words_of_crops() { return entries; }

}  // namespace plumule::analysis
