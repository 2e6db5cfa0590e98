"""Recomputes the five balances of a run from its result.h5 alone: python3 recompute_balances.py RESULT

What is in the bed at both ends is added up from the stored primary fields with formulas written here a second time;
what crossed the boundary, was made or used comes from the stored time sums. The error of each balance is the part that
does not close, over what came in and was made (oxygen, dry mass: used); where there was neither, over what is there. Ends
with 1 when an error exceeds 1e-8, or 1e-12 where nothing came in and nothing was made. Needs h5py (Debian: python3-h5py).
"""
import math
import sys

import h5py

LIMIT = 1e-8
LIMIT_AT_REST = 1e-12  # rounding of sums over all cells, of what is there
POOLS = ("pool_easy", "pool_middling", "pool_hard", "pool_wood")


def saturation_pressure(celsius):
    """Pressure of saturated vapour over water (Pa): IAPWS-IF97, region 4, backward equation of table 34."""
    n = (0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
         0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3)
    kelvin = min(max(celsius, -40.0), 300.0) + 273.15
    theta = kelvin + n[8] / (kelvin - n[9])
    a = theta ** 2 + n[0] * theta + n[1]
    b = n[2] * theta ** 2 + n[3] * theta + n[4]
    c = n[5] * theta ** 2 + n[6] * theta + n[7]
    return 1e6 * (2.0 * c / (-b + math.sqrt(b ** 2 - 4.0 * a * c))) ** 4


def water_activity(water_per_dry):
    """Vapour pressure over moist solids, of saturation; 1 - exp(-(u/0.10)^1.5) with u in kg/kg dry (theory 4.2)."""
    return -math.expm1(-(max(water_per_dry, 0.0) / 0.10) ** 1.5)


def vapour_per_gas(constants, celsius, water, dry_mass):
    """Moles of vapour per mole of dry gas in a cell, in equilibrium with its solids; at most 19 (95 % vapour)."""
    if constants["constant_air"]:
        return 0.0
    activity = water_activity(water / dry_mass) if dry_mass > 0.0 else 1.0
    share = min(activity * saturation_pressure(celsius) / constants["site_pressure"], 0.95)
    return share / (1.0 - share)


def heat_of_gas(constants, celsius, moles, vapour):
    """Heat of dry gas (mol) with vapour (kg), dry gas and liquid water at 0 degC as zero (J)."""
    return (moles * constants["heat_capacity_dry_gas"] * celsius
            + vapour * (constants["evaporation_enthalpy"] + constants["heat_capacity_vapour"] * celsius))


def heat_of_cell(constants, celsius, dry_mass, water, moles):
    """Heat of solids, liquid and gas of a cell (J); `water` is liquid and vapour (kg)."""
    vapour = moles * vapour_per_gas(constants, celsius, water, dry_mass) * constants["molar_mass_water"]
    return (dry_mass * constants["heat_capacity_dry_matter"] * celsius
            + (water - vapour) * constants["heat_capacity_water"] * celsius
            + heat_of_gas(constants, celsius, moles, vapour))


def inventory(constants, state):
    """What cells and air spaces hold."""
    cells = {name: state[name][()].ravel().tolist() for name in
             ("temperature", "dry_gas", "oxygen", "water", "chips_ash", "soft_ash", *POOLS)}
    nodes = {name: state["node_" + name][()].tolist() for name in ("temperature", "dry_gas", "oxygen", "vapour")}
    dry_mass = [math.fsum(parts) for parts in zip(cells["chips_ash"], cells["soft_ash"], *(cells[p] for p in POOLS))]
    heat = [heat_of_cell(constants, *cell)
            for cell in zip(cells["temperature"], dry_mass, cells["water"], cells["dry_gas"])]
    heat += [heat_of_gas(constants, *node) for node in zip(nodes["temperature"], nodes["dry_gas"], nodes["vapour"])]
    return {"dry_gas": math.fsum(cells["dry_gas"] + nodes["dry_gas"]),
            "oxygen": math.fsum(cells["oxygen"] + nodes["oxygen"]),
            "heat": math.fsum(heat),
            "water": math.fsum(cells["water"] + nodes["vapour"]),
            "dry_mass": math.fsum(dry_mass)}


def booked(state):
    return dict(zip(state["booked_entries"].asstr()[()], state["booked"][()].tolist()))


def balances(b):
    """For each balance what was gained by the time sums, and the turnover that its error is measured by: what came in and
    what was made, where nothing is made what was used."""
    return {"dry_gas": (b["gas_in"] - b["gas_out"] + b["gas_made"], b["gas_in"] + abs(b["gas_made"])),
            "oxygen": (b["oxygen_in"] - b["oxygen_out"] - b["oxygen_used"] + b["oxygen_clipped"],
                       b["oxygen_in"] + b["oxygen_used"]),
            "heat": (b["heat_in"] - b["heat_out"] + b["heat_made"] + b["heat_filled"], b["heat_in"] + abs(b["heat_made"])),
            "water": (b["water_in"] - b["water_out"] + b["water_made"] - b["water_drained"] + b["water_filled"],
                      b["water_in"] + abs(b["water_made"])),
            "dry_mass": (b["dry_filled"] - b["dry_lost"], b["dry_lost"])}


def error(before, after, gained, turnover):
    """Relative error of one balance. Without turnover that counts what is there must stay as it is, and measures the
    error."""
    open_part = abs(after - before - gained)
    if open_part == 0.0:
        return 0.0
    there = max(abs(before), abs(after), abs(gained))
    return open_part / (turnover if turnover > 1e-9 * there else there)


def main(path):
    with h5py.File(path, "r") as store:
        constants = {name: value[()] for name, value in store["constants"].items()}
        names = sorted(store["states"])
        if len(names) < 2:
            sys.exit(f"{path} holds fewer than two full states: there is no balance between them")
        first, last = store["states"][names[0]], store["states"][names[-1]]
        before, after = inventory(constants, first), inventory(constants, last)
        start, end = booked(first), booked(last)
    sums = balances({name: end[name] - start[name] for name in end})
    errors = {name: error(before[name], after[name], *sums[name]) for name in sums}
    for name, value in errors.items():
        print(f"{name} {value:.3e}")
    limits = {name: LIMIT if turnover > 0.0 else LIMIT_AT_REST for name, (_, turnover) in sums.items()}
    closed = all(errors[name] <= limits[name] for name in errors)
    print("all within" if closed else "NOT within", *(f"{limit:.0e}" for limit in sorted(set(limits.values()))))
    return 0 if closed else 1


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: recompute_balances.py RESULT")
    sys.exit(main(sys.argv[1]))
