/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/bristle.h"
#include "lib/force/smooth.h"

static const double release = DD_BRISTLE_RELEASE;

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

    double a = law->damping / limit, r = 0.5 * law->damping / law->stiffness;
    double fading = 1 + a * a * speed * speed + r * r * renewal * renewal;
    double damping = law->damping / fading;
    b.coefficient = law->stiffness * value + damping * s;
    b.coefficient_by_value = law->stiffness + damping * s_by_value;
    b.coefficient_by_speed = damping * (s_by_speed - s * 2 * a * a * speed / fading);
    b.coefficient_by_renewal = damping * (-value - s * 2 * r * r * renewal / fading);
    b.heat = b.coefficient * speed - law->stiffness * value * s;
    return b;
}
