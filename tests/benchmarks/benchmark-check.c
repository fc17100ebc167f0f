/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a full check of the largest demo takes, and its parts. */
#include "demo.h"
#include "stopwatch.h"

#include "study/balance.h"
#include "study/spread.h"
#include "study/state.h"

static void
check (gpointer data)
{
  Demo *demo = data;
  g_autoptr (NappeStudy) study = nappe_study_build (demo->build, demo->catalogue);
  g_autoptr (NappeVerdict) verdict = nappe_rules_run (demo->build, study, NAPPE_UNITS_METRIC);

  g_assert_nonnull (verdict);
}

static void
compile (gpointer data)
{
  Demo *demo = data;
  g_autoptr (NappeLayout) layout = nappe_layout_new (demo->build, demo->catalogue);
  g_autoptr (NappeNetwork) network = nappe_network_compile (demo->build, layout, demo->catalogue);

  g_assert_true (network->runnable);
}

static void
study (gpointer data)
{
  Demo *demo = data;
  g_autoptr (NappeStudy) made = nappe_study_new (nappe_network_copy (demo->study->network), NULL);

  g_assert_nonnull (made);
}

static void
run_rules (gpointer data)
{
  Demo *demo = data;
  g_autoptr (NappeVerdict) verdict = nappe_rules_run (demo->build, demo->study, NAPPE_UNITS_METRIC);

  g_assert_nonnull (verdict);
}

typedef struct
{
  NappeNetwork *network;
  NappeBalance *balance;
  NappeState state;
  guint pump;   /* link */
  double speed; /* of the build's pump, share */
  guint runs;
} Steady;

static void
steady_init (Steady *self, const NappeNetwork *network)
{
  *self = (Steady){ .network = nappe_network_copy (network), .balance = nappe_balance_new (network->n_nodes, network->n_links) };
  nappe_state_init (&self->state, network);
  while (network->links[self->pump].kind != NAPPE_LINK_PUMP)
    self->pump++;
  self->speed = network->links[self->pump].speed;
}

static void
steady_clear (Steady *self)
{
  nappe_state_clear (&self->state);
  nappe_balance_free (self->balance);
  nappe_network_free (self->network);
}

static void
steady_cold (gpointer data)
{
  Steady *self = data;

  nappe_study_run (&self->state, self->balance, self->network);
}

/* From the state at another speed of the pump, 2 % away: to and fro. */
static void
steady_warm (gpointer data)
{
  Steady *self = data;

  self->network->links[self->pump].speed = self->speed * (self->runs++ % 2 == 0 ? 0.98 : 1);
  nappe_study_run_warm (&self->state, self->balance, self->network);
}

static void
spread (gpointer data)
{
  const Demo *demo = data;
  g_autoptr (NappeSpread) made = nappe_spread_new (demo->study, 10000, 0, 2, NULL);

  g_assert_nonnull (made);
}

int
main (void)
{
  Demo demo;
  Steady steady;

  demo_load (&demo);
  /* What the parts may take adds up to what the whole may. */
  stopwatch_run ("full check, every static case and rule", 300, 1e-3, check, &demo);
  stopwatch_run ("  layout and compile", 300, 0.5e-4, compile, &demo);
  stopwatch_run ("  study, all static cases and ledgers", 300, 5.5e-4, study, &demo);
  stopwatch_run ("  rules", 300, 4e-4, run_rules, &demo);
  steady_init (&steady, demo.study->network);
  stopwatch_run ("steady state from nothing", 1000, 2e-4, steady_cold, &steady);
  stopwatch_run ("steady state from a near one", 1000, 6e-5, steady_warm, &steady);
  steady_clear (&steady);
  stopwatch_run_wall ("10 000 departing copies on two threads", 5, 1.0, spread, &demo);
  demo_clear (&demo);
  return 0;
}
