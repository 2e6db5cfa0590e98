#!/usr/bin/env python3
"""Writes docs/checks.md from the rows that the outside checks leave.

    UPDRAUGHT_CHECKS_FILE=rows.tsv build/tests/test_outside
    python3 tests/outside/write_checks.py rows.tsv docs/checks.md

A row: section, what, computed, published, deviation, hold, source, mark, holds; separated by tabs. Misses come first.
Whole beds (cases/published) have a part of their own: by bed, met or not, with low and high of plausible beds where the long
tests left them.
"""

import sys

HEAD = """# Checks against the outside

Computed beside published values, written by `tests/outside/write_checks.py` from the rows of a run of `tests/outside`. Misses come first,
with their reasons; a row whose tolerance says "show" is reported and does not fail. Marks: R read in the source, M from memory, E exact or
derived, C common practice, no source; "fit": used to set a default, so that it calibrates and does not test.
"""
TITLES = {"Exact": "Exact and numerical", "AirAndHeat": "Air and heat", "WholeBed": "Whole bed"}
# Why a row misses, by the beginning of its name.
REASONS = {
    "oxygen in air at 60": "the page's two figures rise with T^2 from 0.213 at 20 °C; a review of measurements (0.182 cm2/s at 0 °C, power "
    "1.81) has 0.261 here, and the law keeps to that",
    "evaporation from a wet surface": "computed with rho c_p of dry air at 20 °C and the latent heat at the surface's warmth; the published "
    "figures do not tell theirs, so none was chosen to meet them",
    "square heated from the side, Ra 1000, 64 x 64 even cells": "the layer along the sides is two even cells thick; cells that are finer there meet it",
    "fresh chips, 33 mm": "one law of size serves all rows of chips; it meets the two pressure drops of 35 mm chips, which ask for a lower k",
    "compacted oak chips": "one law of size serves all rows of chips",
    "chunkwood": "one law of size serves all rows of chips",
    "kitchen waste settled at 1 kPa": "practice gives one range for 1 to 3 kPa; at 2 and 3 kPa the computed density lies in it",
    "the same of the library's sludge": "loose, in lumps, as it is tipped; a windrow lies under its own load, and its base has 11 % in "
    "cases/published: the published figure, which does not tell its depth, lies between",
    "a piece of 50 mm": "a rim of 3 mm is not thin against 50 mm; a thin skin gives 2 (below)",
}
# Why a bed misses, by the name of its files.
BED_REASONS = {
    "autumn-open-heap": "the heap warms within days in still air; wind and rain, which cool it, are not in the case, and what the waste was is "
    "a guess",
    "autumn-slatted-bin": "as autumn-open-heap",
    "bin-200l-closed": "want of air, and the water stays: it drips back from the lid, and the bed ends wetter than it began; there most of "
    "what was lost must have been water",
    "bin-200l-side-holes": "more than half of the dry mass is lost, but the water stays, and the bed ends wetter than it began; filled daily "
    "there, so no day was as hot",
    "draught-bin-open": "most of it wants air from day 2 on: what passes is a hundredth of what was measured; shares by volume and the kind of "
    "food are guesses",
    "flask-biowaste": "food is used up in most of the flask before 60 °C; what stands in it is a guess (from memory)",
    "insulated-can-leaves-grass": "turned there several times a day, here every eight hours: three quarters of its hours go without air still",
    "leaf-pile": "warmer than measured, and lower: leaves are light here (110 kg/m3) and sink by a quarter in a week as they rot and go "
    "limp",
    "manure-peat-no-pipes": "three quarters want air, so little rots and little water leaves",
    "manure-peat-pipes": "as manure-peat-no-pipes: the air of the pipes gets no further than the base",
    "manure-pit-polytunnel": "only its outer part has air; the middle wants it and is warmed from there",
    "mound-chips-manure": "the mix half way up wants air and starts cold; green chips with leaves are given the slow rot of prunings, and the "
    "slotted pipe up the middle is left out",
    "nested-cans-1-to-1": "half wants air, and it stops short of 40 °C by 2 K: the walls take three quarters of the heat",
    "nested-cans-1-to-2": "it stops short of 40 °C by 2 K: the walls take three quarters of the heat",
    "nested-cans-2-to-3": "as nested-cans-1-to-2",
    "pallet-bin-grass-prunings": "half a day late and 12 K cooler: the microbes of cut grass are still too few on the first day",
    "sludge-chips-1-to-2.5": "told of the lowest layer, under 1.4 m, where the source does not tell the depth; loose it has 36 %",
    "sludge-chips-1-to-2.8": "the middle wants air: left alone here, turned there",
    "sludge-chips-1-to-4": "as sludge-chips-1-to-2.8",
    "willow-heap-spring": "its bark heats it, slower than there: the middle is short of air for ten days, and the wood itself gives nothing (0.002 a day at best)",
    "willow-heap-winter": "as willow-heap-spring",
    "winter-heap-chip-base": "what oxygen was measured was after it had heated; here it heats only on day 29, from 5 °C, and air comes from the top "
    "as well",
    "wire-cage-grass-hay": "half a day late; the first day costs it the root mean square",
}
BED_HEAD = """
## Whole beds

Beds that somebody built and measured, each computed from its own file in `cases/published`, which tells what was given and what
was assumed; low and high hold 8 of 10 of 16 plausible beds. "Met": within the goal (temperature 5 K, the day that one is
reached 1 d, oxygen 3 %, air a factor of 1.5; masses, heights and pores our choice; "the order": which of two is larger). Nothing
was fitted to these values. Half of the beds may be used to set defaults ("calibrating"), the other half never ("testing").
"-": its plausible beds were not computed. Drawn by day: [calibrating](pictures/published-beds-calibrating.png),
[testing](pictures/published-beds-testing.png).
"""
FIELDS = ["section", "what", "computed", "published", "deviation", "hold", "source", "mark", "holds"]


