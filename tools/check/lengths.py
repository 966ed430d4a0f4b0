#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""No file above 600 lines, no function above 80. An exception stands below with its reason."""
import ast
import pathlib
import re
import sys

FILE_LINES, FUNCTION_LINES = 600, 80
# "path" or "path:function": reason
EXCEPTIONS = {}


def functions_of_c(lines):
    """Name and length of each function: from its signature to the brace in the first column that closes it."""
    start = None
    for number, line in enumerate(lines):
        if start is None:
            opens = line == "{" or re.match(r"[A-Za-z_][^;=]*\)\s*\{$", line)
            if opens:
                first = number
                while first > 0 and not re.match(r"[A-Za-z_]", lines[first]):
                    first -= 1
                name = re.search(r"(\w+)\s*\(", lines[first])
                start, label = first, name.group(1) if name else lines[first]
        elif line.startswith("}"):
            yield label, start + 1, number - start + 1
            start = None


def functions_of_python(text):
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield node.name, node.lineno, node.end_lineno - node.lineno + 1


def functions_of_shell(lines):
    start = None
    for number, line in enumerate(lines):
        found = re.match(r"(\w+)\(\)\s*\{", line)
        if found:
            start, label = number, found.group(1)
        elif line == "}" and start is not None:
            yield label, start + 1, number - start + 1
            start = None


def main():
    source = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parents[2]).resolve()
    faults, used, seen, functions = [], set(), 0, 0
    for folder in ("lib", "include", "tools", "tests"):
        for path in sorted((source / folder).rglob("*")):
            name = str(path.relative_to(source))
            if not path.is_file() or name.startswith(("tools/build-aux/", "tools/m4/", "tests/reference/")):
                continue
            kind = path.suffix
            if kind not in (".c", ".h", ".def", ".py", ".sh") and not name.startswith("tools/"):
                continue
            text = path.read_text(encoding="utf-8")
            lines = text.splitlines()
            seen += 1
            if len(lines) > FILE_LINES:
                if name in EXCEPTIONS:
                    used.add(name)
                else:
                    faults.append(f"{name}: {len(lines)} lines, at most {FILE_LINES}")
            found = {".c": functions_of_c(lines), ".h": functions_of_c(lines), ".py": functions_of_python(text) if kind == ".py" else ()}
            for label, number, length in found.get(kind, functions_of_shell(lines)):
                functions += 1
                if length > FUNCTION_LINES:
                    if f"{name}:{label}" in EXCEPTIONS:
                        used.add(f"{name}:{label}")
                    else:
                        faults.append(f"{name}:{number}: {label} has {length} lines, at most {FUNCTION_LINES}")
    faults += [f"{name}: an exception that is no longer needed" for name in EXCEPTIONS if name not in used]
    print("\n".join(faults + [f"lengths: {seen} files, {functions} functions, {len(EXCEPTIONS)} exceptions, {len(faults)} faults"]))
    return 1 if faults or not functions else 0


sys.exit(main())
