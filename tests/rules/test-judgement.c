/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people decide about rules: other limits, other weights, answers. */
#include "rule-fixture.h"

#include "rules/rule-limits.h"

#include <string.h>

/* Adds a part of a kind to a list of the build with texts and choices by name. */
static void
add (Fixture *self, const char *slot, GType type, ...)
{
  g_autoptr (NappePart) part = g_object_new (type, NULL);
  g_autoptr (GError) error = NULL;
  const char *field;
  va_list arguments;

  nappe_build_insert (self->build, NAPPE_PART (self->build), slot, G_MAXUINT, part, &error);
  g_assert_no_error (error);
  va_start (arguments, type);
  while ((field = va_arg (arguments, const char *)) != NULL)
    {
      nappe_build_set_text (self->build, part, field, va_arg (arguments, const char *), &error);
      g_assert_no_error (error);
    }
  va_end (arguments);
}

static NappeFinding *
find (GPtrArray *list, const char *rule)
{
  for (guint i = 0; i < list->len; i++)
    if (g_str_equal (nappe_finding_get_rule (list->pdata[i]), rule))
      return list->pdata[i];
  return NULL;
}

/* A film that is well for all is too thin for a planner who wants more, and the finding says so. */
static void
test_changed_limit (void)
{
  g_autoptr (Fixture) self = fixture_new ();

  fixture_run (self);
  fixture_expect_fine (self, "weir-film");
  g_assert_cmpstr (nappe_finding_get_changed (find (self->verdict->fine, "weir-film")), ==, "");
  fixture_set (self, "limits", "film_thin", 0.009);
  fixture_run (self);
  NappeFinding *finding = find (self->verdict->findings, "weir-film");
  g_assert_nonnull (finding);
  g_assert_cmpfloat (nappe_finding_get_limit (finding), ==, 0.009);
  g_autofree char *changed = fixture_plain (nappe_finding_get_changed (finding));
  g_assert_nonnull (strstr (changed, "9 mm, usually 3 mm"));
  /* Another rule did not look at it. */
  g_assert_cmpstr (nappe_finding_get_changed (find (self->verdict->fine, "turnover")), ==, "");
}

/* Every limit that can be set is read by the rules from the build, in its own quantity. */
static void
test_limit_fields (void)
{
  g_autoptr (Fixture) self = fixture_new ();
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self->build->limits);
  gsize matched = 0;

  for (guint i = 0; i < NAPPE_LIMIT_N; i++)
    {
      const NappeField *field = nappe_limit_field (i);
      if (field == NULL)
        continue;
      matched++;
      g_assert_cmpint (field->quantity, ==, nappe_limit (i)->quantity);
      g_assert_true (field->optional);
      g_assert_cmpfloat (nappe_limit (i)->value, >=, field->minimum);
      g_assert_cmpfloat (nappe_limit (i)->value, <=, field->maximum);
      g_assert_cmpfloat (nappe_limit_in_build (i, self->build), ==, nappe_limit (i)->value);
      fixture_set (self, "limits", field->name, field->maximum);
      g_assert_cmpfloat_with_epsilon (nappe_limit_in_build (i, self->build), field->maximum, 1e-9);
    }
  g_assert_cmpuint (matched, ==, klass->n_fields);
}

static void
spoil_film (Fixture *self)
{
  self->weir->film = self->weir->film_low = self->weir->film_high = 0.001;
}

static void
test_weighing (void)
{
  g_autoptr (Fixture) self = fixture_new ();

  spoil_film (self);
  fixture_run (self);
  NappeSeverity usual = nappe_finding_get_severity (find (self->verdict->findings, "weir-film"));
  g_assert_cmpint (usual, ==, NAPPE_SEVERITY_ADVICE);
  add (self, "weighings", NAPPE_TYPE_WEIGHING, "rule", "weir-film", "weight", "problem", NULL);
  fixture_run (self);
  NappeFinding *finding = fixture_expect (self, "weir-film", NULL, NAPPE_SEVERITY_PROBLEM);
  g_assert_nonnull (strstr (nappe_finding_get_changed (finding), "Advice"));
  g_assert_cmpuint (self->verdict->n_problem, ==, 1);
}

