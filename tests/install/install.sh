#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `make install` into a staging folder, a stranger's program built by pkg-config alone against it, the installed tool run
# from there, and `make uninstall` that leaves no file. The build folder is not the source folder (VPATH) whenever
# tools/setup or distcheck runs this.
set -u
# The make that runs the tests must not pass its flags and its job slots to ours.
unset MAKEFLAGS MFLAGS MAKELEVEL
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
stage=$work/stage
passed=0 failed=0

check() { # TITLE COMMAND...
    title=$1
    shift
    if "$@" >"$work/log" 2>&1; then
        echo "ok: $title"
        passed=$((passed + 1))
    else
        echo "not ok: $title"
        cat "$work/log"
        failed=$((failed + 1))
    fi
}

files() { find "$stage" ! -type d | sort; }
exists() { for name; do [ -e "$name" ] || { echo "$name is missing"; return 1; }; done; }
is_empty() { [ -z "$(files)" ] || { files; return 1; }; }
equal() { [ "$1" = "$2" ] || { echo "found: $1"; echo "expected: $2"; return 1; }; }

configured() { sed -n "s/^$1 = //p" "$BUILD_DIR/Makefile"; }
version=$(configured PACKAGE_VERSION)
prefix=$(configured prefix)
libdir=$(printf 'include Makefile\nshow: ; @echo $(libdir)\n' | "$MAKE" -s -C "$BUILD_DIR" -f - show)

check "install" "$MAKE" -C "$BUILD_DIR" install DESTDIR="$stage"
# A build of tests alone may be configured without the static library.
static=$stage$libdir/libdrawdock.a
"$BUILD_DIR/libtool" --config | grep -q '^build_old_libs=yes' || static=
check "shared and static library, headers, pkg-config file" exists "$stage$libdir/libdrawdock.so" \
    ${static:+"$static"} "$stage$prefix/include/drawdock/drawdock.h" \
    "$stage$prefix/include/drawdock/status.def" "$stage$libdir/pkgconfig/drawdock.pc"
check "tool, scenarios and plots" exists "$stage$prefix/bin/drawdock" \
    "$stage$prefix/share/drawdock/scenarios/launch.yaml" "$stage$prefix/share/drawdock/scenarios/retrieve.yaml" \
    "$stage$prefix/share/drawdock/plots"
check "manual pages and completions" exists "$stage$prefix/share/man/man1/drawdock.1" "$stage$prefix/share/man/man1/drawdock-handover.1" \
    "$stage$prefix/share/bash-completion/completions/drawdock" "$stage$prefix/share/zsh/site-functions/_drawdock" \
    "$stage$prefix/share/fish/vendor_completions.d/drawdock.fish"

public=$(ls "$SOURCE_DIR/include/drawdock")
check "all public headers, no private one" equal "$(ls "$stage$prefix/include/drawdock")" "$public"

# Packages that moved: PKG_CONFIG_SYSROOT_DIR is what a packager's staging folder needs.
PKG_CONFIG_PATH=$stage$libdir/pkgconfig
PKG_CONFIG_SYSROOT_DIR=$stage
export PKG_CONFIG_PATH PKG_CONFIG_SYSROOT_DIR
check "pkg-config knows the version" equal "$(pkg-config --modversion drawdock)" "$version"
flags=$(pkg-config --cflags --libs drawdock)
# shellcheck disable=SC2086
check "each public header compiles alone, as C11 and as C++" sh -c "
    for header in \$(cd '$stage$prefix/include' && ls drawdock/*.h); do
        echo \"#include <\$header>\" | $CC -std=c11 -Wall -Wextra -Werror -fsyntax-only -I'$stage$prefix/include' -x c - || exit 1
        echo \"#include <\$header>\" | g++ -std=c++17 -Wall -Wextra -Werror -fsyntax-only -I'$stage$prefix/include' -x c++ - || exit 1
    done"
# shellcheck disable=SC2086
check "a stranger's program compiles" $CC $SANITIZED -std=c11 -Wall -Wextra -Werror -o "$work/stranger" \
    "$SOURCE_DIR/tests/install/stranger.c" $flags -lm
check "a stranger's program runs" env LD_LIBRARY_PATH="$stage$libdir" "$work/stranger" "$version"
# The programs of the library's guide, on the installed scenarios: what each has to say.
while read -r program scenario words; do
    # shellcheck disable=SC2086
    check "$program compiles" $CC $SANITIZED -std=c11 -Wall -Wextra -Werror -o "$work/$program" \
        "$SOURCE_DIR/tests/install/$program.c" $flags -lm
    env LD_LIBRARY_PATH="$stage$libdir" "$work/$program" "$stage$prefix/share/drawdock/scenarios/$scenario" >"$work/said" 2>&1
    check "$program runs" [ $? -eq 0 ]
    check "$program says: $words" grep -q "$words" "$work/said"
    check "$program names a file that is not there" sh -c "! env LD_LIBRARY_PATH='$stage$libdir' '$work/$program' none.yaml"
done <<'EOF'
weigh_a_rig on-the-road.yaml : [0-9]* of 1800 kg$
step_a_run launch.yaml saved and restored: the same bits
least_level launch.yaml slope 14.0 %: within the limits given. Launch with the hub
EOF
check "the installed tool says its version" equal \
    "$("$stage$prefix/bin/drawdock" --version | head -n 1)" "drawdock $version"

check "uninstall" "$MAKE" -C "$BUILD_DIR" uninstall DESTDIR="$stage"
check "uninstall leaves no file" is_empty

printf '[  PASSED  ] %d test(s).\n' "$passed"
[ "$failed" -eq 0 ] || printf '[  FAILED  ] %d test(s).\n' "$failed"
[ "$failed" -eq 0 ]
