/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unknown: mass and centre of the boat without what is aboard, the trailer's mass if it is not sure, the masses aboard that are
   guesses. With each figure in standard deviations t of what was known before, the least of
       sum ((calculated - read) / deviation)^2 + sum t^2
   is the most likely, and the inverse of J^T J there its covariance (formula: Bayes with normal errors, made linear at the end). */
#include "lib/study/measured.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/loading.h"
#include "lib/case/measured.h"
#include "lib/hull/lines.h"
#include "lib/ode/gsl.h"
#include "lib/rig/road.h"
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BOAT_MASS, FROM_TRANSOM, TO_PORT, HEIGHT, TRAILER_MASS, FIGURES_OF_RIG };
enum { ITERATIONS = 60 };

/* Deviation of a reading beside its step: a share of it, and so much more. Source "scale readings". */
static const struct {
    double share, more;
} scale_errors[DD_READ_KIND_COUNT] = {
    [DD_READ_BOAT] = {0.001, 0},          [DD_READ_UNCOUPLED] = {0.001, 0},      [DD_READ_AXLE_GROUP] = {0.005, 0},
    [DD_READ_COUPLING] = {0.01, 1},       [DD_READ_AXLE] = {0.005, 0},           [DD_READ_WHEEL] = {0.005, 0},
    [DD_READ_VEHICLE_FRONT] = {0.005, 0}, [DD_READ_VEHICLE_REAR] = {0.005, 0},   [DD_READ_COMBINATION] = {0.001, 0},
    [DD_READ_FREEBOARD] = {0, 0.01},
};

typedef struct problem {
    const dd_case *scenario;
    dd_placement placement;
    dd_hull *hull; /* NULL: no freeboards */
    dd_measured_solution *solution;
    int first_guess;                        /* figures from here on are guesses aboard; one before it may be the trailer's mass */
    double guessed[DD_SOLVED];              /* mass before of a guess, of the list as given */
    char guess_names[DD_SOLVED][48];
    int item_count[DD_MEASURED];
    dd_item items[DD_MEASURED][DD_ABOARD];  /* aboard at each reading */
    double heel, trim; /* where the boat was last found afloat: near the next, rad */
    int bilge;
    dd_item bilge_water[DD_ABOARD + 1];
    dd_error error;
} problem;

/* Factor of an item's mass: guesses move together in all states. */
static double factor_of(const problem *p, const double *values, const dd_item *item)
{
    if (dd_item_estimate(item).given) return 1;
    for (int f = p->first_guess; f < p->solution->figure_count; f++)
        if (strcmp(p->guess_names[f], item->item) == 0) return values[f] / p->guessed[f];
    return 1;
}

static dd_mass_properties boat_at(const problem *p, const double *values, int reading)
{
    const dd_vec3 base = dd_vec(values[FROM_TRANSOM], values[TO_PORT], values[HEIGHT]);
    dd_mass_properties all = {.mass = values[BOAT_MASS]};
    dd_vec3 moment = dd_scale(all.mass, base);
    for (int i = 0; i < p->item_count[reading] + p->bilge; i++) {
        const dd_item *item = i < p->item_count[reading] ? &p->items[reading][i] : &p->bilge_water[0];
        const double mass = dd_item_mass(item) * factor_of(p, values, item);
        all.mass += mass;
        moment = dd_add(moment, dd_scale(mass, dd_item_centre(item, base)));
    }
    all.centre = dd_scale(1 / all.mass, moment);
    return all;
}

static dd_status freeboard_of(problem *p, const dd_measured *m, const dd_mass_properties *boat, double *value, dd_error *error)
{
    dd_floating afloat;
    dd_status status = dd_hull_float_with(p->hull, boat, m->water_density, p->scenario->gravity, p->heel, p->trim, &afloat, error);
    if (status != DD_OK) return status;
    p->heel = afloat.heel;
    p->trim = afloat.trim;
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    const int count = dd_hull_section(p->hull, m->from_transom, y, z);
    const dd_vec3 sheer = dd_vec(m->from_transom, m->side == DD_READ_PORT ? y[count - 1] : -y[count - 1], z[count - 1]);
    *value = dd_dot(afloat.waterplane.up, sheer) - afloat.waterplane.level;
    return DD_OK;
}

