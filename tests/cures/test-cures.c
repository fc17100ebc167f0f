/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cures are small, clear what they say, raise nothing, and come back by undoing. */
#include "cures/cure.h"

#include "../demo-build.h"
#include "rules/finding-private.h"

#include <math.h>

typedef struct
{
  NappeBuild *build;
  NappeStudy *study;
  NappeVerdict *verdict;
} Judged;

static void
judge (Judged *self, gboolean in_time)
{
  g_autoptr (GPtrArray) courses = NULL;

  g_clear_pointer (&self->study, nappe_study_unref);
  g_clear_pointer (&self->verdict, nappe_verdict_free);
  self->study = nappe_study_build (self->build, demo_shared_catalogue ());
  if (in_time)
    courses = nappe_rules_play (self->build, self->study, 0, 2, NULL);
  self->verdict = nappe_rules_run_timed (self->build, self->study, courses, NAPPE_UNITS_METRIC);
}

static void
clear (Judged *self)
{
  g_clear_object (&self->build);
  g_clear_pointer (&self->study, nappe_study_unref);
  g_clear_pointer (&self->verdict, nappe_verdict_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Judged, clear)

static NappeFinding *
find (const Judged *self, const char *rule)
{
  for (guint i = 0; i < self->verdict->findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (self->verdict->findings->pdata[i]), rule))
      return self->verdict->findings->pdata[i];
  return NULL;
}

static GPtrArray *
cures_of (const Judged *self, NappeFinding *finding, gboolean in_time)
{
  g_autoptr (NappeCureSearch) search
      = nappe_cure_search_new (self->build, demo_shared_catalogue (), self->verdict, NAPPE_UNITS_METRIC, in_time, 0);
  return nappe_cure_search_run (search, finding, NULL);
}

static double
number_of (NappeBuild *build, const char *id, const char *field)
{
  NappePart *part = nappe_build_find (build, id);
  return nappe_part_number (part, nappe_part_find_field (part, field));
}

/* A lever of the test's own: the emergency inlet too low by a known amount must come up by that and no more. */
static void
test_smallest_move (void)
{
  g_auto (Judged) before = { demo_read ("three-drain") };
  g_autoptr (GError) error = NULL;
  double wrong = 0.424;

  nappe_build_set_number (before.build, nappe_build_find (before.build, "emergency"), "crest_height", wrong, &error);
  g_assert_no_error (error);
  judge (&before, FALSE);
  NappeFinding *finding = find (&before, "emergency-misplaced");
  g_assert_nonnull (finding);
  NappeLever *lever = nappe_lever_new_number ("emergency", "crest_height", 0.3, 0.6);
  nappe_lever_follow (lever, "emergency-pipe-1", "length", 1);
  nappe_finding_offer (finding, lever);
  g_autoptr (GPtrArray) cures = cures_of (&before, finding, FALSE);
  g_assert_cmpuint (cures->len, >=, 1);
  const NappeCure *cure = cures->pdata[cures->len - 1];
  double right = number_of (cure->build, "emergency", "crest_height");
  g_assert_cmpfloat_with_epsilon (right * 1000, round (right * 1000), 1e-6);
  g_assert_cmpfloat_with_epsilon (number_of (cure->build, "emergency-pipe-1", "length") - 0.455, right - wrong, 1e-9);
  g_assert_cmpuint (cure->verdict->findings->len, ==, 0);

  /* A millimetre less does not do. */
  nappe_build_set_number (before.build, nappe_build_find (before.build, "emergency"), "crest_height", right - 0.001,
                          &error);
  judge (&before, FALSE);
  g_assert_nonnull (find (&before, "emergency-misplaced"));
}

static void
test_undone_in_one_step (void)
{
  g_auto (Judged) before = { demo_read ("three-drain") };
  g_autoptr (GError) error = NULL;

  nappe_build_set_number (before.build, nappe_build_find (before.build, "emergency"), "crest_height", 0.424, &error);
  judge (&before, FALSE);
  NappeFinding *finding = find (&before, "emergency-misplaced");
  NappeLever *lever = nappe_lever_new_number ("emergency", "crest_height", 0.3, 0.6);
  nappe_lever_follow (lever, "emergency-pipe-1", "length", 1);
  nappe_finding_offer (finding, lever);
  g_autoptr (GPtrArray) cures = cures_of (&before, finding, FALSE);
  g_autoptr (NappeBuild) as_it_was = nappe_build_copy (before.build);
  g_assert_true (nappe_cure_apply (cures->pdata[0], before.build, &error));
  g_assert_no_error (error);
  g_assert_false (nappe_part_equal (NAPPE_PART (before.build), NAPPE_PART (as_it_was)));
  nappe_build_undo (before.build);
  g_assert_true (nappe_part_equal (NAPPE_PART (before.build), NAPPE_PART (as_it_was)));
}

