/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/bristle.h"
#include "lib/force/smooth.h"

static const double release = DD_BRISTLE_RELEASE;

/* damping_here, and what its change by a quantity is as a share of it: -(that quantity's own squared factor) times this. */
typedef struct kept {
    double damping, falls;
} kept;
static kept keep(const dd_bristle_law *law, double square)
{
    return law->never_falls ? (kept){law->damping / sqrt(square), 1 / square} : (kept){law->damping / square, 2 / square};
}
static double fading_speed(const dd_bristle_law *law, double limit) { return (law->never_falls ? 2 : 1) * law->damping / limit; }

/* alpha and its slope by |z|, for z and v of the same sign. */
static dd_smooth yielding(const dd_bristle_law *law, double size, double z_limit)
{
    double width = (1 - law->breakaway_share) * z_limit;
    dd_smooth alpha = dd_smooth_step((size - law->breakaway_share * z_limit) / width);
    alpha.slope /= width;
    return alpha;
}

dd_bristle dd_bristle_at(const dd_bristle_law *law, double limit, double value, double speed, double renewal, double contact)
{
    dd_bristle b = {0};
    if (!(limit > 0)) { /* no friction: only an old deflection to forget */
        b.rate = -release * value;
        b.rate_by_value = -release;
        return b;
    }
    double z_limit = limit / law->stiffness;
    double loss = 0, loss_by_size = 0; /* alpha |z| / z_limit */
    if (value * speed > 0) {
        dd_smooth alpha = yielding(law, fabs(value), z_limit);
        loss = alpha.value * fabs(value) / z_limit;
        loss_by_size = (alpha.value + alpha.slope * fabs(value)) / z_limit;
    }
    double s = speed * (1 - loss) - renewal * value;
    double s_by_value = -fabs(speed) * loss_by_size - renewal; /* d|z|/dz has the sign of z, which is that of v here */
    double s_by_speed = 1 - loss;
    b.rate = contact * s - release * (1 - contact) * value;
    b.rate_by_value = contact * s_by_value - release * (1 - contact);
    b.rate_by_speed = contact * s_by_speed;
    b.rate_by_renewal = -contact * value;
    b.rate_by_contact = s + release * value;

    const double a = fading_speed(law, limit), r = 0.5 * law->damping / law->stiffness;
    const kept k = keep(law, 1 + a * a * speed * speed + r * r * renewal * renewal);
    const double damping = k.damping;
    b.coefficient = law->stiffness * value + damping * s;
    b.coefficient_by_value = law->stiffness + damping * s_by_value;
    b.coefficient_by_speed = damping * (s_by_speed - s * k.falls * a * a * speed);
    b.coefficient_by_renewal = damping * (-value - s * k.falls * r * r * renewal);
    b.heat = b.coefficient * speed - law->stiffness * value * s;
    return b;
}

double dd_bristle_steady(const dd_bristle_law *law, double limit, double slip, double length)
{
    static const double close_to = 1e-9; /* of the limit */
    const double z_limit = limit / law->stiffness;
    double low = 0, high = fmin(z_limit, slip * length), z = high;
    if (!(limit > 0) || high <= law->breakaway_share * z_limit) return limit > 0 ? high : 0;
    for (int i = 0; i < 60 && high - low > close_to * z_limit; i++) {
        const dd_smooth alpha = yielding(law, z, z_limit);
        const double left = slip * (1 - alpha.value * z / z_limit) - z / length, falls = slip * (alpha.value + alpha.slope * z) / z_limit + 1 / length;
        *(left > 0 ? &low : &high) = z;
        const double next = z + left / falls;
        if (fabs(next - z) < close_to * z_limit) break;
        z = next > low && next < high ? next : 0.5 * (low + high);
    }
    return z;
}

