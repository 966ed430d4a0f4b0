# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes lib/force/section_table.c: two-dimensional radiation of keel-chine-side sections.

Sources on the half section (the close-fit method), the Green function of deep water with a free surface,
normal out of the hull, motion e^{-iwt}. Lengths are shares of the half-breadth at the waterline.
Run:  python3 tests/reference/hydro/section_table.py > lib/force/section_table.c
Check against the independent rows of radiation_sections.csv: test_section.c.
"""
import numpy as np
from scipy.special import exp1

FLARE = [0, 0.3, 0.6]
DRAUGHT = [0.1, 0.17, 0.28, 0.45, 0.7, 1.1]
CHINE = [0, 0.25, 0.6, 1]
FREQUENCY = [0.1, 0.25, 0.5, 0.8, 1.2, 1.8]
NODE, WEIGHT = np.polynomial.legendre.leggauss(4)


def corners_to_nodes(corners, count):
    corners = [complex(*c) for c in corners]
    lengths = [abs(b - a) for a, b in zip(corners, corners[1:])]
    nodes = [corners[0]]
    for a, b, length in zip(corners, corners[1:], lengths):
        panels = max(6, round(count * length / sum(lengths)))
        nodes += [a + (b - a) * 0.5 * (1 - np.cos(np.pi * i / panels)) for i in range(1, panels + 1)]
    return np.array(nodes)


def line_source(field, a, b):
    """Integral of ln(field - s) |ds| from a to b: real part, and the complex derivative by field."""
    direction = (b - a) / abs(b - a)
    p, q = (field - a) / direction, (field - b) / direction
    return ((p * np.log(p) - p) - (q * np.log(q) - q)).real, np.log(p / q) / direction


def radiation(corners, frequencies, count=48):
    """Per frequency K = w^2/g: heave (a, b/w), sway, roll about the waterline's centre, sway-roll; per density."""
    z = corners_to_nodes(corners, count)
    a, b = z[:-1], z[1:]
    length, middle = abs(b - a), 0.5 * (a + b)
    normal = -1j * (b - a) / length
    field = middle[:, None]

    def parts(start, end):
        potential, slope = line_source(field, start[None, :], end[None, :])
        image, image_slope = line_source(field, np.conj(start)[None, :], np.conj(end)[None, :])
        return potential - image, slope, image_slope

    own, own_slope, own_image = parts(a, b)
    np.fill_diagonal(own_slope, 0)  # the outside limit is the half added below
    other, other_slope, other_image = parts(-np.conj(a), -np.conj(b))
    points = a[:, None] + (b - a)[:, None] * 0.5 * (NODE + 1)
    weights = 0.5 * length[:, None] * WEIGHT

    def along_normal(slope):
        return (slope * normal[:, None]).real

    def waves(sources, k):
        w = -1j * (field[:, :, None] - np.conj(sources)[None, :, :]) * k
        e = np.exp(w)
        j = e * (exp1(w) + 1j * np.pi * np.copysign(1, w.imag))
        return [(f * weights[None, :, :]).sum(2) for f in (j, -1j * k * (j - 1 / w), e, -1j * k * e)]

    modes = {"heave": (normal.imag, 1), "sway": (normal.real, -1),
             "roll": (middle.real * normal.imag - middle.imag * normal.real, -1)}
    for k in frequencies:
        j, dj, e, de = waves(points, k)
        mj, mdj, me, mde = waves(-np.conj(points), k)
        phi = {}
        for name, (velocity, sign) in modes.items():
            potential = (own - 2 * j.real + sign * (other - 2 * mj.real)) / (2 * np.pi) - 1j * (e.real + sign * me.real)
            slope = (along_normal(own_slope - own_image - 2 * dj)
                     + sign * along_normal(other_slope - other_image - 2 * mdj)) / (2 * np.pi) \
                - 1j * (along_normal(de) + sign * along_normal(mde)) + 0.5 * np.eye(len(middle))
            phi[name] = potential @ np.linalg.solve(slope, velocity.astype(complex))

        def coefficient(of, on):
            c = -2 * (phi[of] * modes[on][0] * length).sum()
            return c.real, c.imag

        yield coefficient("heave", "heave"), coefficient("sway", "sway"), coefficient("roll", "roll"), \
            coefficient("sway", "roll")


def section(flare, draught, chine):
    corners = [(0, -draught)]
    if chine < 1:
        corners.append((1 - flare * draught * (1 - chine), -draught * (1 - chine)))
    return corners + [(1, 0)]


def main():
    print("/* SPDX-License-Identifier: GPL-3.0-or-later */")
    print("/* Written by tests/reference/hydro/section_table.py: do not edit. Per density and half-breadth b = 1: heave added")
    print("   mass a33 and ln(b33/w), roll a44 and sway-roll a24 about the waterline's centre, then sqrt(b22/w) and")
    print("   (b24/w)/sqrt(b22/w), which are smoother than b22, b24 and b44 = b24^2/b22; each a row over the frequencies. Last")
    print("   a22 with a rigid surface (the limit of slow sway) over draught^2. */")
    print('#include "lib/force/section.h"')
    for name, values in (("flare", FLARE), ("draught", DRAUGHT), ("chine", CHINE), ("frequency", FREQUENCY)):
        print("const double dd_section_%s[%d] = {%s};" % (name, len(values), ", ".join("%g" % v for v in values)))
    print("const dd_section_row dd_section_rows[%d][%d][%d] = {" % (len(FLARE), len(DRAUGHT), len(CHINE)))
    for flare in FLARE:
        print("    {")
        for draught in DRAUGHT:
            print("        {")
            for chine in CHINE:
                corners = section(flare, draught, chine)
                rows = list(radiation(corners, FREQUENCY))
                slow = next(radiation(corners, [1e-5]))[1][0] / draught**2
                waves = [np.sqrt(r[1][1]) for r in rows]
                columns = [[r[0][0] for r in rows], [np.log(max(r[0][1], 0.03)) for r in rows], [r[2][0] for r in rows],
                           [r[3][0] for r in rows], waves, [r[3][1] / w for r, w in zip(rows, waves)]]
                text = ["{%s}" % ", ".join("%.5g" % v for v in column) for column in columns]
                print("            /* flare %g, draught %g, chine %g */ {{" % (flare, draught, chine), end="")
                print(",\n             ".join(text), end="},\n             ")
                print("%.5g}," % slow)
            print("        },")
        print("    },")
    print("};")


if __name__ == "__main__":
    main()
