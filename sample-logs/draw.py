#!/usr/bin/env python3
"""Draws the sample logs: one invented grower's two springs, as flat logs (CSV).

    python3 sample-logs/draw.py          writes the .csv files beside this program
    python3 sample-logs/draw.py --check  says whether the files there are what it would write

Nothing here was ever sown. Only random() of a seeded generator is used (the one function whose
sequence Python promises to keep), so that every version draws the same files. How seeds are drawn:
  a tray's share of living seed   logit(share) ~ N(logit(p), 0.30): seeds of a tray are alike
  a seed's days to emergence      log-logistic; the tray's log median ~ N(log(median), 0.03)
"""
import csv
import datetime
import io
import math
import pathlib
import random
import sys

HERE = pathlib.Path(__file__).resolve().parent
DEMO_DAY = datetime.date(2026, 5, 10)  # the logs are told as of this morning
COLUMNS = {
    "beans-soaked.csv": ["sowing", "sown_on", "lot", "crop", "variety", "harvest_year", "trial",
                         "question", "closes_on", "block", "treatment", "soak_hours", "treated_in",
                         "seeds", "place", "counted_on", "emerged", "soil_temp_c", "counted_by",
                         "ended", "ended_on", "ended_why", "note"],
    "towels.csv": ["sowing", "sown_on", "lot", "crop", "variety", "harvest_year", "source",
                   "label_germination", "setting", "counting", "seeds", "place", "counted_on",
                   "newly_emerged", "counted_by", "ended", "note"],
    "beets-and-rows.csv": ["sowing", "sown_on", "lot", "crop", "variety", "harvest_year", "setting",
                           "unit", "seeds", "seeds_known", "metres", "grams", "depth_mm", "place",
                           "counted_on", "emerged", "lost", "seedlings", "soil_temp_c",
                           "counted_by", "ended", "note"],
    "trays-2025.csv": ["sowing", "sown_on", "lot", "crop", "variety", "harvest_year", "setting",
                       "seeds", "depth_mm", "medium", "place", "counted_on", "emerged",
                       "soil_temp_c", "counted_by", "ended", "note"],
    "trays-2026.csv": ["sowing", "sown_on", "lot", "crop", "variety", "harvest_year", "setting",
                       "seeds", "depth_mm", "medium", "place", "counted_on", "emerged",
                       "soil_temp_c", "counted_by", "ended", "note"],
}


class Draw:
    """Random draws for one file; each file has its own seed, so that one can change alone."""

    def __init__(self, seed):
        self.random = random.Random(seed).random

    def normal(self):
        return math.sqrt(-2 * math.log(1 - self.random())) * math.cos(2 * math.pi * self.random())

    def alike(self, p):
        odds = math.log(p / (1 - p)) + 0.30 * self.normal()
        return 1 / (1 + math.exp(-odds))

    def times(self, n, p, median, shape):
        """Days to emergence of n seeds of one tray; those that never come up are left out."""
        p, median = self.alike(p), median * math.exp(0.03 * self.normal())
        out = []
        for _ in range(n):
            u, lives = self.random(), self.random() < p
            if lives:
                out.append(median * (u / (1 - u)) ** (1 / shape))
        return sorted(out)

    def order(self, things):
        return [t for _, t in sorted((self.random(), t) for t in things)]


def day(text):
    return datetime.date.fromisoformat(text)


def soil(draw, first, last, start, rise, missed=0.25):
    """Morning readings of one place: a slow rise with weather on it; some mornings have none."""
    readings, weather = {}, 0.0
    d = first
    while d <= last:
        weather = 0.7 * weather + 0.8 * draw.normal()
        if draw.random() > missed:
            readings[d] = f"{start + rise * (d - first).days + weather:.1f}"
        d += datetime.timedelta(1)
    return readings


def looks(sown, first, last, missed=()):
    days = [sown + datetime.timedelta(k) for k in range(first, last + 1)]
    return [d for d in days if d not in missed and d <= DEMO_DAY - datetime.timedelta(1)]


def up_by(times, sown, d):
    return sum(1 for t in times if t <= (d - sown).days)


