/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file status.h
 *  Errors as values with a place. Every fallible call returns dd_status and fills a dd_error
 *  (which may be NULL). The library never prints, exits or aborts. */
#ifndef DRAWDOCK_STATUS_H
#define DRAWDOCK_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

/** @cond spelling for compilers */
#if defined(__GNUC__)
#define DD_API __attribute__((visibility("default")))
#define DD_CHECKED __attribute__((warn_unused_result))
#define DD_PRINTF(string, first) __attribute__((format(printf, string, first)))
#else
#define DD_API
#define DD_CHECKED
#define DD_PRINTF(string, first)
#endif

#ifdef __cplusplus
#define DD_ALIGNED(bytes) alignas(bytes)
#else
#define DD_ALIGNED(bytes) _Alignas(bytes)
#endif
/** @endcond */

/** Status codes; the list with text, remedy and exit status is status.def. */
typedef enum dd_status {
#define DD_STATUS(code, text, remedy, exit_status) code,
#include <drawdock/status.def>
#undef DD_STATUS
    DD_STATUS_COUNT
} dd_status;

/** What went wrong, where, and what to do about it. All strings are NUL-terminated UTF-8. */
typedef struct dd_error {
    dd_status status;  /**< DD_OK: nothing */
    char message[512]; /**< what was found and what was expected, with units */
    char remedy[256];  /**< how to mend it */
    char place[256];   /**< file:line:column: key, or the function and field, or the time of a run. Elements of a list count from 1
                           here too, as in a file: supports[1] is the field supports[0] */
} dd_error;

/** Short text of a status code; a static string, never NULL, for any value of @p status. */
DD_API const char *dd_status_text(dd_status status);
/** Usual remedy for a status code; a static string, never NULL. */
DD_API const char *dd_status_remedy(dd_status status);
/** Exit status that the command line gives for a status code: 0, 2, 3 or 130. */
DD_API int dd_status_exit(dd_status status);

#ifdef __cplusplus
}
#endif
#endif
