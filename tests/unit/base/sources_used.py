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
print("\n".join(faults + ["%d sources, %d faults" % (len(listed), len(faults))]))
sys.exit(1 if faults or len(listed) < 10 else 0)