def beans():
    draw, rows = Draw("soaked beans"), []
    sown, closes = day("2026-04-08"), day("2026-04-29")
    weekend = (day("2026-04-18"), day("2026-04-19"))
    warmth = soil(draw, sown, closes, 14.0, 0.12)
    kinds = {"untreated": (0, 0.88, 11.6), "soaked-8h": (8, 0.88, 9.7), "soaked-24h": (24, 0.56, 9.1)}
    tray = 0
    for block in "1234":
        for treatment in draw.order(kinds):
            tray += 1
            hours, p, median = kinds[treatment]
            label = f"S{tray}"
            times = draw.times(50, p, median, 9.0)
            facts = dict(sowing=label, sown_on=sown, lot="BEAN-25", crop="garden bean",
                         variety="Quillet", harvest_year=2025, trial="SOAK-26",
                         question="Does soaking help the beans, and for how long?",
                         closes_on=closes, block=block, treatment=treatment,
                         soak_hours=hours or "", treated_in=f"jar-{label}" if hours else "",
                         seeds=50, place="tunnel bench")
            knocked_over = treatment == "soaked-8h" and block == "3"
            days = looks(sown, 5, (closes - sown).days, weekend)
            if knocked_over:
                days = [d for d in days if d <= day("2026-04-23")]
            for d in days:
                row = dict(facts, counted_on=d, emerged=up_by(times, sown, d), counted_by="Wenna")
                if d.weekday() in (1, 3):
                    row["counted_by"] = "Tobin"
                if tray == 1 and d in warmth:
                    row["soil_temp_c"] = warmth[d]
                if label == "S5" and d == day("2026-04-20"):
                    row["note"] = (f"first written as {row['emerged'] + 10}, a slip of the pen; "
                                   "counted again and put right the same evening")
                if d == day("2026-04-20") and tray == 1:
                    row["note"] = "nobody here at the weekend, not looked"
                if treatment == "soaked-24h" and d == closes:
                    row["note"] = "dug up a few that never showed: soft and brown"
                if d == days[-1]:
                    row["ended"] = "accident" if knocked_over else "finished"
                    if knocked_over:
                        row.update(ended_on=day("2026-04-24"), ended_why="knocked over by the cat")
                rows.append(row)
    return rows


def towels():
    draw, rows = Draw("towels"), []
    tests = [("T1", "2026-03-02", "ONI-22", "onion", "Pell Gold", 2022, "swap at the hall", "", 0.55, 5.0),
             ("T2", "2026-03-02", "PAR-21", "parsnip", "Long Marram", 2021, "swap at the hall", "", 0.15, 11.0),
             ("T3", "2026-03-02", "LEEK-20", "leek", "Grey Warden", 2020, "bought", "0.82", 0.40, 8.0),
             ("T4", "2026-03-02", "TOM-17", "tomato", "Ember Lane", 2017, "own", "", 0.85, 5.0),
             ("T5", "2026-03-02", "CAR-19", "carrot", "Sallow Spike", 2019, "bought", "0.78", 0.45, 7.0),
             ("T6", "2026-03-16", "ONI-22", "onion", "Pell Gold", 2022, "swap at the hall", "", 0.55, 5.0)]
    for label, sown, lot, crop, variety, year, source, germination, p, median in tests:
        sown = day(sown)
        times = draw.times(10, p, median, 6.0)
        before = 0
        days = looks(sown, 3, 14 if crop in ("onion", "tomato") else 21)
        for d in days:
            up = up_by(times, sown, d)
            row = dict(sowing=label, sown_on=sown, lot=lot, crop=crop, variety=variety,
                       harvest_year=year, source=source, label_germination=germination,
                       setting="towel", counting="root", seeds=10, place="airing cupboard",
                       counted_on=d, newly_emerged=up - before, counted_by="Wenna")
            before = up
            if d == days[-1]:
                row["ended"] = "finished"
                if lot == "PAR-21":
                    row["note"] = "the rest soft, some with mould"
            rows.append(row)
    return rows


