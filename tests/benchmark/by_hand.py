"""What a baker who can program would otherwise run: a few lines over the same pages with a quick YAML reader.

`python by_hand.py rank FOLDER` prints the ten best trials as CODE SCORE; `check FOLDER` the number of pages at fault.
"""

import json
import sys
from pathlib import Path

import yaml


def pages(folder, below):
    for path in sorted(Path(folder, below).rglob("*.yaml")):
        yield path, yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)


def rank(folder):
    rows = []
    for _, page in pages(folder, "trials"):
        marks = page["scores"].values()
        crumb = sum(mark["crumb"] for mark in marks) / len(marks)
        crust = sum(mark["crust"] for mark in marks) / len(marks)
        rows.append(((crumb + crust) / 2, str(page["bake_date"]), page["code"]))
    for score, _, code in sorted(rows, key=lambda row: (-row[0], row[1], row[2]))[:10]:
        print(code, score)


def check(folder, schemas):
    import jsonschema

    faults = 0
    for below, kind in (("trials", "trial"), ("formulas", "formula")):
        schema = json.loads(Path(schemas, f"{kind}.v1.json").read_text(encoding="utf-8"))
        validator = jsonschema.Draft202012Validator(schema)
        for _, page in pages(folder, below):
            texts = json.loads(json.dumps(page, default=str))
            faults += any(validator.iter_errors(texts))
    print(faults)


{"rank": rank, "check": check}[sys.argv[1]](*sys.argv[2:])
