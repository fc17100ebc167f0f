/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Builds out of a generator: the demos with many of their numbers changed at random, sensible and absurd. Whatever
 * the document accepts must get an answer or a reason: finite, conserved, never a hang. */
#include "study-fixture.h"

#include <math.h>

#define SENSIBLE_BUILDS 300
#define ABSURD_BUILDS 300
/* The same builds every time: what fails here can be looked at. */
#define SEED 1729

/* Changes one number in `one_in` of the part's, by a factor within 1/spread .. spread. */
typedef struct
{
  NappeBuild *build;
  GRand *random;
  double spread;
  int one_in;
} Shaker;

static void
shake_part (NappePart *part, gpointer data)
{
  const Shaker *shaker = data;
  NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];

      if (field->type != NAPPE_FIELD_NUMBER || g_rand_int_range (shaker->random, 0, shaker->one_in) != 0)
        continue;
      double value = nappe_part_number (part, field), power = g_rand_double_range (shaker->random, -1, 1);
      if (nappe_is_given (value))
        nappe_build_set_number (shaker->build, part, field->name,
                                CLAMP (value * pow (shaker->spread, power), field->minimum, field->maximum), NULL);
    }
}

static void
assert_finite (const NappeNetwork *network, const NappeState *state)
{
  for (guint i = 0; i < network->n_nodes; i++)
    g_assert_true (isfinite (state->level[i]) || network->nodes[i].kind == NAPPE_NODE_JUNCTION);
  for (guint i = 0; i < network->n_links; i++)
    g_assert_true (isfinite (state->flow[i]));
  g_assert_true (isfinite (state->vessels) && isfinite (state->pipes) && isfinite (state->spilled));
  g_assert_cmpfloat (state->spilled, >=, 0);
}

static void
assert_conserved (const NappeState *state, const NappeState *running)
{
  double before = study_total (running);

  g_assert_cmpfloat (fabs (study_total (state) - before), <=, 1e-8 * fmax (before, 0.1));
}

/* Counts the states that the solver gave up on: each is reported as such, and there must be few. */
static void
examine (const NappeStudy *study, guint *given_up, guint *states)
{
  const NappeNetwork *network = study->network;
  const NappePowerCut *cuts[] = { &study->cut_check_failed, &study->cut_check_holds, &study->cut_break_blocked };

  assert_finite (network, &study->running);
  *states += 1;
  *given_up += study->running.rest == NAPPE_REST_NOT_FOUND;
  if (!study->cut_check_failed.known)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (cuts); i++)
    {
      assert_finite (network, &cuts[i]->state);
      assert_conserved (&cuts[i]->state, &study->running);
    }
  for (guint i = 0; i < study->n_blockages; i++)
    {
      const NappeState *state = &study->blockages[i].state;

      assert_finite (network, state);
      *states += 1;
      *given_up += state->rest == NAPPE_REST_NOT_FOUND;
      if (state->rest == NAPPE_REST_FOUND && !study->blockages[i].floods)
        assert_conserved (state, &study->running);
    }
}

static void
shake_builds (guint count, double spread, int one_in, double most_given_up)
{
  guint given_up = 0, states = 0;
  GRand *random = g_rand_new_with_seed (SEED);
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);

  g_assert_no_error (error);

  for (guint i = 0; i < count; i++)
    {
      StudyFixture fixture;
      study_fixture_read (&fixture, catalogue, demo_names[i % G_N_ELEMENTS (demo_names)]);
      Shaker shaker = { fixture.build, random, spread, one_in };
      nappe_part_visit (NAPPE_PART (fixture.build), shake_part, &shaker);
      study_fixture_again (&fixture);
      examine (fixture.study, &given_up, &states);
      study_fixture_clear (&fixture);
    }
  g_rand_free (random);
  g_test_message ("%u of %u states without a solution", given_up, states);
  g_assert_cmpfloat (given_up, <=, most_given_up * states);
}

static void
test_sensible_builds (void)
{
  shake_builds (SENSIBLE_BUILDS, 1.15, 4, 0.0);
}

static void
test_absurd_builds (void)
{
  shake_builds (ABSURD_BUILDS, 30, 3, 0.02);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/robust/sensible-builds", test_sensible_builds);
  g_test_add_func ("/robust/absurd-builds", test_absurd_builds);
  return g_test_run ();
}