static void
flood (Fixture *self)
{
  self->study->cut_check_failed.state.spilled = 2 * LITRE;
}

/* Nobody can weigh a danger down, nor answer it away. */
static void
test_danger_stays (void)
{
  g_autoptr (Fixture) self = fixture_new ();

  flood (self);
  fixture_run (self);
  g_autofree char *part = g_strdup (nappe_finding_get_part (find (self->verdict->findings, "power-cut-fits")));
  add (self, "weighings", NAPPE_TYPE_WEIGHING, "rule", "power-cut-fits", "weight", "advice", NULL);
  add (self, "answers", NAPPE_TYPE_ANSWER, "rule", "power-cut-fits", "part", part, "weight", "danger", "reason",
       "There is a drain in the floor", NULL);
  fixture_run (self);
  NappeFinding *finding = fixture_expect (self, "power-cut-fits", part, NAPPE_SEVERITY_DANGER);
  g_assert_nonnull (strstr (nappe_finding_get_answer (finding), "There is a drain in the floor"));
  g_assert_cmpuint (self->verdict->n_danger, >=, 1);
  g_assert_null (find (self->verdict->answered, "power-cut-fits"));
}

static void
test_answer (void)
{
  g_autoptr (Fixture) self = fixture_new ();

  spoil_film (self);
  add (self, "answers", NAPPE_TYPE_ANSWER, "rule", "weir-film", "part", "box", "weight", "advice", "reason",
       "The glass is new", "answerer", "reviewer", "author", "Ada", "date", "2026-02-03", NULL);
  fixture_run (self);
  g_assert_null (find (self->verdict->findings, "weir-film"));
  NappeFinding *finding = find (self->verdict->answered, "weir-film");
  g_assert_nonnull (finding);
  g_assert_cmpstr (nappe_finding_get_answer (finding), ==,
                   "Answered by the reviewer Ada, 2026-02-03: “The glass is new”");
  g_assert_cmpuint (self->verdict->n_advice, ==, 0);
}

/* An answer to a piece of advice does not answer a problem, and one about another part answers nothing. */
static void
test_answer_outgrown (void)
{
  g_autoptr (Fixture) self = fixture_new ();

  spoil_film (self);
  add (self, "answers", NAPPE_TYPE_ANSWER, "rule", "weir-film", "part", "tank", "weight", "danger", "reason", "No", NULL);
  fixture_run (self);
  g_assert_cmpstr (nappe_finding_get_answer (find (self->verdict->findings, "weir-film")), ==, "");
  add (self, "answers", NAPPE_TYPE_ANSWER, "rule", "weir-film", "part", "box", "weight", "advice", "reason", "So so",
       NULL);
  add (self, "weighings", NAPPE_TYPE_WEIGHING, "rule", "weir-film", "weight", "problem", NULL);
  fixture_run (self);
  NappeFinding *finding = fixture_expect (self, "weir-film", "box", NAPPE_SEVERITY_PROBLEM);
  g_assert_nonnull (strstr (nappe_finding_get_answer (finding), "worse"));
}

/* With its part the answer is gone: it does not answer for the whole build instead. */
static void
test_answer_of_lost_part (void)
{
  g_autoptr (Fixture) self = fixture_new ();

  add (self, "answers", NAPPE_TYPE_ANSWER, "rule", "skimmer-depth", "part", "skimmer", "weight", "danger", "reason", "So",
       NULL);
  fixture_remove (self, "skimmer");
  g_assert_cmpstr (NAPPE_ANSWER (self->build->answers->pdata[0])->part, ==, "skimmer");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/judgement/changed-limit", test_changed_limit);
  g_test_add_func ("/rules/judgement/limit-fields", test_limit_fields);
  g_test_add_func ("/rules/judgement/weighing", test_weighing);
  g_test_add_func ("/rules/judgement/danger-stays", test_danger_stays);
  g_test_add_func ("/rules/judgement/answer", test_answer);
  g_test_add_func ("/rules/judgement/answer-outgrown", test_answer_outgrown);
  g_test_add_func ("/rules/judgement/answer-of-lost-part", test_answer_of_lost_part);
  return g_test_run ();
}
