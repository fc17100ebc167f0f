/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Solving again and again asks for no memory. */
#include "study-fixture.h"

#include "study/state.h"

#include <math.h>

#define SOLVES 100

#if defined(__SANITIZE_ADDRESS__) || !defined(__GLIBC__)
#define CAN_COUNT FALSE
static guint n_allocations;
#else
#define CAN_COUNT TRUE

/* glibc lets a program bring its own allocator, which all libraries then use; its own stands behind these names. */
void *__libc_malloc (size_t size);
void *__libc_calloc (size_t n, size_t size);
void *__libc_realloc (void *old, size_t size);
void *malloc (size_t size);
void *calloc (size_t n, size_t size);
void *realloc (void *old, size_t size);

static guint n_allocations;

void *
malloc (size_t size)
{
  g_atomic_int_inc (&n_allocations);
  return __libc_malloc (size);
}

void *
calloc (size_t n, size_t size)
{
  g_atomic_int_inc (&n_allocations);
  return __libc_calloc (n, size);
}

void *
realloc (void *old, size_t size)
{
  g_atomic_int_inc (&n_allocations);
  return __libc_realloc (old, size);
}
#endif

typedef void (*Run) (NappeState *state, NappeBalance *balance, const NappeNetwork *network);

/* Allocations of many runs after the first, at ever other speeds of the pump. */
static guint
count_allocations (const char *demo, Run run, gboolean total)
{
  StudyFixture fixture;
  NappeState state;
  guint pump = 0;

  study_fixture_load (&fixture, demo);
  g_autoptr (NappeNetwork) network = nappe_network_copy (fixture.study->network);
  g_autoptr (NappeBalance) balance = nappe_balance_new (network->n_nodes, network->n_links);
  if (total)
    {
      network->total_volume = fixture.study->running.vessels + fixture.study->running.pipes;
      network->kept_level = NAN;
    }
  nappe_state_init (&state, network);
  while (network->links[pump].kind != NAPPE_LINK_PUMP)
    pump++;
  double speed = network->links[pump].speed;
  run (&state, balance, network);
  guint before = n_allocations;
  for (guint i = 0; i < SOLVES; i++)
    {
      network->links[pump].speed = speed * (0.95 + 0.05 * ((i * 37) % SOLVES) / SOLVES);
      run (&state, balance, network);
      if (state.rest != NAPPE_REST_FOUND)
        break;
    }
  guint count = n_allocations - before;
  g_assert_cmpint (state.rest, ==, NAPPE_REST_FOUND);
  nappe_state_clear (&state);
  study_fixture_clear (&fixture);
  return count;
}

static void
test_runs_allocate_nothing (void)
{
  if (!CAN_COUNT)
    {
      g_test_skip ("allocations cannot be counted here");
      return;
    }
  /* That they are counted at all. */
  guint before = n_allocations;
  g_autofree char *text = g_strdup ("counted");
  g_assert_cmpuint (n_allocations, >, before);
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    for (guint total = 0; total < 2; total++)
      {
        g_assert_cmpuint (count_allocations (demo_names[d], nappe_study_run_warm, total == 1), ==, 0);
        g_assert_cmpuint (count_allocations (demo_names[d], nappe_study_run, total == 1), ==, 0);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/allocation/runs-allocate-nothing", test_runs_allocate_nothing);
  return g_test_run ();
}
