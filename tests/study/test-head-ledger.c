/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the head of a line goes: every piece has its line, and the whole is what the levels differ by. */
#include "study-fixture.h"

#include "../line-build.h"
#include "physics/gravity.h"
#include "study/head-ledger.h"

#include <math.h>

/* What a section's ends differ by: a pipe that ends in air ends at its own height. */
static double
head_between (const NappeNetwork *network, const NappeState *state, guint index)
{
  const NappeLink *link = &network->links[index];

  return state->level[link->from] - fmax (state->level[link->to], link->sill);
}

/* Checks the ledger of a line section by section; returns how many sections it has. */
static guint
check_ledger (const NappeStudy *study, const NappeState *state, const char *line, guint *kinds)
{
  g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (study, state, line);
  guint sections = 0;
  double sum = 0;

  for (guint i = 0; i < ledger->n; i++)
    {
      const NappeHeadLine *each = &ledger->lines[i];
      gboolean first = i == 0 || ledger->lines[i - 1].link != each->link;
      gboolean last = i + 1 == ledger->n || ledger->lines[i + 1].link != each->link;

      *kinds |= 1u << each->kind;
      sum = first ? each->head : sum + each->head;
      g_assert_cmpfloat_with_epsilon (each->passed, sum, 1e-15);
      g_assert_cmpfloat (each->flow, ==, state->flow[each->link]);
      g_assert_true (isfinite (each->k) && isfinite (each->head) && isfinite (each->reynolds));
      g_assert_cmpfloat (each->head * each->flow, >=, 0);
      g_assert_cmpfloat_with_epsilon (each->velocity * G_PI_4 * each->bore * each->bore, each->flow, 1e-15);
      g_assert_cmpfloat_with_epsilon (each->k * each->velocity * each->velocity / (2 * NAPPE_GRAVITY), fabs (each->head), 1e-12);
      g_assert_true (each->kind == NAPPE_LOSS_PIPE ? each->friction > 0 || each->flow == 0 : each->friction == 0);
      if (!last)
        continue;
      sections++;
      g_assert_cmpfloat (fabs (sum - head_between (study->network, state, each->link)), <, 1e-9);
    }
  return sections;
}

static void
test_demos (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      const NappeStudy *study = fixture.study;
      guint kinds = 0;

      for (guint i = 0; i < study->n_drains; i++)
        {
          g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (study, &study->running, study->drains[i].id);

          g_assert_true (ledger->full == (study->drains[i].state == NAPPE_DRAIN_FULL));
          g_assert_true (ledger->full == (ledger->n > 0));
          check_ledger (study, &study->running, study->drains[i].id, &kinds);
        }
      for (guint i = 0; i < study->n_pumps; i++)
        g_assert_cmpuint (check_ledger (study, &study->running, study->pumps[i].line, &kinds), >=, 1);
      g_assert_true (kinds & 1u << NAPPE_LOSS_PIPE && kinds & 1u << NAPPE_LOSS_EXIT);
      study_fixture_clear (&fixture);
    }
}

static NappeStudy *
study_of (NappeBuild *build)
{
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, NULL);
  NappeStudy *study = nappe_study_build (build, catalogue);

  g_object_unref (build);
  g_assert_cmpuint (study->network->n_problems, ==, 0);
  return study;
}

/* Every kind of loss, in a siphon with a branch and two joined lines. */
static void
test_lines (void)
{
  g_autoptr (NappeStudy) study = study_of (line_build (NULL));
  const NappeNetwork *network = study->network;
  guint kinds = 0;

  g_assert_cmpint (study->running.rest, ==, NAPPE_REST_FOUND);
  g_assert_true (study->running.primed[nappe_network_find_link (network, NAPPE_LINK_DRAIN, "siphon")]);
  g_assert_cmpuint (check_ledger (study, &study->running, "first", &kinds), ==, 2);
  g_assert_cmpuint (check_ledger (study, &study->running, "second", &kinds), ==, 1);
  g_assert_cmpuint (check_ledger (study, &study->running, "siphon", &kinds), ==, 3);
  g_assert_cmpuint (kinds, ==, (1u << (NAPPE_LOSS_EXIT + 1)) - 1);
}

/* Order of the lines in the file changes nothing. */
static void
test_joined_lines_either_way (void)
{
  g_autoptr (NappeStudy) one = study_of (line_build (NULL));
  g_autoptr (NappeStudy) other = study_of (line_build ("RETURNS", LINE_BUILD_TURNED, NULL));
  const char *const parts[] = { "first-end", "second-end", "first-pump", "second-pump", "siphon" };
  double first = nappe_study_flow (one, &one->running, "first-pump"),
         second = nappe_study_flow (one, &one->running, "second-pump");

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    g_assert_cmpfloat_with_epsilon (nappe_study_flow (one, &one->running, parts[i]),
                                    nappe_study_flow (other, &other->running, parts[i]), 1e-9);
  g_assert_cmpfloat (first, >, 0);
  g_assert_cmpfloat (second, >, 0);
  g_assert_cmpfloat_with_epsilon (nappe_study_flow (one, &one->running, "first-end"), first + second, 1e-10);
  /* Both lift less together than the first alone against the same line. */
  g_autoptr (NappeStudy) alone = study_of (line_build ("RETURNS", LINE_BUILD_FIRST, NULL));
  g_assert_cmpfloat (nappe_study_flow (alone, &alone->running, "first-pump"), >, first);
  g_assert_cmpfloat (nappe_study_flow (alone, &alone->running, "first-pump"), <, first + second);
}

static void
test_lines_without_ledger (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  g_autoptr (NappeHeadLedger) channel = nappe_head_ledger_new (study, &study->running, "channel");
  g_autoptr (NappeHeadLedger) nothing = nappe_head_ledger_new (study, &study->running, "no-such-line");
  g_autoptr (NappeHeadLedger) empty = nappe_head_ledger_new (study, &study->running, "");
  g_autoptr (NappeHeadLedger) stopped = nappe_head_ledger_new (study, &study->cut_check_failed.state, "siphon");

  g_assert_false (channel->full || nothing->full || empty->full || stopped->full);
  g_assert_cmpuint (channel->n + nothing->n + empty->n + stopped->n, ==, 0);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/study/head-ledger/demos", test_demos);
  g_test_add_func ("/study/head-ledger/lines", test_lines);
  g_test_add_func ("/study/head-ledger/joined-lines-either-way", test_joined_lines_either_way);
  g_test_add_func ("/study/head-ledger/lines-without-ledger", test_lines_without_ledger);
  return g_test_run ();
}