def beets_and_rows():
    draw, rows = Draw("beets and rows"), []
    for label, sown, p in (("E1", "2026-03-24", 0.82), ("E2", "2026-03-24", 0.82)):
        sown = day(sown)
        warmth = soil(draw, sown, sown + datetime.timedelta(30), 12.5, 0.1)
        clusters = []  # each: the days on which its seedlings show
        share = draw.alike(p)
        for _ in range(30):
            seeds = 1 + int(4 * draw.random())
            if draw.random() < share:
                first = 9.0 * math.exp(0.15 * draw.normal())
                clusters.append([first * (1 + 0.25 * k * draw.random()) for k in range(seeds)])
        days = [d for d in looks(sown, 6, 24) if d.weekday() != 6]
        for d in days:
            age = (d - sown).days
            row = dict(sowing=label, sown_on=sown, lot="BEET-24", crop="beet", variety="Dunnet Red",
                       harvest_year=2024, setting="tray", unit="cluster", seeds=30, depth_mm=15,
                       place="tunnel bench", counted_on=d, counted_by="Wenna",
                       emerged=sum(1 for c in clusters if min(c) <= age),
                       seedlings=sum(1 for c in clusters for t in c if t <= age))
            if label == "E1" and d in warmth:
                row["soil_temp_c"] = warmth[d]
            if d == days[-1]:
                row["ended"] = "finished"
            rows.append(row)
    # Peas of 2025, in the open: what stands is counted, and what the pigeons took.
    sown = day("2025-03-28")
    times = draw.times(120, 0.72, 19.0, 8.0)
    warmth = soil(draw, sown, sown + datetime.timedelta(40), 7.0, 0.15)
    taken_at = {day("2025-04-22"): 4, day("2025-04-26"): 7}
    days = looks(sown, 12, 35)[::2]
    for d in days:
        row = dict(sowing="W1", sown_on=sown, lot="PEA-24", crop="pea", variety="Tall Hobbin",
                   harvest_year=2024, setting="row", seeds=120, seeds_known="estimated", metres=4,
                   depth_mm=40, place="field, north end", counted_on=d, counted_by="Tobin",
                   emerged=up_by(times, sown, d), lost=0)
        row["lost"] = taken_at.get(d, 0)
        if d in taken_at:
            row["note"] = "pigeons" if row["lost"] == 4 else "pigeons again, netted now"
        if d in warmth:
            row["soil_temp_c"] = warmth[d]
        if d == days[-1]:
            row["ended"] = "finished"
        rows.append(row)
    # Carrots of 2026, sown by weight: nobody knows how many.
    sown = day("2026-04-14")
    times = draw.times(700, 0.6, 20.0, 7.0)
    warmth = soil(draw, sown, DEMO_DAY, 9.0, 0.15)
    for d in looks(sown, 10, 40)[::2]:
        row = dict(sowing="W2", sown_on=sown, lot="CAR-25", crop="carrot", variety="Sallow Spike",
                   harvest_year=2025, setting="row", metres=8, grams=1.1, depth_mm=10,
                   place="field, north end", counted_on=d, counted_by="Tobin",
                   emerged=up_by(times, sown, d))
        if d in warmth:
            row["soil_temp_c"] = warmth[d]
        if d == day("2026-05-04"):
            up = row["emerged"]
            row["emerged"] = f"{up - up % 10}..{up - up % 10 + 20}"
            row["note"] = "a guess, too many to count in the rain"
        rows.append(row)
    return rows


def trays(name, sowings):
    draw, rows = Draw(name), []
    warmth = {}
    for label, sown, lot, crop, variety, year, seeds, place, p, median, last, end, note in sowings:
        sown = day(sown)
        if place not in warmth:
            start = {"tunnel bench": 11.0, "heat mat": 22.0, "cold frame": 9.0}[place]
            rise = 0.0 if place == "heat mat" else 0.1
            warmth[place] = soil(draw, day(f"{sown.year}-03-01"), day(f"{sown.year}-06-30"), start, rise)
        facts = dict(sowing=label, sown_on=sown, lot=lot, crop=crop, variety=variety,
                     harvest_year=year, setting="cells" if crop in ("kale", "cabbage") else "tray",
                     seeds=seeds, depth_mm={"cucumber": 15, "lettuce": 3}.get(crop, 8),
                     medium="leaf mould and sand", place=place)
        times = draw.times(seeds, p, median, 8.0) if p else []
        first = max(2, int(0.5 * median))
        days = looks(sown, first, last)
        if label == "C2" and end == "":
            days = days[:-3]  # missed for some days
        if not days:
            rows.append(dict(facts))
        for k, d in enumerate(days):
            row = dict(facts, counted_on=d, emerged=up_by(times, sown, d),
                       counted_by="Tobin" if d.weekday() in (1, 3) else "Wenna")
            if k % 2 == 0 and d in warmth[place]:
                row["soil_temp_c"] = warmth[place][d]
            if d == days[-1] and end:
                row["ended"] = end
            if d == days[-1] and note:
                row["note"] = note
            rows.append(row)
    return rows


