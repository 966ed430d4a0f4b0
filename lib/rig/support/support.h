/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the support kinds share. */
#ifndef DD_RIG_SUPPORT_SUPPORT_H
#define DD_RIG_SUPPORT_SUPPORT_H
#include "lib/base/error.h"
#include "lib/rig/rig.h"

/* Load at which a roller of no given rating has its squash, N. */
#define DD_USUAL_ROLLER_LOAD 2500.0

#define DD_SUPPORT(symbol, name, help)                                                                                         \
    extern const dd_key dd_support_##symbol##_keys[];                                                                          \
    dd_status dd_support_##symbol##_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error);
#include "lib/rig/supports.def"
#undef DD_SUPPORT

/* Appends a roller that touches a bottom panel at trailer point (x, y, z); the panel rises outwards by the support's deadrise. */
dd_status dd_support_add_side_roller(const dd_support *support, int index, struct dd_rig *rig, int side, dd_vec3 contact,
                                     const char *label, dd_error *error);
/* Appends a roller; its centre, axis, side and keel stand in *roller. */
dd_status dd_support_add(const dd_support *support, int index, struct dd_rig *rig, dd_roller *roller, const char *label,
                         dd_error *error);
/* An error that names the support and the field. */
dd_status dd_support_fail(const dd_support *support, int index, dd_status status, const char *field, const char *text,
                          dd_error *error);
#endif
