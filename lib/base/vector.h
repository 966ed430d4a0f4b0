/* SPDX-License-Identifier: GPL-3.0-or-later */
/* 3-vectors, 3x3 matrices and unit quaternions. */
#ifndef DD_BASE_VECTOR_H
#define DD_BASE_VECTOR_H
#include <drawdock/vector.h>
#include <math.h>

typedef struct dd_mat3 {
    double m[3][3];
} dd_mat3;

typedef struct dd_quaternion {
    double w, x, y, z;
} dd_quaternion;

static inline dd_vec3 dd_vec(double x, double y, double z) { return (dd_vec3){x, y, z}; }
static inline dd_vec3 dd_add(dd_vec3 a, dd_vec3 b) { return dd_vec(a.x + b.x, a.y + b.y, a.z + b.z); }
static inline dd_vec3 dd_sub(dd_vec3 a, dd_vec3 b) { return dd_vec(a.x - b.x, a.y - b.y, a.z - b.z); }
static inline dd_vec3 dd_scale(double s, dd_vec3 a) { return dd_vec(s * a.x, s * a.y, s * a.z); }
static inline double dd_dot(dd_vec3 a, dd_vec3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
static inline dd_vec3 dd_cross(dd_vec3 a, dd_vec3 b)
{
    return dd_vec(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}
static inline double dd_norm(dd_vec3 a) { return sqrt(dd_dot(a, a)); }

static inline dd_vec3 dd_apply(const dd_mat3 *r, dd_vec3 a)
{
    return dd_vec(r->m[0][0] * a.x + r->m[0][1] * a.y + r->m[0][2] * a.z,
                  r->m[1][0] * a.x + r->m[1][1] * a.y + r->m[1][2] * a.z,
                  r->m[2][0] * a.x + r->m[2][1] * a.y + r->m[2][2] * a.z);
}
/* transpose(r) a */
static inline dd_vec3 dd_apply_transposed(const dd_mat3 *r, dd_vec3 a)
{
    return dd_vec(r->m[0][0] * a.x + r->m[1][0] * a.y + r->m[2][0] * a.z,
                  r->m[0][1] * a.x + r->m[1][1] * a.y + r->m[2][1] * a.z,
                  r->m[0][2] * a.x + r->m[1][2] * a.y + r->m[2][2] * a.z);
}
static inline dd_mat3 dd_multiply(const dd_mat3 *a, const dd_mat3 *b)
{
    dd_mat3 c;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            c.m[i][j] = a->m[i][0] * b->m[0][j] + a->m[i][1] * b->m[1][j] + a->m[i][2] * b->m[2][j];
    return c;
}
/* The matrix [a]x with [a]x b = a x b. */
static inline dd_mat3 dd_cross_matrix(dd_vec3 a)
{
    return (dd_mat3){{{0, -a.z, a.y}, {a.z, 0, -a.x}, {-a.y, a.x, 0}}};
}
/* Rotation about +y by angle: turns x towards -z, so a trailer whose tail hangs down a ramp has angle > 0. */
static inline dd_mat3 dd_rotation_y(double angle)
{
    double c = cos(angle), s = sin(angle);
    return (dd_mat3){{{c, 0, s}, {0, 1, 0}, {-s, 0, c}}};
}
static inline dd_quaternion dd_quaternion_multiply(dd_quaternion a, dd_quaternion b)
{
    return (dd_quaternion){a.w * b.w - a.x * b.x - a.y * b.y - a.z * b.z, a.w * b.x + a.x * b.w + a.y * b.z - a.z * b.y,
                           a.w * b.y - a.x * b.z + a.y * b.w + a.z * b.x, a.w * b.z + a.x * b.y - a.y * b.x + a.z * b.w};
}
/* Rotation matrix of q; exact for |q| = 1, and a rotation still (not a scaling) for |q| near 1. */
static inline dd_mat3 dd_rotation_of(dd_quaternion q)
{
    double s = 2.0 / (q.w * q.w + q.x * q.x + q.y * q.y + q.z * q.z);
    double xx = s * q.x * q.x, yy = s * q.y * q.y, zz = s * q.z * q.z, xy = s * q.x * q.y, xz = s * q.x * q.z,
           yz = s * q.y * q.z, wx = s * q.w * q.x, wy = s * q.w * q.y, wz = s * q.w * q.z;
    return (dd_mat3){{{1 - yy - zz, xy - wz, xz + wy}, {xy + wz, 1 - xx - zz, yz - wx}, {xz - wy, yz + wx, 1 - xx - yy}}};
}
#endif
