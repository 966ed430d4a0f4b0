#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Each folder of lib/ includes only itself and the folders above it, and physics opens no files, streams or threads."""
import pathlib
import re
import sys

ORDER = "base ode shore hull rig state force motion crew case record study".split()
NO_FILES = ORDER[: ORDER.index("crew") + 1]  # base .. crew
THREADS = ["study"]  # the only folder that may start threads

# Nowhere in the library: it never prints, ends the process or asks a program in.
EVERYWHERE = r"\b(printf|vprintf|puts|putchar|perror|exit|_exit|abort|assert|system|popen|srand|rand|setlocale)\s*\(|\b(stdout|stderr)\b"
FILES = r"\b(FILE|fopen|fdopen|freopen|fprintf|vfprintf|fputs|fwrite|fread|fgets|open|read|write|getenv)\b(?=\s*[(*])"
THREAD = r"\bpthread_\w+|#\s*pragma\s+omp|<(omp|pthread|threads)\.h>|\bomp_\w+\s*\("
HEADERS = r"#\s*include\s*<(unistd|fcntl|dirent|sys/\w+|pthread|threads|omp)\.h>"


def code_of(text):
    """The text without comments and without what stands inside strings; line numbers are kept."""
    def blank(match):
        token = match.group(0)
        if token.startswith("/"):
            return re.sub(r"[^\n]", " ", token)
        return token[0] + token[-1]
    return re.sub(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', blank, text, flags=re.S)


def faults_of(source, path):
    text = path.read_text(encoding="utf-8")
    name = path.relative_to(source)
    folder = name.parts[1]
    if folder not in ORDER:
        yield f"{name}: lib/{folder} is not in the order of the layers"
        return
    for number, line in enumerate(text.splitlines(), 1):
        found = re.match(r'\s*#\s*include\s*"([^"]+)"', line)
        if not found:
            continue
        parts = found.group(1).split("/")
        if parts[0] != "lib" or len(parts) < 3:
            yield f'{name}:{number}: "{found.group(1)}": write "lib/<folder>/<file>", or <drawdock/...> for a public header'
        elif parts[1] not in ORDER or ORDER.index(parts[1]) > ORDER.index(folder):
            yield f"{name}:{number}: lib/{folder} must not include lib/{parts[1]}, which stands below it"
    rules = [(EVERYWHERE, "the library does not print, end the process or use global state of the C library")]
    if folder in NO_FILES:
        rules += [(FILES, f"lib/{folder} opens no files and uses no streams"), (HEADERS, f"lib/{folder} asks the system nothing")]
    if folder not in THREADS:
        rules += [(THREAD, f"lib/{folder} starts no threads")]
    for number, line in enumerate(code_of(text).splitlines(), 1):
        for pattern, reason in rules:
            found = re.search(pattern, line)
            if found:
                yield f"{name}:{number}: `{found.group(0).strip()}`: {reason}"


def main():
    source = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parents[2]).resolve()
    files = sorted(p for p in (source / "lib").rglob("*") if p.suffix in (".c", ".h", ".def"))
    faults = [fault for path in files for fault in faults_of(source, path)]
    print("\n".join(faults + [f"layers: {len(files)} files, {len(faults)} faults"]))
    return 1 if faults or not files else 0


sys.exit(main())
