# SPDX-License-Identifier: GPL-3.0-or-later
# Every function by which lib/ takes memory is among those that test_memory makes fail: the --wrap list of local.mk.
cd "$SOURCE_DIR" || exit 1
wrapped=$(sed -n 's/.*--wrap=\([a-z0-9_]*\).*/\1/p' tests/fault/local.mk | sort -u)
called=$(find lib -name '*.c' -exec grep -ohE '\b(gsl_[a-z0-9_]*alloc|[mc]alloc|realloc|reallocarray|aligned_alloc|posix_memalign|strdup|strndup|v?asprintf|open_memstream|getline)[[:space:]]*\(' {} + |
    tr -d ' (' | sort -u)
missing=$(comm -13 <(echo "$wrapped") <(echo "$called"))
if [ -z "$called" ] || [ -n "$missing" ]; then
    echo "FAILED: not made to fail by tests/fault/test_memory.c: $missing"
    exit 1
fi
echo "[  PASSED  ] $(echo "$called" | wc -l) allocators"