/* Nothing is offered that only trades one finding for another. */
static void
test_raises_nothing (void)
{
  g_auto (Judged) before = { demo_read ("three-drain") };
  g_autoptr (GError) error = NULL;

  nappe_build_set_number (before.build, nappe_build_find (before.build, "emergency"), "crest_height", 0.424, &error);
  judge (&before, FALSE);
  NappeFinding *finding = find (&before, "emergency-misplaced");
  /* Above the rim the finding changes its words, and stays. */
  nappe_finding_offer (finding, nappe_lever_new_number ("emergency", "crest_height", 0.57, 0.6));
  /* Without flow the rule cannot look: that clears nothing. */
  nappe_finding_offer (finding, nappe_lever_new_number ("return-pump", "speed", 0, 0.05));
  g_autoptr (GPtrArray) cures = cures_of (&before, finding, FALSE);
  for (guint i = 0; i < cures->len; i++)
    {
      const NappeCure *cure = cures->pdata[i];
      g_assert_cmpfloat (number_of (cure->build, "emergency", "crest_height"), <, 0.55);
      g_assert_cmpfloat (number_of (cure->build, "return-pump", "speed"), >, 0.05);
    }
}

/* Applied one after another, always the first cure of the worst finding that has one, they end without a danger. */
static void
test_flood_to_dry (void)
{
  g_auto (Judged) build = { demo_read ("single-drain") };
  g_autoptr (GError) error = NULL;
  guint rounds = 0;

  judge (&build, TRUE);
  g_assert_cmpuint (build.verdict->n_danger, >, 0);
  while (build.verdict->n_danger > 0)
    {
      g_autoptr (GPtrArray) cures = cures_of (&build, build.verdict->findings->pdata[0], TRUE);
      guint dangers = build.verdict->n_danger;
      g_assert_cmpuint (cures->len, >, 0);
      g_assert_true (nappe_cure_apply (cures->pdata[0], build.build, &error));
      g_assert_no_error (error);
      judge (&build, TRUE);
      g_assert_cmpuint (build.verdict->n_danger, <, dangers);
      g_assert_cmpuint (++rounds, <, 10);
    }
}

/* What only eases a finding says so, and is offered only where nothing clears it. */
static void
test_easing (void)
{
  g_auto (Judged) build = { demo_read ("single-drain") };

  judge (&build, FALSE);
  NappeFinding *finding = find (&build, "single-drain");
  g_assert_nonnull (finding);
  g_autoptr (GPtrArray) cures = cures_of (&build, finding, FALSE);
  g_assert_cmpuint (cures->len, >, 0);
  for (guint i = 0; i < cures->len; i++)
    {
      const NappeCure *cure = cures->pdata[i];
      g_assert_true (cure->eases);
      g_assert_cmpuint (cure->verdict->n_danger, <, build.verdict->n_danger);
    }
}

/* With its pump all but stopped no rule about running water can look any more: that eases nothing. */
static void
test_silence_is_no_ease (void)
{
  g_auto (Judged) build = { demo_read ("single-drain") };

  judge (&build, FALSE);
  NappeFinding *finding = find (&build, "single-drain");
  const GPtrArray *levers = nappe_finding_get_levers (finding);
  g_ptr_array_set_size ((GPtrArray *)levers, 0);
  nappe_finding_offer (finding, nappe_lever_new_number ("return-pump", "speed", 0, 0.05));
  nappe_finding_offer (finding, nappe_lever_new_number ("return-chamber", "kept_level", 0, 0.03));
  g_autoptr (GPtrArray) cures = cures_of (&build, finding, FALSE);
  for (guint i = 0; i < cures->len; i++)
    {
      const NappeCure *cure = cures->pdata[i];
      g_assert_cmpint (cure->study->running.rest, !=, NAPPE_REST_NOT_RUNNABLE);
      g_assert_cmpfloat (cure->study->running.display_flow, >, 0);
    }
}

static void
test_cancelled (void)
{
  g_auto (Judged) before = { demo_read ("single-drain") };
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();

  judge (&before, FALSE);
  g_cancellable_cancel (cancellable);
  g_autoptr (NappeCureSearch) search
      = nappe_cure_search_new (before.build, demo_shared_catalogue (), before.verdict, NAPPE_UNITS_METRIC, FALSE, 0);
  g_autoptr (GPtrArray) cures = nappe_cure_search_run (search, before.verdict->findings->pdata[0], cancellable);
  g_assert_cmpuint (cures->len, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cures/smallest-move", test_smallest_move);
  g_test_add_func ("/cures/undone-in-one-step", test_undone_in_one_step);
  g_test_add_func ("/cures/raises-nothing", test_raises_nothing);
  g_test_add_func ("/cures/flood-to-dry", test_flood_to_dry);
  g_test_add_func ("/cures/easing", test_easing);
  g_test_add_func ("/cures/silence-is-no-ease", test_silence_is_no_ease);
  g_test_add_func ("/cures/cancelled", test_cancelled);
  return g_test_run ();
}
