#!/usr/bin/env python3
"""Writes docs/checks.md from the rows that the outside checks leave.

    UPDRAUGHT_CHECKS_FILE=rows.tsv build/tests/test_outside
    python3 tests/outside/write_checks.py rows.tsv docs/checks.md

A row: section, what, computed, published, deviation, hold, source, mark, holds; separated by tabs. Misses come first.
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


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    rows = read_rows(sys.argv[1])
    for row in rows:
        section = row["section"].removeprefix("Long")
        row["part"] = TITLES.get(section, section)
    misses = [row | {"reason": reason(row)} for row in rows if row["holds"] != "yes"]
    text = HEAD + f"\n{len(rows)} checks, {len(misses)} misses.\n\n## Misses\n\n"
    text += table(misses, ["part"] + FIELDS[1:8] + ["reason"]) if misses else "None.\n"
    for part in sorted({row["part"] for row in rows}):
        kept = [row for row in rows if row["part"] == part and row["holds"] == "yes"]
        if kept:
            text += f"\n## {part}\n\n" + table(kept, FIELDS[1:8])
    with open(sys.argv[2], "w", encoding="utf-8") as file:
        file.write(text)


if __name__ == "__main__":
    main()
