/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/newton.h"

#include <kinsol/kinsol_ls.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_linearsolver.h>
#include <sunmatrix/sunmatrix_dense.h>

/* Newton iterations after which KINSOL gives up: from a good start it takes five. */
#define MOST_ITERATIONS 25
/* KINSOL sees the balance in litres a second. */
#define FUNCTION_SCALE 1e3
#define STEP_TOLERANCE 1e-14
/* Largest change of the unknowns in one iteration [m]. */
#define LONGEST_STEP 50.0

struct _NappeNewton
{
  guint n;
  void *kinsol;
  N_Vector unknown, scale_unknown, scale_function;
  SUNMatrix matrix;
  SUNLinearSolver solver;
};

/* Content of the linear solver. */
typedef struct
{
  sunindextype *filled; /* rows with an entry below the diagonal of the column in hand */
} Elimination;

static SUNLinearSolver_Type
elimination_type (SUNLinearSolver solver)
{
  return SUNLINEARSOLVER_DIRECT;
}

/* Leaves factors and the upper triangle in the matrix. */
static int
elimination_setup (SUNLinearSolver solver, SUNMatrix matrix)
{
  sunindextype *filled = ((Elimination *) solver->content)->filled;
  sunindextype n = SM_ROWS_D (matrix);
  realtype **column = SM_COLS_D (matrix);

  for (sunindextype k = 0; k < n; k++)
    {
      realtype *pivot_column = column[k], pivot = pivot_column[k];
      sunindextype n_filled = 0;

      if (!(fabs (pivot) > 0) || !isfinite (pivot))
        return (int) k + 1;
      for (sunindextype i = k + 1; i < n; i++)
        if (pivot_column[i] != 0)
          {
            pivot_column[i] /= pivot;
            filled[n_filled++] = i;
          }
      for (sunindextype j = k + 1; j < n && n_filled > 0; j++)
        {
          realtype *target = column[j], entry = target[k];

          for (sunindextype f = 0; f < n_filled && entry != 0; f++)
            target[filled[f]] -= pivot_column[filled[f]] * entry;
        }
    }
  return 0;
}

static int
elimination_solve (SUNLinearSolver solver, SUNMatrix matrix, N_Vector answer, N_Vector right, realtype tolerance)
{
  sunindextype n = SM_ROWS_D (matrix);
  realtype **column = SM_COLS_D (matrix);
  realtype *x = N_VGetArrayPointer (answer);
  const realtype *b = N_VGetArrayPointer (right);

  for (sunindextype i = 0; i < n; i++)
    x[i] = b[i];
  for (sunindextype k = 0; k < n; k++)
    for (sunindextype i = k + 1; i < n && x[k] != 0; i++)
      x[i] -= column[k][i] * x[k];
  for (sunindextype k = n - 1; k >= 0; k--)
    {
      x[k] /= column[k][k];
      for (sunindextype i = 0; i < k && x[k] != 0; i++)
        x[i] -= column[k][i] * x[k];
    }
  return 0;
}

static int
elimination_free (SUNLinearSolver solver)
{
  Elimination *self = solver->content;

  g_free (self->filled);
  g_free (self);
  solver->content = NULL;
  SUNLinSolFreeEmpty (solver);
  return 0;
}

static SUNLinearSolver
elimination_new (guint n, SUNContext context)
{
  SUNLinearSolver solver = SUNLinSolNewEmpty (context);
  Elimination *self = g_new0 (Elimination, 1);

  self->filled = g_new0 (sunindextype, n);
  solver->content = self;
  solver->ops->gettype = elimination_type;
  solver->ops->setup = elimination_setup;
  solver->ops->solve = elimination_solve;
  solver->ops->free = elimination_free;
  return solver;
}

static void
ignore_message (int code, const char *module, const char *function, char *message, void *data)
{
}

NappeNewton *
nappe_newton_new (SUNContext context, guint n, KINSysFn function, KINLsJacFn jacobian, gpointer data)
{
  NappeNewton *self = g_new0 (NappeNewton, 1);

  self->n = n;
  self->unknown = N_VNew_Serial (n, context);
  self->scale_unknown = N_VNew_Serial (n, context);
  self->scale_function = N_VNew_Serial (n, context);
  self->matrix = SUNDenseMatrix (n, n, context);
  self->solver = elimination_new (n, context);
  self->kinsol = KINCreate (context);
  N_VConst (1, self->scale_unknown);
  N_VConst (FUNCTION_SCALE, self->scale_function);
  if (KINInit (self->kinsol, function, self->unknown) == KIN_SUCCESS
      && KINSetErrHandlerFn (self->kinsol, ignore_message, NULL) == KIN_SUCCESS
      && KINSetUserData (self->kinsol, data) == KIN_SUCCESS
      && KINSetLinearSolver (self->kinsol, self->solver, self->matrix) == KIN_SUCCESS
      && KINSetJacFn (self->kinsol, jacobian) == KIN_SUCCESS
      && KINSetMaxSetupCalls (self->kinsol, 1) == KIN_SUCCESS
      && KINSetNumMaxIters (self->kinsol, MOST_ITERATIONS) == KIN_SUCCESS
      && KINSetScaledStepTol (self->kinsol, STEP_TOLERANCE) == KIN_SUCCESS
      && KINSetMaxNewtonStep (self->kinsol, LONGEST_STEP) == KIN_SUCCESS)
    return self;
  nappe_newton_free (self);
  return NULL;
}

void
nappe_newton_free (NappeNewton *self)
{
  if (self == NULL)
    return;
  if (self->kinsol != NULL)
    KINFree (&self->kinsol);
  N_VDestroy (self->unknown);
  N_VDestroy (self->scale_unknown);
  N_VDestroy (self->scale_function);
  SUNMatDestroy (self->matrix);
  SUNLinSolFree (self->solver);
  g_free (self);
}

double *
nappe_newton_unknown (NappeNewton *self)
{
  return N_VGetArrayPointer (self->unknown);
}

N_Vector
nappe_newton_vector (NappeNewton *self)
{
  return self->unknown;
}

gboolean
nappe_newton_solve (NappeNewton *self, double tolerance, guint *iterations)
{
  const double *value = N_VGetArrayPointer (self->unknown);
  long int taken = 0;

  KINSetFuncNormTol (self->kinsol, FUNCTION_SCALE * tolerance);
  gboolean good = KINSol (self->kinsol, self->unknown, KIN_LINESEARCH, self->scale_unknown, self->scale_function) >= 0;

  KINGetNumNonlinSolvIters (self->kinsol, &taken);
  *iterations += (guint) taken;
  for (guint i = 0; i < self->n; i++)
    good = good && isfinite (value[i]);
  return good;
}