def read_rows(path):
    rows = []
    with open(path, encoding="utf-8") as file:
        for number, line in enumerate(file, 1):
            values = line.rstrip("\n").split("\t")
            if len(values) != len(FIELDS):
                sys.exit(f"{path}:{number}: {len(values)} fields where {len(FIELDS)} are needed")
            rows.append(dict(zip(FIELDS, values)))
    if not rows:
        sys.exit(f"{path} holds no rows")
    return rows


def reason(row):
    known = [why for start, why in REASONS.items() if row["what"].startswith(start)]
    return known[0] if known else "not understood yet"


def table(rows, names):
    lines = ["| " + " | ".join(names) + " |", "|" + "---|" * len(names)]
    for row in rows:
        lines.append("| " + " | ".join(row[name].replace("|", "\\|") for name in names) + " |")
    return "\n".join(lines) + "\n"


def beds_part(rows):
    """The part on whole beds: rows of the ordinary tests, joined by what they tell with those of the long ones."""
    likely = {row["what"]: row["computed"] for row in rows if row["hold"] == "show, likely"}
    told = [row for row in rows if row["hold"] != "show, likely"]
    lines, missing = [], []
    for row in told:
        bed, _, what = row["what"].partition(": ")
        met = "yes" if row["holds"] == "yes" else "no"
        lines.append({"bed": bed, "what": what, "computed": row["computed"], "likely": likely.get(row["what"], "-"),
                      "measured": row["published"], "goal": row["hold"].removeprefix("show, "), "met": met,
                      "source": row["source"], "mark": row["mark"]})
        if met == "no" and bed not in missing:
            missing.append(bed)
    if not lines:
        return "", ""
    met = sum(line["met"] == "yes" for line in lines)
    counted = f"; whole beds: {len(lines)} values, {met} met"
    why = [{"bed": bed, "why it misses": BED_REASONS.get(bed, "not understood yet")} for bed in missing]
    text = BED_HEAD + "\n" + table(lines, list(lines[0])) + ("\n" + table(why, list(why[0])) if why else "")
    return counted, text


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    rows = read_rows(sys.argv[1])
    for row in rows:
        section = row["section"].removeprefix("Long")
        row["part"] = TITLES.get(section, section)
    beds = [row for row in rows if row["part"] == "PublishedBeds"]
    rows = [row for row in rows if row["part"] != "PublishedBeds"]
    counted, whole_beds = beds_part(beds)
    misses = [row | {"reason": reason(row)} for row in rows if row["holds"] != "yes"]
    text = HEAD + f"\n{len(rows)} checks, {len(misses)} misses{counted}.\n\n## Misses\n\n"
    text += table(misses, ["part"] + FIELDS[1:8] + ["reason"]) if misses else "None.\n"
    for part in sorted({row["part"] for row in rows}):
        kept = [row for row in rows if row["part"] == part and row["holds"] == "yes"]
        if kept:
            text += f"\n## {part}\n\n" + table(kept, FIELDS[1:8])
    text += whole_beds
    with open(sys.argv[2], "w", encoding="utf-8") as file:
        file.write(text)


if __name__ == "__main__":
    main()
