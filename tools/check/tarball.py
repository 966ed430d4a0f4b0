#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""tarball.py SOURCE TARBALL: every file of the sources is in the tarball of the distribution.

So whatever a test, the tool or the build reads there is found there, without running it. In a git checkout the files are those
that git knows; elsewhere all below the folders of the sources but what autoreconf and Python make.
"""
import os
import subprocess
import sys
import tarfile

FOLDERS = ("include", "lib", "plots", "scenarios", "tests", "tools")
MADE = ("tools/build-aux/", "tools/m4/libtool.m4", "tools/m4/lt")
ONLY_IN_GIT = (".ci/", ".gitignore")  # the continuous check's and git's own


def sources(root):
    listed = subprocess.run(["git", "-C", root, "ls-files", "-z"], capture_output=True, check=False)
    if listed.returncode == 0 and listed.stdout:
        names = [name for name in listed.stdout.decode().split("\0") if name and os.path.exists(os.path.join(root, name))]
        return [name for name in names if not name.startswith(ONLY_IN_GIT)]
    names = []
    for folder in FOLDERS:
        for path, _, files in os.walk(os.path.join(root, folder)):
            names += [os.path.relpath(os.path.join(path, name), root) for name in files]
    return [name for name in names if not name.startswith(MADE) and "__pycache__" not in name]


def main():
    root, tarball = sys.argv[1:]
    with tarfile.open(tarball) as tar:
        packed = {member.name.partition("/")[2] for member in tar if member.isfile()}
    names = sources(root)
    wrong = [f"{name} is not in the tarball" for name in names if name not in packed]
    if len(names) < 100:
        wrong.append(f"only {len(names)} files of the sources were found")
    print("\n".join(wrong) or f"ok: {len(names)} files of the sources are in the tarball")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
