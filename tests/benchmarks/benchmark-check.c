/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a full check of the largest demo takes, and its parts. */
#include "demo.h"
#include "stopwatch.h"

#include "study/balance.h"
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

static void
steady_cold (gpointer data)
{
  Demo *demo = data;
  const NappeNetwork *network = demo->study->network;
  g_autoptr (NappeBalance) balance = nappe_balance_new (network->n_nodes, network->n_links);
  NappeState state;

  nappe_state_init (&state, network);
  nappe_study_run (&state, balance, network);
  nappe_state_clear (&state);
}

int
main (void)
{
  Demo demo;

  demo_load (&demo);
  stopwatch_run ("full check, every static case and rule", 300, 1e-3, check, &demo);
  stopwatch_run ("  layout and compile", 300, 1e-4, compile, &demo);
  stopwatch_run ("  study", 300, 8e-4, study, &demo);
  stopwatch_run ("  rules", 300, 1e-4, run_rules, &demo);
  stopwatch_run ("steady state from nothing", 300, 2e-4, steady_cold, &demo);
  demo_clear (&demo);
  return 0;
}
