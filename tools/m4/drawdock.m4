# SPDX-License-Identifier: GPL-3.0-or-later

# DD_TRY_FLAG(FLAG, VARIABLE): appends FLAG to VARIABLE when the compiler takes it.
AC_DEFUN([DD_TRY_FLAG], [
  dd_save_CFLAGS=$CFLAGS
  CFLAGS="$CFLAGS -Werror $1"
  AC_MSG_CHECKING([whether $CC takes $1])
  AC_COMPILE_IFELSE([AC_LANG_PROGRAM([], [])],
    [AC_MSG_RESULT([yes]); $2="$$2 $1"; dd_flag_taken=yes],
    [AC_MSG_RESULT([no]); dd_flag_taken=no])
  CFLAGS=$dd_save_CFLAGS
])

# DD_REQUIRE_FLAG(FLAG, VARIABLE): the same, and stops when it does not.
AC_DEFUN([DD_REQUIRE_FLAG], [
  DD_TRY_FLAG([$1], [$2])
  AS_IF([test "$dd_flag_taken" = no], [AC_MSG_ERROR([the compiler must take $1])])
])

# --enable-debug: no optimisation. Runs before the flags are looked at, so only a CFLAGS of the user's own wins over it.
AC_DEFUN([DD_ARG_DEBUG], [
  AC_ARG_ENABLE([debug], [AS_HELP_STRING([--enable-debug], [compile with -O0 -g3 instead of -O2 -g])])
  AS_IF([test "$enable_debug" = yes && test "$CFLAGS" = "-g -O2"], [CFLAGS="-g3 -O0"])
])

AC_DEFUN([DD_ARG_WERROR], [
  AC_ARG_ENABLE([werror], [AS_HELP_STRING([--enable-werror], [make every compiler warning an error])])
  WERROR_CFLAGS=
  AS_IF([test "$enable_werror" = yes], [WERROR_CFLAGS=-Werror])
  AC_SUBST([WERROR_CFLAGS])
])

# --enable-sanitizers: address (with its leak check) and undefined behaviour; the first finding ends the program. Left out, for a third of
# the tests' time, is what the address check finds at the access itself, and alignment, of which -Wcast-align warns.
AC_DEFUN([DD_ARG_SANITIZERS], [
  AC_ARG_ENABLE([sanitizers], [AS_HELP_STRING([--enable-sanitizers], [compile with the address and undefined behaviour sanitizers])])
  SANITIZER_CFLAGS=
  AS_IF([test "$enable_sanitizers" = yes],
    [SANITIZER_CFLAGS="-fsanitize=address,undefined -fno-sanitize=null,object-size,pointer-overflow,alignment -fno-sanitize-recover=all -fno-omit-frame-pointer"])
  AC_SUBST([SANITIZER_CFLAGS])
  AM_CONDITIONAL([SANITIZERS], [test "$enable_sanitizers" = yes])
])

# DD_TEST_MODULE(PREFIX, MODULE, [LIBS]): a pkg-config module that only the tests need; LIBS stand in for a module without them.
AC_DEFUN([DD_TEST_MODULE], [
  PKG_CHECK_MODULES([$1], [$2], [],
    [AC_MSG_WARN([$2 not found: make check will fail])
     $1_LIBS=m4_default([$3], [-l$2])])
])

# DD_TEST_HEADER(HEADER, PACKAGE): a header that only the tests need.
AC_DEFUN([DD_TEST_HEADER], [
  AC_CHECK_HEADER([$1], [], [AC_MSG_WARN([$1 not found ($2): make check will fail])])
])
