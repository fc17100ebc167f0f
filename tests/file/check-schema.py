# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the shipped JSON Schema against the program's tables, and build files against the schema.

Arguments: the program that prints the schema, the shipped schema, the demos' folder, the folder of
one file for every version. Speaks TAP.
"""
import copy
import json
import pathlib
import subprocess
import sys

import jsonschema


def main():
    program, schema_path, demos, versions = sys.argv[1:5]
    shipped = pathlib.Path(schema_path).read_text(encoding="utf-8")
    printed = subprocess.run([program], check=True, capture_output=True, encoding="utf-8").stdout
    schema = json.loads(shipped)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    results = [("the shipped schema is what the tables say", printed == shipped)]

    files = sorted(pathlib.Path(demos).glob("*.nappe")) + sorted(pathlib.Path(versions).glob("*.nappe"))
    for path in files:
        errors = [error.message for error in validator.iter_errors(json.loads(path.read_text(encoding="utf-8")))]
        for error in errors:
            print("#", path.name, error)
        results.append((f"{path.name} keeps to the schema", not errors))
    results.append(("there are three demos and a file of each version", len(files) >= 4))

    # A schema that lets everything pass would prove nothing.
    sound = json.loads(files[0].read_text(encoding="utf-8"))
    for what, change in wrong_changes():
        wrong = copy.deepcopy(sound)
        change(wrong)
        results.append((f"the schema refuses {what}", not validator.is_valid(wrong)))

    print(f"1..{len(results)}")
    for number, (what, good) in enumerate(results, 1):
        print("ok" if good else "not ok", number, "-", what)
    return 0 if all(good for _, good in results) else 1


def wrong_changes():
    return [
        ("a negative length", lambda build: build["tank"].update(length_mm=-1)),
        ("a missing tank", lambda build: build.pop("tank")),
        ("an unknown role", lambda build: build["drains"][0].update(role="hole")),
        ("a part without id", lambda build: build["drains"][0].pop("id")),
        ("a malformed id", lambda build: build["drains"][0].update(id="Two Words")),
        ("a text for a number", lambda build: build["tank"].update(width_mm="450")),
        ("another version", lambda build: build.update(version=2)),
        ("too many boxes", lambda build: build.update(overflows=build["overflows"] * 9)),
    ]


if __name__ == "__main__":
    sys.exit(main())