/* On wheels: as the weighbridge shows it, kg. */
static dd_status scale_of(const problem *p, const dd_measured *m, const dd_mass_properties *boat, double trailer_mass, double *value,
                          dd_error *error)
{
    dd_vehicle_parameters vehicle = p->scenario->vehicle;
    dd_trailer_parameters trailer = p->scenario->trailer;
    trailer.mass = trailer_mass;
    if (m->what == DD_READ_COUPLING && isfinite(m->coupling_height)) { /* on a scale, which hardly sinks */
        vehicle.coupling_height = m->coupling_height;
        vehicle.rear_suspension_squash = 1e-4;
    }
    dd_road_loads loads;
    const double g = p->scenario->gravity;
    dd_status status = dd_road_statics(&vehicle, &trailer, boat->mass, dd_placed_point(&p->placement, boat->centre), g, &loads, error);
    if (status != DD_OK) return status;
    const int axle = m->axle - 1;
    const double shown[DD_READ_KIND_COUNT] = {
        [DD_READ_UNCOUPLED] = loads.aggregate_mass,
        [DD_READ_AXLE_GROUP] = loads.axle_group / g,
        [DD_READ_COUPLING] = loads.coupling / g,
        [DD_READ_AXLE] = m->what == DD_READ_AXLE ? loads.axle[axle] / g : 0,
        [DD_READ_WHEEL] = m->what == DD_READ_WHEEL ? loads.wheel[axle][m->side == DD_READ_STARBOARD] / g : 0,
        [DD_READ_VEHICLE_FRONT] = loads.vehicle_front / g,
        [DD_READ_VEHICLE_REAR] = loads.vehicle_rear / g,
        [DD_READ_COMBINATION] = loads.combination_mass,
    };
    *value = shown[m->what];
    return DD_OK;
}

static dd_status calculate(problem *p, const double *values, int reading, double *value, dd_error *error)
{
    const dd_measured *m = &p->scenario->measured[reading];
    const dd_mass_properties boat = boat_at(p, values, reading);
    dd_error why = {.status = DD_OK};
    dd_status status = DD_OK;
    if (m->what == DD_READ_BOAT)
        *value = boat.mass;
    else if (m->what == DD_READ_FREEBOARD)
        status = freeboard_of(p, m, &boat, value, &why);
    else
        status = scale_of(p, m, &boat, p->first_guess > TRAILER_MASS ? values[TRAILER_MASS] : p->scenario->trailer.mass, value, &why);
    if (status == DD_OK) return DD_OK;
    char place[96];
    dd_text(place, sizeof place, "measured[%d]", reading + 1);
    return dd_fail(error, status, place, "cannot be calculated with a boat of %.0f kg, centre %.2f m from the transom: %.160s", values[BOAT_MASS],
                   values[FROM_TRANSOM], why.message);
}

static void values_at(const problem *p, const gsl_vector *t, double values[DD_SOLVED])
{
    for (int f = 0; f < p->solution->figure_count; f++)
        values[f] = p->solution->figures[f].before + p->solution->figures[f].before_deviation * gsl_vector_get(t, (size_t)f);
}

static int residuals(const gsl_vector *t, void *context, gsl_vector *r)
{
    problem *p = context;
    double values[DD_SOLVED], value;
    values_at(p, t, values);
    const int n = p->solution->reading_count;
    for (int i = 0; i < n; i++) {
        if (calculate(p, values, i, &value, &p->error) != DD_OK) return GSL_EDOM;
        gsl_vector_set(r, (size_t)i, (value - p->solution->readings[i].reading) / p->solution->readings[i].deviation);
    }
    for (int f = 0; f < p->solution->figure_count; f++) gsl_vector_set(r, (size_t)(n + f), gsl_vector_get(t, (size_t)f));
    return GSL_SUCCESS;
}

