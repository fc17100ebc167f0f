/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The solver of steady states.
 *
 * Unknowns are the levels of the free vessels and the heads of the junctions [m]; a free node's balance
 * is the sum of its links' flows [m3/s]. Method: implicit Euler in pseudo-time,
 * C (x - x0) / T = balance (x), solved by KINSOL's Newton iteration with line search and a dense Jacobian
 * from the laws' own slopes; T grows from step to step until the balance itself vanishes, and shrinks when
 * KINSOL gives up. Since every law is monotone (network.h) each step has one solution.
 * Source: pseudo-transient continuation, Kelley and Keyes, SIAM J. Numer. Anal. 35 (1998);
 * Hindmarsh et al., SUNDIALS, ACM TOMS 31 (2005).
 * Stops when no free node is out of balance by more than NAPPE_BALANCE_TOLERANCE. */
#pragma once

#include "network/law.h"

G_BEGIN_DECLS

/* 0.04 mL/h: a thousandth of the last digit shown [m3/s]. */
#define NAPPE_BALANCE_TOLERANCE 1e-11

typedef struct _NappeBalance NappeBalance;

/* Workspace for networks of this many nodes and links, to be used by one thread at a time. */
NappeBalance *nappe_balance_new (guint n_nodes, guint n_links);
void nappe_balance_free (NappeBalance *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeBalance, nappe_balance_free)

/* Room for callers, so that solving again and again allocates nothing. Each holds what its user left there. */
typedef struct
{
  NappeLinkMode *mode; /* by link: of nappe_state_settle */
  guint8 *switched;    /* by link: of nappe_state_settle */
  gboolean *held;      /* by node: of nappe_study_run and nappe_study_run_warm */
  double *level;       /* by node, and the next two by link: of nappe_state_settle_total, where it started */
  double *flow;
  gboolean *primed;
} NappeBalanceScratch;
NappeBalanceScratch *nappe_balance_scratch (NappeBalance *self);

typedef struct
{
  const gboolean *held;  /* by node: its level stays as it is given (the floor always is) */
  guint total_node;      /* this node's balance is replaced by: vessels and pipes hold total_volume; G_MAXUINT: none */
  double total_volume;   /* of all but the floor [m3] */
  double pipes;          /* with total_node: what the pipes hold, or NaN: what the flows put there [m3] */
  gboolean rims_closed;  /* no water goes over a rim */
  gboolean drains_prime; /* for nappe_state_settle: a drowned drain without a vent may prime. FALSE: only siphons run full, every
                            other drain on its inlet's control, which is the safe side for floods */
} NappeBalanceCase;

typedef struct
{
  gboolean settled;
  double residual;   /* largest imbalance [m3/s] */
  guint worst_node;
  guint iterations;  /* of Newton */
} NappeBalanceOutcome;

/* level: by node, in: start, out: solution. mode: by link, in. flow: by link, out, or NULL. */
NappeBalanceOutcome nappe_balance_solve (NappeBalance *self, const NappeNetwork *network, const NappeBalanceCase *situation,
                                         NappeLinkMode *mode, double *level, double *flow);

G_END_DECLS
