/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program of somebody else: knows only the installed headers and library. Exit status 0: all it asked was answered well. */
#include <drawdock/drawdock.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* An error comes back as a value that names the field. */
static int refuses_an_unset_hull(void)
{
    dd_hull_parameters parameters;
    dd_hull *hull = NULL;
    dd_error error;
    dd_hull_defaults(&parameters);
    dd_status status = dd_hull_create(&parameters, &hull, &error);
    printf("unset hull: %s (%s)\n", error.message, dd_status_text(status));
    return status != DD_OK && hull == NULL && error.status == status && strlen(error.message) > 0 && strlen(error.place) > 0;
}

/* A boat floats at a draught that carries its mass: Archimedes, to 1e-6 of the mass (tolerance of the library's curved lines). */
static int floats_a_hull(void)
{
    const double density = 1025.0, gravity = 9.80665;
    dd_hull_parameters parameters;
    dd_hull *hull = NULL;
    dd_error error;
    dd_floating floating;
    dd_hull_defaults(&parameters);
    parameters.length = 5.0;
    parameters.length_of = DD_LENGTH_OF_HULL;
    parameters.beam = 2.1;
    parameters.transom_deadrise = 0.33;
    parameters.mass = 900.0;
    parameters.mass_of = DD_MASS_READY_TO_GO;
    parameters.engine_power = 66e3;
    if (dd_hull_create(&parameters, &hull, &error) != DD_OK) {
        printf("hull: %s: %s\n", error.place, error.message);
        return 0;
    }
    dd_status status = dd_hull_float(hull, density, gravity, 0.0, 0.0, &floating, &error);
    double mass = dd_hull_mass(hull)->mass;
    dd_hull_free(hull);
    if (status != DD_OK) {
        printf("float: %s: %s\n", error.place, error.message);
        return 0;
    }
    double carried = density * floating.hydrostatics.volume;
    printf("afloat: mass %.3f kg, displaced %.3f kg, trim %.4f rad\n", mass, carried, floating.trim);
    return fabs(carried - mass) <= 1e-6 * mass;
}

int main(int argc, char **argv)
{
    if (argc != 2 || strcmp(dd_version(), argv[1]) != 0) {
        printf("library says version %s\n", dd_version());
        return 1;
    }
    if (!refuses_an_unset_hull()) return 1;
    return floats_a_hull() ? 0 : 1;
}