/* Central differences over 1e-3 of a deviation: the readings are nearly linear in every figure. */
static int differentiate(const gsl_vector *t, void *context, gsl_matrix *jacobian)
{
    const double step = 1e-3;
    gsl_vector *at = gsl_vector_alloc(t->size), *ends[2] = {gsl_vector_alloc(jacobian->size1), gsl_vector_alloc(jacobian->size1)};
    int status = at != NULL && ends[0] != NULL && ends[1] != NULL ? GSL_SUCCESS : GSL_ENOMEM;
    /* the solver takes any failure here for a step that leads nowhere: told from here */
    if (status != GSL_SUCCESS) (void)dd_fail(&((problem *)context)->error, DD_ERROR_MEMORY, "measured", "no memory for the readings");
    for (size_t f = 0; f < t->size && status == GSL_SUCCESS; f++) {
        for (int end = 0; end < 2 && status == GSL_SUCCESS; end++) {
            gsl_vector_memcpy(at, t);
            gsl_vector_set(at, f, gsl_vector_get(t, f) + (end == 0 ? -step : step));
            status = residuals(at, context, ends[end]);
        }
        for (size_t i = 0; i < jacobian->size1 && status == GSL_SUCCESS; i++)
            gsl_matrix_set(jacobian, i, f, (gsl_vector_get(ends[1], i) - gsl_vector_get(ends[0], i)) / (2 * step));
    }
    gsl_vector_free(at);
    gsl_vector_free(ends[0]);
    gsl_vector_free(ends[1]);
    return status;
}

/* What is known before ------------------------------------------------------------------------------------------------ */

static void add_figure(dd_measured_solution *s, const char *name, int is_length, double before, double deviation)
{
    dd_solved_figure *f = &s->figures[s->figure_count++];
    *f = (dd_solved_figure){.is_length = is_length, .before = before, .before_deviation = deviation, .after = before, .after_deviation = deviation};
    dd_text(f->name, sizeof f->name, "%s", name);
}

/* An estimate's band is two deviations either way; even a figure that is given is not trusted more closely than `least`, since
   brochures and guesses are what the scale is to correct. */
static void add_estimate(dd_measured_solution *s, const char *name, int is_length, const dd_estimate *e, double least)
{
    add_figure(s, name, is_length, e->likely, fmax(least, 0.25 * (e->high - e->low)));
}

static dd_status add_figures(problem *p, dd_error *error)
{
    dd_measured_solution *s = p->solution;
    dd_hull_parameters boat = p->scenario->boat;
    dd_hull_estimates e;
    boat.item_count = 0;
    p->bilge = dd_hull_aboard(&boat, p->bilge_water);
    boat.water_aboard.mass = 0;
    dd_status status = dd_hull_estimate(&boat, &e, error);
    if (status != DD_OK) return status;
    add_estimate(s, "boat and engine, nothing aboard", 0, &e.total_mass, 0.025 * e.total_mass.likely);
    add_estimate(s, "their centre from the transom", 1, &e.centre_from_transom, 0.01 * dd_brochure_length(&boat));
    add_figure(s, "their centre to port", 1, boat.centre_to_port, 0.0125 * e.chine_beam.likely);
    add_estimate(s, "their centre's height", 1, &e.centre_height, 0.03 * e.midships_sheer_height.likely);
    if (p->scenario->trailer_mass_within > 0)
        add_figure(s, "trailer, empty", 0, p->scenario->trailer.mass, 0.5 * p->scenario->trailer_mass_within);
    p->first_guess = s->figure_count;
    for (int i = 0; i < p->scenario->boat.item_count && s->figure_count < DD_SOLVED; i++) {
        const dd_item *item = &p->scenario->boat.items[i];
        const dd_estimate mass = dd_item_estimate(item);
        if (mass.given || !(mass.high > mass.low) || !(mass.likely > 0)) continue;
        dd_text(p->guess_names[s->figure_count], sizeof p->guess_names[0], "%s", item->item);
        p->guessed[s->figure_count] = mass.likely;
        add_figure(s, item->item, 0, mass.likely, 0.25 * (mass.high - mass.low));
    }
    return DD_OK;
}

