#!/usr/bin/env python3
"""Writes a large invented flat log to standard output: 80,000 sowings with 14 looks each in 16 days,
eight sowings a lot, half of them soaked. For the benchmark alone; nothing rests on its figures.

    draw_log.py [SOWINGS] > log.csv

Only random() of a seeded generator is used, so that every version of Python writes the same bytes.
"""
import datetime
import random
import sys

DAYS, LOOKS = 16, 14


def main():
    sowings = int(sys.argv[1]) if len(sys.argv) > 1 else 80_000
    draw = random.Random("a large log").random
    first = datetime.date(2015, 1, 1)
    days = [(first + datetime.timedelta(d)).isoformat() for d in range(3650 + DAYS + 1)]
    write = sys.stdout.write
    write("sowing,sown_on,counted_on,emerged,seeds,lot,treatment\n")
    for i in range(sowings):
        if i % 8 == 0:
            lot, sown = f"L{i // 8 + 1:06}", int(draw() * 3650)
            share, median, shape = 0.5 + 0.5 * draw(), 4 + 5 * draw(), 4 + 4 * draw()
        seeds = 10 + int(draw() * 91)
        living = int(seeds * min(1, share * (0.9 + 0.2 * draw())))
        treatment = "soaked" if i % 8 >= 4 else "dry"
        missed = {1 + int(draw() * (DAYS - 1)) for _ in range(DAYS - LOOKS)}
        while len(missed) < DAYS - LOOKS:
            missed.add(1 + int(draw() * (DAYS - 1)))
        rows, up = [], 0
        for day in range(1, DAYS + 1):
            up = max(up, int(living / (1 + (day / median) ** -shape) + draw()))
            if day not in missed:
                rows.append(f"S{i + 1:06},{days[sown]},{days[sown + day]},{min(up, living)},{seeds},"
                            f"{lot},{treatment}\n")
        write("".join(rows))


if __name__ == "__main__":
    main()
