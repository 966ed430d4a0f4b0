/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/rub.h"

void dd_rub_at(dd_rub *r, const dd_bristle_law *law, double friction, const double value[DD_RUB_WAYS], double contact)
{
    const dd_vec3 n = r->normal, x = dd_vec(1, 0, 0);
    dd_vec3 tangent = dd_sub(x, dd_scale(n.x, n));
    r->length = fmax(dd_norm(tangent), 1e-6); /* a normal along X has no direction */
    r->direction[0] = dd_scale(1 / r->length, tangent);
    r->direction[1] = dd_cross(n, r->direction[0]);
    r->force = dd_vec(0, 0, 0);
    for (int i = 0; i < DD_RUB_WAYS; i++) {
        r->bristle[i] = dd_bristle_at(law, friction, value[i], dd_dot(r->direction[i], r->velocity), 0, contact);
        r->force = dd_add(r->force, dd_scale(-r->load * r->bristle[i].coefficient, r->direction[i]));
    }
}

void dd_rub_vary(const dd_rub *r, const dd_rub_change *d, double wrench[6], double rate[DD_RUB_WAYS])
{
    const dd_vec3 n = r->normal;
    dd_vec3 tangent = dd_scale(-1, dd_add(dd_scale(d->normal.x, n), dd_scale(n.x, d->normal)));
    dd_vec3 turned[DD_RUB_WAYS];
    turned[0] = dd_scale(1 / r->length, dd_sub(tangent, dd_scale(dd_dot(r->direction[0], tangent), r->direction[0])));
    turned[1] = dd_add(dd_cross(d->normal, r->direction[0]), dd_cross(n, turned[0]));
    dd_vec3 force = dd_vec(0, 0, 0);
    for (int i = 0; i < DD_RUB_WAYS; i++) {
        const dd_bristle *b = &r->bristle[i];
        double speed = dd_dot(turned[i], r->velocity) + dd_dot(r->direction[i], d->velocity);
        double change = b->coefficient_by_value * d->value[i] + b->coefficient_by_speed * speed;
        rate[i] += b->rate_by_speed * speed;
        force = dd_sub(force, dd_scale(d->load * b->coefficient + r->load * change, r->direction[i]));
        force = dd_sub(force, dd_scale(r->load * b->coefficient, turned[i]));
    }
    dd_wrench_add(wrench, force, r->point);
    dd_vec3 moved = dd_cross(d->point, r->force);
    wrench[3] += moved.x, wrench[4] += moved.y, wrench[5] += moved.z;
}

void dd_rub_differentiate(const dd_rub *rub, dd_rub_column column, const void *place, int first, dd_gradient *gradient,
                          const dd_memory *memory)
{
    for (int j = 0; j < 6; j++) {
        double moved[6] = {0}, faster[6] = {0}, rate[DD_RUB_WAYS] = {0}, by_pose[DD_RUB_WAYS] = {0};
        column(place, j, 1, moved, by_pose);
        column(place, j, 0, faster, rate);
        for (int r = 0; r < 6; r++) gradient->K[r][j] -= moved[r], gradient->D[r][j] -= faster[r];
        for (int b = 0; b < DD_RUB_WAYS && memory->rate_by_twist; b++) memory->rate_by_twist[first + b][j] += rate[b];
        for (int b = 0; b < DD_RUB_WAYS && memory->rate_by_pose; b++) memory->rate_by_pose[first + b][j] += by_pose[b];
    }
    for (int b = 0; b < DD_RUB_WAYS; b++) {
        double rate[DD_RUB_WAYS] = {0};
        dd_rub_change bent = {.value = {b == 0, b == 1}};
        if (memory->load_by_value) dd_rub_vary(rub, &bent, memory->load_by_value[first + b], rate);
        if (memory->rate_by_value) memory->rate_by_value[first + b] += rub->bristle[b].rate_by_value + DD_BRISTLE_RELEASE;
    }
}