static dd_status add_reading(problem *p, int index, const dd_hull_estimates *hull, dd_error *error)
{
    const dd_measured *m = &p->scenario->measured[index];
    dd_solved_reading *r = &p->solution->readings[p->solution->reading_count++];
    const int state = dd_loading_named(p->scenario, m->loading);
    *r = (dd_solved_reading){.is_length = m->what == DD_READ_FREEBOARD};
    r->reading = r->is_length ? m->freeboard : m->mass;
    const double step = r->is_length ? m->tape_step : m->scale_step, more = scale_errors[m->what].more + scale_errors[m->what].share * fabs(r->reading);
    /* The sheer of a hull that nobody measured is itself an estimate. */
    const double form = r->is_length ? 0.25 * (hull->midships_sheer_height.high - hull->midships_sheer_height.low) : 0;
    r->deviation = sqrt(step * step / 12 + more * more + form * form);
    char number[16] = "";
    if (m->what == DD_READ_AXLE || m->what == DD_READ_WHEEL) dd_text(number, sizeof number, " %d", m->axle);
    const char *side = m->side == DD_READ_PORT ? ", port" : ", starboard";
    dd_text(r->name, sizeof r->name, "%s%s%s%s%s", dd_measured_variants[m->what].name, number,
            m->what == DD_READ_WHEEL || m->what == DD_READ_FREEBOARD ? side : "", m->loading[0] == '\0' ? "" : ", ", m->loading);
    if (isfinite(m->coupling_height) && m->what == DD_READ_COUPLING)
        dd_text(r->name, sizeof r->name, "%.60s at %.2f m%s%.24s", dd_measured_variants[m->what].name, m->coupling_height,
                m->loading[0] == '\0' ? "" : ", ", m->loading);
    if (state >= 0)
        return dd_loading_items(&p->scenario->boat, &p->scenario->loadings[state], p->items[index], &p->item_count[index], error);
    p->item_count[index] = p->scenario->boat.item_count;
    memcpy(p->items[index], p->scenario->boat.items, sizeof p->items[index]);
    return DD_OK;
}

static dd_status set_up(problem *p, dd_error *error)
{
    bool on_wheels = false, afloat = false;
    for (int i = 0; i < p->scenario->measured_count; i++) {
        afloat = afloat || p->scenario->measured[i].what == DD_READ_FREEBOARD;
        on_wheels = on_wheels || (p->scenario->measured[i].what != DD_READ_FREEBOARD && p->scenario->measured[i].what != DD_READ_BOAT);
    }
    dd_hull_estimates e;
    dd_status status = on_wheels ? dd_yard_place(p->scenario, &p->placement, error) : DD_OK;
    if (status == DD_OK && afloat) status = dd_hull_create(&p->scenario->boat, &p->hull, error);
    if (status == DD_OK) status = dd_hull_estimate(&p->scenario->boat, &e, error);
    if (status == DD_OK) status = add_figures(p, error);
    for (int i = 0; i < p->scenario->measured_count && status == DD_OK; i++) status = add_reading(p, i, &e, error);
    return status;
}

/* Solving -------------------------------------------------------------------------------------------------------------- */

/* Variance of reading i's calculated figure, in the reading's variances. */
static double leverage(const gsl_matrix *jacobian, const gsl_matrix *covariance, size_t i)
{
    double sum = 0;
    for (size_t a = 0; a < jacobian->size2; a++)
        for (size_t b = 0; b < jacobian->size2; b++)
            sum += gsl_matrix_get(jacobian, i, a) * gsl_matrix_get(covariance, a, b) * gsl_matrix_get(jacobian, i, b);
    return sum;
}

static dd_status read_out(problem *p, gsl_multifit_nlinear_workspace *work, gsl_matrix *covariance, dd_error *error)
{
    dd_measured_solution *s = p->solution;
    double values[DD_SOLVED], before[DD_SOLVED];
    const gsl_matrix *jacobian = gsl_multifit_nlinear_jac(work);
    values_at(p, gsl_multifit_nlinear_position(work), values);
    if (gsl_multifit_nlinear_covar(jacobian, 0, covariance) != GSL_SUCCESS)
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "measured", "the figures have no covariance");
    for (int f = 0; f < s->figure_count; f++) {
        before[f] = s->figures[f].before;
        s->figures[f].after = values[f];
        s->figures[f].after_deviation = s->figures[f].before_deviation * sqrt(gsl_matrix_get(covariance, (size_t)f, (size_t)f));
    }
    dd_status status = DD_OK;
    for (int i = 0; i < s->reading_count && status == DD_OK; i++) {
        dd_solved_reading *r = &s->readings[i];
        status = calculate(p, before, i, &r->before, error);
        if (status == DD_OK) status = calculate(p, values, i, &r->after, error);
        const double left = 1 - leverage(jacobian, covariance, (size_t)i);
        r->disagreement = left > 0.02 ? (r->reading - r->after) / (r->deviation * sqrt(left)) : NAN;
    }
    return status;
}

