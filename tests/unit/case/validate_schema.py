# SPDX-License-Identifier: GPL-3.0-or-later
"""The JSON Schema against an independent validator: validate_schema.py SCHEMA DOCUMENT...
Every document must be valid; every document broken in one place must not be."""
import copy
import json
import sys

import jsonschema


def places(value, path=()):
    """Paths of all values below value, itself included."""
    yield path
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, below in items:
        yield from places(below, path + (key,))


def at(value, path):
    for key in path:
        value = value[key]
    return value


def sort_of(document, path):
    """What the schema knows a place by: its keys, and which variant each mapping on the way is."""
    value, known = document, []
    for key in path:
        known.append("*" if isinstance(value, list) else key)
        value = value[key]
        if isinstance(value, dict):
            known.append(str([value.get(tag) for tag in ("kind", "fitted", "test")]))
    return tuple(known)


def broken(document, done):
    """Copies of the document with one thing wrong, each with what it is; no sort of place twice."""
    for path in places(document):
        value = at(document, path)
        sort = sort_of(document, path), type(value)
        if sort in done:
            continue
        done.add(sort)
        if isinstance(value, dict):
            other = copy.deepcopy(document)
            at(other, path)["no such key"] = "1 m"
            yield "an unknown key in %s" % (path,), other
        if not path:
            continue
        wrongs = [{"a": "mapping"}, "no such word %"]
        if (path[-1] in ("name", "item", "title", "time zone", "source", "datum", "station") or str(path[-1]).endswith(" source")) or path[0] == "rules" and path[-1] in (
                "authority", "seen", "note", "word for gtm", "word for mass", "instrument", "status", "words") or path[0] == "fleet" and path[-1] in ("launch", "retrieve"):
            wrongs = [{"a": "mapping"}, ""]
        elif path[0] == "without" and len(path) == 2 or "leave out" in path or path[-1] == "loading":  # which names exist, only the reader knows
            wrongs = [{"a": "mapping"}]
        elif path in (("boat",), ("trailer",), ("vehicle",), ("ramp",), ("rules",)):  # a text is a file's name
            wrongs = [{"a": "mapping"}, 3]
        for wrong in wrongs:
            other = copy.deepcopy(document)
            at(other, path[:-1])[path[-1]] = wrong
            yield "%r for %s" % (wrong, path), other
        if isinstance(value, str) and value[:1].isdigit() and " " in value:
            other = copy.deepcopy(document)
            at(other, path[:-1])[path[-1]] = value.split(" ")[0]
            yield "%s without its unit" % (path,), other
    for key in ("drawdock", "action", "boat", "trailer", "vehicle", "ramp", "water", "procedure"):
        if key not in document:  # a rig on the road has no ramp
            continue
        other = copy.deepcopy(document)
        del other[key]
        yield "no %s" % key, other


def main():
    with open(sys.argv[1], encoding="utf-8") as stream:
        schema = json.load(stream)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    validator = jsonschema.Draft202012Validator(schema)
    faults = rejected = 0
    done = set()
    for name in sys.argv[2:]:
        with open(name, encoding="utf-8") as stream:
            document = json.load(stream)
        for error in validator.iter_errors(document):
            print("%s: %s: %s" % (name, list(error.absolute_path), error.message[:300]))
            faults += 1
        for what, other in broken(document, done):
            if validator.is_valid(other):
                print("%s: valid in spite of %s" % (name, what))
                faults += 1
            else:
                rejected += 1
    print("%d documents valid, %d broken ones rejected, %d faults" % (len(sys.argv) - 2, rejected, faults))
    return 1 if faults or rejected < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
