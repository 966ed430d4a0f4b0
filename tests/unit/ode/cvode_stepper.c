/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/ode/cvode_stepper.h"

#include "lib/base/error.h"

#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

typedef struct cvode_state {
    dd_ode_problem problem;
    SUNContext context;
    void *cvode;
    N_Vector y, slope;
    SUNMatrix matrix;
    SUNLinearSolver solver;
    double *row_major, *dfdt;
    int fresh;          /* no history: the next step starts at the state handed in */
    long failed_before; /* of the histories before the last restart */
} cvode_state;

static int right_side(realtype t, N_Vector y, N_Vector dydt, void *user)
{
    const cvode_state *self = user;
    return self->problem.derivative(t, N_VGetArrayPointer(y), N_VGetArrayPointer(dydt), self->problem.context) != 0;
}

static int jacobian(realtype t, N_Vector y, N_Vector dydt, SUNMatrix matrix, void *user, N_Vector a, N_Vector b, N_Vector c)
{
    cvode_state *self = user;
    const size_t size = self->problem.size;
    (void)dydt, (void)a, (void)b, (void)c;
    if (self->problem.jacobian(t, N_VGetArrayPointer(y), self->row_major, self->dfdt, self->problem.context) != 0) return 1;
    for (size_t j = 0; j < size; j++) {
        realtype *column = SUNDenseMatrix_Column(matrix, (sunindextype)j);
        for (size_t i = 0; i < size; i++) column[i] = self->row_major[i * size + j];
    }
    return 0;
}

static int inverse_weights(N_Vector y, N_Vector weights, void *user)
{
    const cvode_state *self = user;
    const double *values = N_VGetArrayPointer(y);
    double *inverse = N_VGetArrayPointer(weights);
    for (size_t i = 0; i < self->problem.size; i++) inverse[i] = 1.0 / dd_ode_error_weight(&self->problem, i, values[i]);
    return 0;
}

static void keep_quiet(int code, const char *module, const char *function, char *message, void *user)
{
    (void)code, (void)module, (void)function, (void)message, (void)user;
}

static void cvode_free(void *state)
{
    cvode_state *self = state;
    if (self == NULL) return;
    if (self->cvode != NULL) CVodeFree(&self->cvode);
    if (self->solver != NULL) SUNLinSolFree(self->solver);
    if (self->matrix != NULL) SUNMatDestroy(self->matrix);
    if (self->y != NULL) N_VDestroy(self->y);
    if (self->slope != NULL) N_VDestroy(self->slope);
    if (self->context != NULL) SUNContext_Free(&self->context);
    free(self->row_major);
    free(self->dfdt);
    free(self);
}

static int set_up(cvode_state *self)
{
    const sunindextype size = (sunindextype)self->problem.size;
    if (SUNContext_Create(NULL, &self->context) != 0) return 1;
    self->y = N_VNew_Serial(size, self->context);
    self->slope = N_VNew_Serial(size, self->context);
    self->matrix = SUNDenseMatrix(size, size, self->context);
    if (self->y == NULL || self->slope == NULL || self->matrix == NULL) return 1;
    N_VConst(0.0, self->y);
    self->solver = SUNLinSol_Dense(self->y, self->matrix, self->context);
    self->cvode = CVodeCreate(CV_BDF, self->context);
    self->row_major = calloc(self->problem.size * self->problem.size, sizeof *self->row_major);
    self->dfdt = calloc(self->problem.size, sizeof *self->dfdt);
    if (self->solver == NULL || self->cvode == NULL || self->row_major == NULL || self->dfdt == NULL) return 1;
    CVodeSetErrHandlerFn(self->cvode, keep_quiet, NULL);
    return CVodeInit(self->cvode, right_side, 0.0, self->y) != CV_SUCCESS ||
           CVodeWFtolerances(self->cvode, inverse_weights) != CV_SUCCESS || CVodeSetUserData(self->cvode, self) != CV_SUCCESS ||
           CVodeSetLinearSolver(self->cvode, self->solver, self->matrix) != CV_SUCCESS ||
           CVodeSetJacFn(self->cvode, jacobian) != CV_SUCCESS ||
           CVodeSetMaxStep(self->cvode, self->problem.largest_step) != CV_SUCCESS; /* 0 is none there too */
}

static dd_status cvode_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    cvode_state *self = calloc(1, sizeof *self);
    *state = NULL;
    if (self != NULL) self->problem = *problem;
    if (self == NULL || set_up(self) != 0) {
        cvode_free(self);
        return dd_fail(error, DD_ERROR_LIBRARY, "dd_stepper_cvode", "CVODE could not be set up");
    }
    self->fresh = 1;
    *state = self;
    return DD_OK;
}

static long cvode_failed_steps(const void *state)
{
    const cvode_state *self = state;
    long error_failures = 0, solver_failures = 0;
    CVodeGetNumErrTestFails(self->cvode, &error_failures);
    CVodeGetNumStepSolveFails(self->cvode, &solver_failures);
    return self->failed_before + error_failures + solver_failures;
}

static void cvode_restart(void *state)
{
    cvode_state *self = state;
    self->fresh = 1;
}

static dd_status cvode_step(void *state, double *t, double t_end, double *h, double *y, double *dydt, dd_error *error)
{
    cvode_state *self = state;
    const size_t bytes = self->problem.size * sizeof *y;
    realtype reached = *t;
    int code = CV_SUCCESS;
    if (self->fresh) {
        self->failed_before = cvode_failed_steps(self);
        memcpy(N_VGetArrayPointer(self->y), y, bytes);
        code = CVodeReInit(self->cvode, *t, self->y);
        CVodeSetInitStep(self->cvode, fmin(*h, t_end - *t));
    }
    if (code == CV_SUCCESS) code = CVodeSetStopTime(self->cvode, fmin(t_end, 1e300));
    if (code == CV_SUCCESS) code = CVode(self->cvode, t_end, self->y, &reached, CV_ONE_STEP);
    if (code == CV_MEM_NULL || code == CV_ILL_INPUT)
        return dd_fail(error, DD_ERROR_LIBRARY, "dd_stepper_cvode", "CVODE returned %d at t = %.9g s", code, *t);
    if (code < 0) return dd_fail(error, DD_ERROR_STEP, "dd_stepper_cvode", "CVODE returned %d at t = %.9g s", code, *t);
    self->fresh = 0;
    *t = reached;
    memcpy(y, N_VGetArrayPointer(self->y), bytes);
    CVodeGetCurrentStep(self->cvode, h);
    /* The method's own rate, as ours gives it: a derivative the less. */
    if (CVodeGetDky(self->cvode, *t, 1, self->slope) != CV_SUCCESS)
        return dd_fail(error, DD_ERROR_LIBRARY, "dd_stepper_cvode", "no rate at t = %.9g s", *t);
    memcpy(dydt, N_VGetArrayPointer(self->slope), bytes);
    return DD_OK;
}

const dd_stepper dd_stepper_cvode = {
    .name = "cvode",
    .help = "implicit multistep method of variable order 1-5 (SUNDIALS CVODE), tests only",
    .needs_jacobian = 1,
    .order = 1,
    .create = cvode_create,
    .step = cvode_step,
    .restart = cvode_restart,
    .failed_steps = cvode_failed_steps,
    .free = cvode_free,
};
