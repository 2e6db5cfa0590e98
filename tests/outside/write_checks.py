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
    "a piece of 50 mm": "a rim of 3 mm is not thin against 50 mm; a thin skin gives 2 (below)",
}
# Why a bed misses, by the name of its files. In all of these: as the program was when they were first computed.
BED_REASONS = {
    "autumn-open-heap": "in still air the small heap warms in the third week; wind and rain, which cool it, are not in the case; what the waste "
    "was is a guess",
    "autumn-slatted-bin": "it idles at 8 °C for ten days and then takes off, which the trial's bin never did; wind, rain and what the waste was "
    "are guesses",
    "bin-200l-closed": "the rot stops for want of air, and nearly all the water stays in the bed; there most of what was lost must have been "
    "water",
    "bin-200l-side-holes": "35 % of the dry mass is lost, but nearly all the water stays in the bed; there most of what was lost must have been "
    "water; filled daily there",
    "draught-bin-open": "half way up the fill is pressed to 830 kg/m3 by its own weight, 19 % air between the pieces is left at the base; "
    "handbooks have 240 to 480 kg/m3 for compacted leaves and grass (from memory); hardly any air moves in it, and the "
    "middle stays cold",
    "flask-biowaste": "food is used up in most of the flask when it is at 57 °C; what stands in it is a guess (from memory)",
    "heap-leaves-grass-scraps": "half way up the fill is pressed to 910 kg/m3 by its own weight, 12 % air between the pieces is left at the base (k "
    "4e-12 m2); handbooks have 240 to 480 kg/m3 for compacted leaves and grass (from memory); hardly any air moves in it, "
    "and the middle stays cold",
    "insulated-can-leaves-grass": "turned there several times a day, which renews its air; left alone here it has none from day 1.2 on",
    "leaf-pile": "it takes six days to get going from 9 °C, then heats fast",
    "manure-peat-pipes": "three quarters want air, so little rots and little water leaves",
    "manure-peat-no-pipes": "as manure-peat-pipes",
    "manure-pit-polytunnel": "only its outer half has air; the middle is half way up and warms from there",
    "mound-chips-manure": "half way up the mix is pressed to 810 kg/m3 (23 % air between the pieces); green chips with leaves are given the slow "
    "rot of prunings, and the slotted pipe up the middle is left out",
    "nested-cans-1-to-1": "half wants air; a day is lost while microbes are few",
    "nested-cans-2-to-3": "as nested-cans-1-to-1",
    "nested-cans-1-to-2": "a day is lost while microbes are few; walls take three quarters of the heat",
    "pallet-bin-grass-prunings": "55 °C in a day needs grass whose microbes are awake: cut grass of the library starts with 2 % of them, and the first "
    "day is lost",
    "sludge-chips-1-to-2.5": "the lowest layer under 1.4 m is told; without that load it is 36 %",
    "willow-heap-spring": "chips hardly rot in the library (0.002 a day at best); fresh ones with bark, buds and sugar heat a heap within days",
    "willow-heap-winter": "as willow-heap-spring",
    "winter-heap-chip-base": "the manure starts at 5 °C, where no microbe of the program breathes; there the ends heated first, in the sun",
    "wire-cage-grass-hay": "its hottest part has 64 °C on day 3 and 71 on day 5, but high up: half way up, where it was measured, the fill is "
    "pressed to 745 kg/m3, wants air and stays behind; handbooks have 240 to 480 kg/m3 for compacted leaves and grass (from "
    "memory)",
}
BED_HEAD = """
## Whole beds

Beds that somebody built and measured, each computed from its own file in `cases/published`, which tells what was given and what
was assumed; low and high are those of 8 of 16 plausible beds. "Met": within the goal (temperature 5 K, the day that one is
reached 1 d, oxygen 3 %, air a factor of 1.5; masses, heights and pores our choice; "the order": which of two is larger). Nothing
was fitted to these values. Half of the beds may be used to set defaults ("calibrating"), the other half never ("testing").
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
