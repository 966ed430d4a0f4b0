# SPDX-License-Identifier: GPL-3.0-or-later
"""Every source of lib/base/sources.def is named somewhere in the library, and none is there twice."""
import os
import pathlib
import re
import sys

root = pathlib.Path(os.environ.get("SOURCE_DIR", "."))
listed = re.findall(r'^DD_SOURCE\("([^"]+)"', (root / "lib/base/sources.def").read_text(encoding="utf-8"), re.M)
code = "\n".join(path.read_text(encoding="utf-8") for pattern in ("*.c", "*.h", "*.def") for path in (root / "lib").rglob(pattern)
                 if path.name != "sources.def")
faults = ["%s: not used" % key for key in listed if '"%s"' % key not in code]
faults += ["%s: listed %d times" % (key, listed.count(key)) for key in set(listed) if listed.count(key) > 1]
# What estimates name; keys and forces are held against the list by test_keys and test_force_properties.
named = re.findall(r'estimate\([^;]*?"([^"]+)"\)', (root / "lib/hull/estimate.c").read_text(encoding="utf-8"))
faults += ["%s: named by an estimate, not listed" % key for key in sorted(set(named)) if key not in listed]
faults += ["no estimate names its source"] if len(named) < 5 else []
print("\n".join(faults + ["%d sources, %d faults" % (len(listed), len(faults))]))
sys.exit(1 if faults or len(listed) < 10 else 0)