def trays_2025():
    return trays("trays 2025", [
        ("K1", "2025-03-10", "KALE-23", "kale", "Skerry Blue", 2023, 24, "tunnel bench", 0.85, 6.5, 14, "finished", ""),
        ("K2", "2025-03-10", "KALE-23", "kale", "Skerry Blue", 2023, 24, "tunnel bench", 0.85, 6.5, 14, "finished", ""),
        ("B1", "2025-03-12", "CAB-22", "cabbage", "Brackmoor", 2022, 24, "tunnel bench", 0.75, 7.0, 16, "finished", ""),
        ("R1", "2025-04-02", "RAD-24", "radish", "Pinnock", 2024, 40, "cold frame", 0.92, 6.0, 12, "finished", ""),
        ("R2", "2025-04-02", "RAD-24", "radish", "Pinnock", 2024, 40, "cold frame", 0.92, 6.0, 12, "finished", ""),
        ("L1", "2025-04-05", "LET-23", "lettuce", "Fenwhistle", 2023, 30, "cold frame", 0.80, 8.0, 18, "finished", ""),
        ("L2", "2025-05-28", "LET-23", "lettuce", "Fenwhistle", 2023, 30, "tunnel bench", 0.10, 6.0, 14, "given-up", "hot days; lettuce sleeps in the heat"),
        ("C1", "2025-05-03", "CUC-23", "cucumber", "Ostler", 2023, 12, "heat mat", 0.90, 5.0, 12, "finished", ""),
        ("C2", "2025-05-03", "CUC-23", "cucumber", "Ostler", 2023, 12, "heat mat", 0.35, 6.0, 12, "failed", "damped off: kept too wet"),
    ])


def trays_2026():
    rows = trays("trays 2026", [
        ("K1", "2026-03-09", "KALE-23", "kale", "Skerry Blue", 2023, 24, "tunnel bench", 0.80, 7.0, 15, "finished", ""),
        ("K2", "2026-03-09", "KALE-23", "kale", "Skerry Blue", 2023, 24, "tunnel bench", 0.80, 7.0, 15, "finished", ""),
        ("B1", "2026-03-11", "CAB-22", "cabbage", "Brackmoor", 2022, 24, "tunnel bench", 0.60, 7.5, 17, "finished", ""),
        ("R1", "2026-04-01", "RAD-24", "radish", "Pinnock", 2024, 40, "cold frame", 0.90, 6.0, 12, "finished", ""),
        ("L1", "2026-04-03", "LET-23", "lettuce", "Fenwhistle", 2023, 30, "cold frame", 0.72, 8.0, 18, "finished", ""),
        ("C1", "2026-05-01", "CUC-23", "cucumber", "Ostler", 2023, 12, "heat mat", 0.85, 5.5, 30, "", ""),
        ("C2", "2026-05-01", "CUC-25", "cucumber", "Ostler", 2025, 12, "heat mat", 0.95, 5.0, 30, "", ""),
        ("R2", "2026-05-02", "RAD-24", "radish", "Pinnock", 2024, 40, "cold frame", 0.90, 5.0, 30, "", ""),
        ("L2", "2026-05-03", "LET-25", "lettuce", "Fenwhistle", 2025, 30, "cold frame", 0.85, 7.0, 30, "", ""),
        ("K3", "2026-05-09", "KALE-25", "kale", "Skerry Blue", 2025, 24, "cold frame", 0.85, 6.0, 30, "", ""),
    ])
    # A slip that still stands in the file, for whoever wants to try `amend`.
    slip = next(r for r in rows if r["sowing"] == "R2" and r.get("counted_on") == day("2026-05-08"))
    after = next(r for r in rows if r["sowing"] == "R2" and r.get("counted_on") == day("2026-05-09"))
    after["note"] = f"yesterday's figure should be {slip['emerged']}: one lay under the label"
    slip["emerged"] -= 1
    return rows


FILES = {"beans-soaked.csv": beans, "towels.csv": towels, "beets-and-rows.csv": beets_and_rows,
         "trays-2025.csv": trays_2025, "trays-2026.csv": trays_2026}


def text_of(name):
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS[name], restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(FILES[name]())
    return out.getvalue()


def main():
    stale = [n for n in FILES if not (HERE / n).exists() or (HERE / n).read_text() != text_of(n)]
    if sys.argv[1:] == ["--check"]:
        for name in stale:
            print(f"{name} is not what draw.py draws")
        return 1 if stale else 0
    for name in stale:
        (HERE / name).write_text(text_of(name))
        print(f"wrote {name}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