static dd_status search(problem *p, dd_error *error)
{
    const size_t figures = (size_t)p->solution->figure_count, rows = (size_t)p->solution->reading_count + figures;
    gsl_multifit_nlinear_parameters settings = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_fdf system = {.f = residuals, .df = differentiate, .n = rows, .p = figures, .params = p};
    gsl_multifit_nlinear_workspace *work = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &settings, rows, figures);
    gsl_vector *start = gsl_vector_calloc(figures);
    gsl_matrix *covariance = gsl_matrix_alloc(figures, figures);
    dd_status status = DD_OK;
    int info = 0, outcome = GSL_ENOMEM;
    if (work != NULL && start != NULL && covariance != NULL) {
        outcome = gsl_multifit_nlinear_init(start, &system, work);
        if (outcome == GSL_SUCCESS) outcome = gsl_multifit_nlinear_driver(ITERATIONS, 1e-9, 1e-9, 0, NULL, NULL, &info, work);
        if (outcome == GSL_ENOPROG) outcome = GSL_SUCCESS; /* as near as rounding lets it */
    }
    if (outcome == GSL_ENOMEM || p->error.status == DD_ERROR_MEMORY)
        status = dd_fail(error, DD_ERROR_MEMORY, "measured", "no memory for the readings");
    else if (outcome != GSL_SUCCESS && p->error.status != DD_OK)
        status = dd_fail(error, p->error.status, p->error.place, "%s", p->error.message);
    else if (outcome != GSL_SUCCESS)
        status = dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "measured", "the readings were not solved: %s", gsl_strerror(outcome));
    else
        status = read_out(p, work, covariance, error);
    if (work != NULL) gsl_multifit_nlinear_free(work);
    gsl_vector_free(start);
    gsl_matrix_free(covariance);
    return status;
}

/* What came out, into the scenario -------------------------------------------------------------------------------------- */

static void adjust_item(const problem *p, const double *values, dd_item *item)
{
    const double each = dd_item_mass(item) / (item->count > 1 ? item->count : 1), factor = fmax(0, factor_of(p, values, item));
    if (!(each > 0) || factor == 1) return;
    double deviation = 0;
    for (int f = p->first_guess; f < p->solution->figure_count; f++)
        if (strcmp(p->guess_names[f], item->item) == 0) deviation = each * p->solution->figures[f].after_deviation / p->guessed[f];
    if (isfinite(item->volume))
        item->density = factor * each / (item->volume * (isnan(item->fill) ? dd_tank_full : item->fill));
    else
        item->mass = factor * each;
    item->estimate = 1;
    item->mass_low = fmax(0, factor * each - 2 * deviation);
    item->mass_high = factor * each + 2 * deviation;
}

static void adjust(const problem *p, dd_case *adjusted)
{
    double values[DD_SOLVED];
    for (int f = 0; f < p->solution->figure_count; f++) values[f] = p->solution->figures[f].after;
    *adjusted = *p->scenario;
    adjusted->measured_count = 0; /* what they say is in it now */
    adjusted->trailer_mass_within = 0;
    dd_hull_parameters *boat = &adjusted->boat;
    /* Readings that make no sense are shown as such; what follows stays a boat. */
    const double first = boat->station_count > 0 ? boat->stations[0].at : 0;
    boat->mass = fmax(1, values[BOAT_MASS]);
    boat->mass_of = DD_MASS_READY_TO_GO;
    boat->centre_from_transom = fmax(first, fmin(first + dd_brochure_length(boat), values[FROM_TRANSOM]));
    boat->centre_to_port = values[TO_PORT];
    boat->centre_height = values[HEIGHT];
    if (p->first_guess > TRAILER_MASS) adjusted->trailer.mass = values[TRAILER_MASS];
    for (int i = 0; i < boat->item_count; i++) adjust_item(p, values, &boat->items[i]);
    for (int s = 0; s < adjusted->loading_count; s++)
        for (int i = 0; i < adjusted->loadings[s].item_count; i++) adjust_item(p, values, &adjusted->loadings[s].items[i]);
}

dd_status dd_measured_solve(const dd_case *scenario, dd_case *adjusted, dd_measured_solution *solution, dd_error *error)
{
    dd_gsl_quiet();
    problem *p = calloc(1, sizeof *p);
    if (p == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_measured_solve", "no memory for the readings");
    *solution = (dd_measured_solution){0};
    p->scenario = scenario;
    p->solution = solution;
    dd_status status = set_up(p, error);
    if (status == DD_OK) status = search(p, error);
    if (status == DD_OK && adjusted != NULL) adjust(p, adjusted);
    dd_hull_free(p->hull);
    free(p);
    return status;
}
