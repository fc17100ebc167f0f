/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Linear algebra for Newton's method in time: few unknowns, each coupled to few others.
 *
 * The matrix is SUNDIALS' dense one with copying, scaling and adding done in one pass over its memory. The elimination
 * leaves out what is zero, and does not pivot: each row of I - gamma J has a diagonal that grows with what flows out, or with
 * the friction of its line, and the couplings beside it have the signs of an exchange. Should a pivot vanish all
 * the same, it says so and CVODE takes a shorter step. */
#include "study/simulation-private.h"

#include <math.h>
#include <string.h>
#include <sunmatrix/sunmatrix_dense.h>

static SUNMatrix clone_matrix (SUNMatrix matrix);

static int
zero_matrix (SUNMatrix matrix)
{
  memset (SM_DATA_D (matrix), 0, (gsize) SM_LDATA_D (matrix) * sizeof (realtype));
  return 0;
}

static int
copy_matrix (SUNMatrix from, SUNMatrix to)
{
  memcpy (SM_DATA_D (to), SM_DATA_D (from), (gsize) SM_LDATA_D (from) * sizeof (realtype));
  return 0;
}

/* c A + I. */
static int
scale_and_add (realtype factor, SUNMatrix matrix)
{
  realtype *data = SM_DATA_D (matrix);
  sunindextype n = SM_ROWS_D (matrix);

  for (sunindextype i = 0; i < n * n; i++)
    data[i] *= factor;
  for (sunindextype i = 0; i < n; i++)
    data[i * (n + 1)] += 1;
  return 0;
}

static void
set_operations (SUNMatrix matrix)
{
  matrix->ops->zero = zero_matrix;
  matrix->ops->copy = copy_matrix;
  matrix->ops->scaleaddi = scale_and_add;
  matrix->ops->clone = clone_matrix;
}

static SUNMatrix
clone_matrix (SUNMatrix matrix)
{
  return nappe_time_matrix_new (SM_ROWS_D (matrix), matrix->sunctx);
}

SUNMatrix
nappe_time_matrix_new (sunindextype n, SUNContext context)
{
  SUNMatrix matrix = SUNDenseMatrix (n, n, context);

  set_operations (matrix);
  return matrix;
}

/* Content of the solver: rows of each column below the diagonal that are not zero, as the elimination has found them. */
typedef struct
{
  sunindextype *rows;  /* by column, n of room each */
  sunindextype *count; /* by column */
} Elimination;

static SUNLinearSolver_Type
solver_type (SUNLinearSolver solver)
{
  return SUNLINEARSOLVER_DIRECT;
}

/* Leaves factors and the upper triangle in the matrix. */
static int
eliminate (SUNLinearSolver solver, SUNMatrix matrix)
{
  Elimination *self = solver->content;
  sunindextype n = SM_ROWS_D (matrix);
  realtype **column = SM_COLS_D (matrix);

  for (sunindextype k = 0; k < n; k++)
    {
      realtype *pivots = column[k], inverse = 1 / pivots[k];
      sunindextype *rows = self->rows + k * n, count = 0;

      if (!isfinite (inverse))
        return (int) k + 1;
      for (sunindextype i = k + 1; i < n; i++)
        if (pivots[i] != 0)
          {
            pivots[i] *= inverse;
            rows[count++] = i;
          }
      self->count[k] = count;
      for (sunindextype j = k + 1; j < n && count > 0; j++)
        {
          realtype *target = column[j], entry = target[k];

          for (sunindextype f = 0; f < count && entry != 0; f++)
            target[rows[f]] -= pivots[rows[f]] * entry;
        }
    }
  return 0;
}

static int
substitute (SUNLinearSolver solver, SUNMatrix matrix, N_Vector answer, N_Vector right, realtype tolerance)
{
  const Elimination *self = solver->content;
  sunindextype n = SM_ROWS_D (matrix);
  realtype **column = SM_COLS_D (matrix);
  realtype *x = N_VGetArrayPointer (answer);

  memcpy (x, N_VGetArrayPointer (right), (gsize) n * sizeof *x);
  for (sunindextype k = 0; k < n; k++)
    for (sunindextype f = 0; f < self->count[k]; f++)
      x[self->rows[k * n + f]] -= column[k][self->rows[k * n + f]] * x[k];
  for (sunindextype k = n; k-- > 0;)
    {
      x[k] /= column[k][k];
      for (sunindextype i = 0; i < k && x[k] != 0; i++)
        x[i] -= column[k][i] * x[k];
    }
  return 0;
}

static int
free_solver (SUNLinearSolver solver)
{
  Elimination *self = solver->content;

  g_free (self->rows);
  g_free (self->count);
  g_free (self);
  solver->content = NULL;
  SUNLinSolFreeEmpty (solver);
  return 0;
}

SUNLinearSolver
nappe_time_solver_new (sunindextype n, SUNContext context)
{
  SUNLinearSolver solver = SUNLinSolNewEmpty (context);
  Elimination *self = g_new0 (Elimination, 1);

  self->rows = g_new0 (sunindextype, (gsize) (n * n));
  self->count = g_new0 (sunindextype, (gsize) n);
  solver->content = self;
  solver->ops->gettype = solver_type;
  solver->ops->setup = eliminate;
  solver->ops->solve = substitute;
  solver->ops->free = free_solver;
  return solver;
}
