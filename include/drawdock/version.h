/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file version.h */
#ifndef DRAWDOCK_VERSION_H
#define DRAWDOCK_VERSION_H
#include <drawdock/status.h>
#ifdef __cplusplus
extern "C" {
#endif
/** Version of the library, "0.1.0"; a static string. */
DD_API const char *dd_version(void);
#ifdef __cplusplus
}
#endif
#endif
