/* SPDX-License-Identifier: GPL-3.0-or-later */
/* KINSOL made ready for one count of unknowns: Newton's iteration with line search on a dense Jacobian.
 *
 * The linear systems are solved by elimination without exchange of rows, which skips zeros: a network of vessels is
 * nearly a tree. That is stable for the Jacobians of balance.c: each column's entry on the diagonal outweighs the others
 * of the column (what leaves one vessel arrives in another, and pseudo-time adds to the diagonal), except in
 * the last row, where elimination ends (Higham, Accuracy and Stability of Numerical Algorithms, 9.5). */
#pragma once

#include <glib.h>
#include <kinsol/kinsol.h>
#include <sundials/sundials_context.h>

G_BEGIN_DECLS

typedef struct _NappeNewton NappeNewton;

/* For n >= 1 unknowns; function and jacobian as in KINSOL, called with data. Transfer full. NULL: KINSOL lacks memory. */
NappeNewton *nappe_newton_new (SUNContext context, guint n, KINSysFn function, KINLsJacFn jacobian, gpointer data);
void nappe_newton_free (NappeNewton *self);

/* The unknowns, n of them: start and answer. */
double *nappe_newton_unknown (NappeNewton *self);
N_Vector nappe_newton_vector (NappeNewton *self);
/* Solves from the unknowns on until no value of the function is more than the tolerance [m3/s]. FALSE: it gave up, and the
 * unknowns are of no use. Adds to iterations. Does not allocate. */
gboolean nappe_newton_solve (NappeNewton *self, double tolerance, guint *iterations);

G_END_DECLS