/* alpha / (|z| z_limit) and its derivatives by |z| and by the limit friction. */
typedef struct fading {
    double value, by_size, by_limit;
} fading;
static fading fade_of(const dd_bristle_law *law, double size, double limit)
{
    const double z_limit = limit / law->stiffness, width = 1 - law->breakaway_share;
    dd_smooth alpha = dd_smooth_step((size / z_limit - law->breakaway_share) / width);
    if (alpha.value == 0) return (fading){0, 0, 0};
    double value = alpha.value / (size * z_limit);
    double by_z_limit = -alpha.slope * size / (z_limit * z_limit * width) / (size * z_limit) - value / z_limit;
    return (fading){value, alpha.slope / (z_limit * width) / (size * z_limit) - value / size, by_z_limit / law->stiffness};
}

/* s and its derivatives. */
static void slide(const dd_bristle_law *law, double limit, const double z[2], const double v[2], double s[2], double by_z[2][2],
                  double by_v[2][2], double by_limit[2])
{
    const double size = hypot(z[0], z[1]), outward = z[0] * v[0] + z[1] * v[1];
    fading f = {0, 0, 0};
    if (outward > 0) f = fade_of(law, size, limit);
    for (int i = 0; i < 2; i++) {
        s[i] = v[i] - f.value * outward * z[i];
        by_limit[i] = -f.by_limit * outward * z[i];
        for (int j = 0; j < 2; j++) {
            double turn = f.by_size == 0 ? 0 : f.by_size * z[j] / size;
            by_z[i][j] = -(turn * outward + f.value * v[j]) * z[i] - (i == j ? f.value * outward : 0);
            by_v[i][j] = (i == j) - f.value * z[j] * z[i];
        }
    }
}

/* What is beyond the circle lets go. */
static void let_go(const dd_bristle_law *law, double limit, const double z[2], double contact, dd_disc *d)
{
    const double size = hypot(z[0], z[1]), z_limit = limit / law->stiffness, k = release * contact;
    if (!(size > z_limit)) return;
    for (int i = 0; i < 2; i++) {
        d->rate[i] -= k * (1 - z_limit / size) * z[i];
        d->rate_by_contact[i] -= release * (1 - z_limit / size) * z[i];
        d->rate_by_limit[i] += k * z[i] / (size * law->stiffness);
        for (int j = 0; j < 2; j++)
            d->rate_by_value[i][j] -= k * ((i == j ? 1 - z_limit / size : 0) + z_limit * z[i] * z[j] / (size * size * size));
    }
}

dd_disc dd_disc_at(const dd_bristle_law *law, double limit, const double z[2], const double v[2], double contact)
{
    dd_disc d = {0};
    for (int i = 0; i < 2; i++) {
        d.rate[i] = -release * (limit > 0 ? 1 - contact : 1) * z[i];
        d.rate_by_value[i][i] = -release * (limit > 0 ? 1 - contact : 1);
    }
    if (!(limit > 0)) return d;
    double s[2], by_z[2][2], by_v[2][2], by_limit[2];
    slide(law, limit, z, v, s, by_z, by_v, by_limit);
    const double a = fading_speed(law, limit), square = v[0] * v[0] + v[1] * v[1];
    const kept k = keep(law, 1 + a * a * square);
    const double damping = k.damping, damping_by_limit = damping * k.falls * a * a * square / limit;
    for (int i = 0; i < 2; i++) {
        d.rate[i] += contact * s[i];
        d.rate_by_contact[i] = s[i] + release * z[i];
        d.rate_by_limit[i] = contact * by_limit[i];
        d.coefficient[i] = law->stiffness * z[i] + damping * s[i];
        d.coefficient_by_limit[i] = damping * by_limit[i] + damping_by_limit * s[i];
        for (int j = 0; j < 2; j++) {
            d.rate_by_value[i][j] += contact * by_z[i][j];
            d.rate_by_velocity[i][j] = contact * by_v[i][j];
            d.coefficient_by_value[i][j] = (i == j ? law->stiffness : 0) + damping * by_z[i][j];
            d.coefficient_by_velocity[i][j] = damping * (by_v[i][j] - s[i] * k.falls * a * a * v[j]);
        }
    }
    let_go(law, limit, z, contact, &d);
    return d;
}
