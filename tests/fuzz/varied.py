# SPDX-License-Identifier: GPL-3.0-or-later
"""Shipped scenarios with keys changed at random: every key that `drawdock keys --schema` lists can be drawn.

A key that the scenario has, given or by default (`drawdock show`), is multiplied, turned round or given another of its words; one
that it has not is added with a size and a unit that the schema allows. Steps are changed likewise, left out, doubled or swapped.
"""
import glob
import json
import math
import os
import random
import re
import subprocess

import yaml

UNIT = re.compile(r" \*\(([^)]*)\)")
USUAL = {"m": (0.01, 10), "kg": (1, 2000), "N": (1, 20000), "s": (0.1, 100), "deg": (0.1, 60), "m/s": (0.01, 3), "N m": (1, 5000), "K": (273, 310), "Pa": (1e5, 1e6)}


def alternatives(schema):
    """The objects that a place of the schema allows."""
    if schema.get("type") == "array":
        return alternatives(schema.get("items", {}))
    found = [schema] if "properties" in schema else []
    for each in schema.get("anyOf", []) + schema.get("oneOf", []):
        found += alternatives(each)
    return found


def flat(schema):
    """The simple forms of a value: a place may allow several."""
    forms = schema.get("anyOf") or schema.get("oneOf")
    return [one for each in forms for one in flat(each)] if forms else [schema]


def places(value, schemas, found):
    """All (holder, key, schema) of a scenario that the schema knows, and the holders with what they lack."""
    if isinstance(value, list):
        for each in value:
            places(each, schemas, found)
    if not isinstance(value, dict):
        return
    known = {}
    kind = value.get("kind")
    for schema in schemas:
        own = schema["properties"].get("kind", {})
        if kind is None or kind in own.get("enum", [own.get("const", kind)]):
            known.update(schema["properties"])
    for key, schema in known.items():
        if key not in value and "wind in" in known:
            continue  # a step is of one kind
        below = alternatives(schema)
        if isinstance(value.get(key), (dict, list)) and below:
            places(value[key], below, found)
        elif key not in ("drawdock", "action", "based on", "kind", "without", "name", "item", "title", "loadings", "measured"):
            found.append((value, key, schema, below))


def number(text):
    try:
        return float(text)
    except (TypeError, ValueError):
        return None


def changed(draw, old, schema):
    forms = flat(schema)
    words = [word for form in forms for word in form.get("enum", [])]
    if words:
        return draw.choice(words)
    factor = draw.choice([draw.uniform(0.8, 1.25)] * 3 + [math.exp(draw.uniform(-1.5, 1.5))] * 3 + [0, -1])
    if isinstance(old, str):
        first, _, unit = old.partition(" ")
        if number(first) is not None:
            return f"{number(first) * factor:.6g} {unit}"
        if re.match(r"1:[0-9.]+$", old):
            return f"1:{float(old[2:]) * (factor or 3):.4g}"
        return old
    if isinstance(old, list):
        return [changed(draw, each, {}) for each in old]
    if isinstance(old, float):
        new = old * factor
        return int(new) if any(form.get("type") == "integer" for form in forms) else float(f"{new:.6g}")
    return added(draw, schema, [])


def added(draw, schema, below):
    if below:
        one = draw.choice(below)
        names = set(one.get("required", [])) | {name for name in one["properties"] if draw.random() < 0.6}
        made = {name: added(draw, one["properties"][name], alternatives(one["properties"][name])) for name in sorted(names) if name != "based on"}
        return [made] if any(form.get("type") == "array" for form in flat(schema)) else made
    form = draw.choice(flat(schema))
    if "enum" in form:
        return draw.choice(form["enum"])
    if "const" in form:
        return form["const"]
    low, high = form.get("minimum", form.get("exclusiveMinimum", 0)), form.get("maximum", 10)
    if form.get("type") == "integer":
        return draw.randint(low, min(high, low + 100))
    if form.get("type") == "number":
        return float(f"{draw.uniform(low, min(high, low + 10)):.4g}")
    if form.get("type") == "array":
        return [added(draw, form.get("items", {}), alternatives(form)) for _ in range(max(form.get("minItems", 1), 2))]
    unit = UNIT.search(form.get("pattern", ""))
    if unit is None:
        return "drawn"
    name = unit.group(1).split("|")[0].replace("\\", "")
    least, most = USUAL.get(name, (0.01, 100))
    return f"{math.exp(draw.uniform(math.log(least), math.log(most))):.4g} {name}"


def numbers(value):
    if isinstance(value, dict):
        return {key: numbers(each) for key, each in value.items()}
    if isinstance(value, list):
        return [numbers(each) for each in value]
    if value == "":
        return None
    return value if number(value) is None else number(value) if not re.match(r"-?[0-9]+$", value) else int(value)


def steps_of(draw, steps):
    way = draw.random()
    i, j = draw.randrange(len(steps)), draw.randrange(len(steps))
    if way < 0.3 and len(steps) > 1:
        del steps[i]
    elif way < 0.5:
        steps[i], steps[j] = steps[j], steps[i]
    elif way < 0.6:
        steps.insert(j, steps[i])


def varied(seed, tool, source):
    """A scenario and what was changed in it."""
    draw = random.Random(seed)
    schema = json.loads(subprocess.run([tool, "keys", "--schema"], capture_output=True, text=True, check=True).stdout)
    names = sorted(glob.glob(os.path.join(source, "scenarios", "*.yaml")) + glob.glob(os.path.join(source, "scenarios", "rigs", "*.yaml"))
                   + glob.glob(os.path.join(source, "tests", "property", "*.yaml")))
    while True:
        name = draw.choice(names)
        shown = subprocess.run([tool, "show", name], capture_output=True, text=True, check=True).stdout
        case = numbers(yaml.load(shown, yaml.BaseLoader))
        if "procedure" in case:
            break
    found = []
    places(case, alternatives(schema), found)
    here = [place for place in found if place[1] in place[0]]
    absent = [place for place in found if place[1] not in place[0]]
    notes = [os.path.basename(name)]
    for _ in range(draw.choice([1, 1, 2, 3, 6])):
        if absent and draw.random() < 0.4:
            holder, key, form, below = draw.choice(absent)
            holder[key] = added(draw, form, below)
        else:
            holder, key, form, below = draw.choice(here)
            holder[key] = changed(draw, float(holder[key]) if isinstance(holder[key], int) else holder[key], form)
        notes.append(f"{key}: {holder[key]}")
    if draw.random() < 0.3:
        steps_of(draw, case["procedure"])
        notes.append("other steps")
    case["title"] = "; ".join(notes)[:150]
    return case
