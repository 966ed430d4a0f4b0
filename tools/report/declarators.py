#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Doxygen's input filter: fields declared together (double heel, trim; /**< rad */) share their comment, which Doxygen gives
to the last of them only. Splits them, on the same line, so that places in messages stay right."""
import re
import sys

declaration = re.compile(r"^(?P<type> +(?:const )?\w+(?: \w+)?) (?P<names>[\w\[\]*]+(?:,\s+[\w\[\]*]+)+);\s*(?P<comment>/\*\*<.*?\*/)",
                         re.S | re.M)


def split(match):
    names = [name.strip() for name in match["names"].split(",")]
    lines = match[0].count("\n")
    comment = " ".join(match["comment"].split())
    return " ".join(f"{match['type']} {name}; {comment}" for name in names) + "\n" * lines


sys.stdout.write(declaration.sub(split, open(sys.argv[1], encoding="utf-8").read()))
