# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts the published values that the laws are held against, law by law. Prints TAP.

Every file of laws in src/physics must have rows of its own in tests/physics/published-values.csv, so that a new law cannot
come in without one; every row names its source, and says whether its value was seen there, worked out from the
formula given there, or is from memory.
"""

import csv
import os
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
LEAST = 150
STATUS = {"VERIFIED", "COMPUTED", "MEMORY"}
# Most rows that may be from memory.
MEMORY_SHARE = 0.15

# file of src/physics: how its rows begin, and how many there are at least
LAWS = {
    "friction": (("FRIC-", "HW-"), 25),
    "fitting": (("K-HOOP", "K-DARB", "K-ENT", "K-EXIT", "K-EXP", "K-CON", "K-SCR"), 12),
    "bend": (("BEND-",), 3),
    "valve": (("K-MU", "K-PE", "K-WB"), 25),
    "weir": (("WEIR-",), 12),
    "drop-inlet": (("RISER-", "STACK-", "SV-", "FR-"), 20),
    "orifice": (("ORIF-", "UNS-"), 5),
    "manning": (("MAN-",), 3),
    "stretch": (("SIPH-", "NET-"), 5),
    "submergence": (("HI-",), 4),
    "water": (("SW-", "W-"), 25),
    "bubble": (("BUB-", "DRAG-"), 15),
    "pump-curve": (("PUMP-",), 7),
    "plate": (("PL-",), 50),
    "evaporation": (("EV-",), 20),
    "surface-heat": (("HT-",), 4),
    "pipe-strength": (("STR-",), 12),
}
# Constants, and data that other laws use.
NO_LAW = {"gravity", "growth"}
# Rows of no law of their own: density times gravity times depth.
PLAIN_ROWS = {"FL-WATER"}


def rows():
    with open(os.path.join(TOP, "tests", "physics", "published-values.csv"), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def law_of(row):
    return next((law for law, (begins, _) in LAWS.items() if row["id"].startswith(begins)), None)


def too_few(table):
    counts = {law: sum(law_of(row) == law for row in table) for law in LAWS}
    for law, count in counts.items():
        print(f"# {law}: {count}")
    return [f"{law}: {count} rows, not {LAWS[law][1]}" for law, count in counts.items() if count < LAWS[law][1]]


def laws_without_rows():
    headers = {name[:-2] for name in os.listdir(os.path.join(TOP, "src", "physics")) if name.endswith(".h")}
    return [f"src/physics/{name}.h has no rows" for name in sorted(headers - set(LAWS) - NO_LAW)]


def badly_sourced(table):
    return [f"{row['id']}: source “{row['source']}”, status {row['status']}" for row in table
            if len(row["source"].strip()) < 5 or row["status"] not in STATUS]


def twice(table):
    ids = [row["id"] for row in table]
    return sorted({name for name in ids if ids.count(name) > 1})


def from_memory(table):
    count = sum(row["status"] == "MEMORY" for row in table)
    print(f"# {count} of {len(table)} from memory")
    return [] if count <= MEMORY_SHARE * len(table) else [f"{count} of {len(table)} rows are from memory"]


def main():
    table = rows()
    rules = [(f"at least {LEAST} published values, {len(table)} there", [] if len(table) >= LEAST else ["too few"]),
             ("every law has its share", too_few(table)),
             ("no file of laws is left out", laws_without_rows()),
             ("every row has a law", [row["id"] for row in table if law_of(row) is None and row["id"] not in PLAIN_ROWS]),
             ("every row names its source and how it was had", badly_sourced(table)),
             ("no row is there twice", twice(table)),
             ("few rows are from memory", from_memory(table))]
    print(f"1..{len(rules)}")
    for number, (name, breaches) in enumerate(rules, 1):
        print(f"{'not ok' if breaches else 'ok'} {number} - {name}")
        for breach in breaches:
            print(f"# {breach}")
    return 1 if any(breaches for _, breaches in rules) else 0


if __name__ == "__main__":
    sys.exit(main())
