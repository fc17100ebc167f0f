/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers, limits and weights in the window, and the lists of what was checked. */
#include <string.h>

#include "rules/rule-limits.h"
#include "studio-fixture.h"
#include "studio/findings/answer-dialog.h"
#include "studio/findings/checks-list.h"
#include "studio/parts/field-row.h"
#include "studio/findings/finding-row.h"
#include "studio/findings/limits-window.h"
#include "studio/findings/rule-window.h"
#include "studio/findings/weight-row.h"

static gboolean
is_played (StudioFixture *self)
{
  return !nappe_document_is_busy (self->document) && nappe_document_get_outcome (self->document)->timed;
}

static const NappeVerdict *
verdict (StudioFixture *self)
{
  return nappe_document_get_outcome (self->document)->verdict;
}

static NappeFinding *
find_rule (const GPtrArray *findings, const char *rule)
{
  for (guint i = 0; i < findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (findings->pdata[i]), rule))
      return findings->pdata[i];
  return NULL;
}

static void
activate (StudioFixture *self, const char *action, GVariant *parameter)
{
  g_assert_true (gtk_widget_activate_action_variant (GTK_WIDGET (self->window), action, parameter));
}

static void
write_reason (GtkWidget *dialog, const char *text)
{
  GtkWidget *view = studio_fixture_find (dialog, GTK_TYPE_TEXT_VIEW, NULL);

  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), text, -1);
}

/* The list box with a row of a finding; NULL: none. */
static GtkWidget *
list_with (GtkWidget *root, NappeFinding *finding)
{
  if (NAPPE_IS_FINDING_ROW (root) && nappe_finding_row_get_finding (NAPPE_FINDING_ROW (root)) == finding)
    return gtk_widget_get_parent (root);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = list_with (child, finding);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
test_answer (StudioFixture *self, gconstpointer data)
{
  NappeBuild *build;
  GtkWidget *dialog;
  NappeFinding *finding;
  NappeAnswer *answer;
  GtkWidget *list, *answered;

  studio_fixture_load (self, "two-drain.nappe");
  studio_fixture_wait (self, is_played);
  build = nappe_document_get_build (self->document);
  finding = find_rule (verdict (self)->findings, "valve-coarse");
  list = list_with (GTK_WIDGET (self->window), finding);
  activate (self, "win.answer-finding", g_variant_new ("(ss)", "valve-coarse", nappe_finding_get_part (finding)));
  dialog = studio_fixture_find_window (NAPPE_TYPE_ANSWER_DIALOG);
  g_assert_nonnull (dialog);

  /* Nothing is answered without a reason. */
  write_reason (dialog, "  \n ");
  gtk_widget_activate_action (dialog, "answer.save", NULL);
  g_assert_cmpuint (build->answers->len, ==, 0);
  write_reason (dialog, "The gate valve is on order.");
  studio_fixture_picture_of (self, dialog, "light-answer");
  g_assert_true (gtk_widget_activate_action (dialog, "answer.save", NULL));
  g_assert_cmpuint (build->answers->len, ==, 1);
  answer = build->answers->pdata[0];
  g_assert_cmpstr (answer->reason, ==, "The gate valve is on order.");
  g_assert_cmpstr (answer->author, ==, build->author);
  g_assert_cmpint (answer->answerer, ==, NAPPE_ANSWERER_PLANNER);
  g_assert_cmpint (answer->weight, ==, NAPPE_WEIGHT_ADVICE);
  g_assert_true (g_regex_match_simple ("^20\\d\\d-\\d\\d-\\d\\d$", answer->date, 0, 0));
  g_assert_true (g_str_has_prefix (nappe_build_undo_label (build), "Answer “"));

  studio_fixture_wait (self, is_played);
  g_assert_null (studio_fixture_find_window (NAPPE_TYPE_ANSWER_DIALOG));
  g_assert_null (find_rule (verdict (self)->findings, "valve-coarse"));
  finding = find_rule (verdict (self)->answered, "valve-coarse");
  g_assert_nonnull (finding);
  answered = list_with (GTK_WIDGET (self->window), finding);
  g_assert_true (answered != NULL && answered != list && gtk_widget_get_mapped (answered));
  nappe_finding_row_set_open (NAPPE_FINDING_ROW (gtk_list_box_get_row_at_index (GTK_LIST_BOX (answered), 0)), TRUE);
  studio_fixture_picture (self, "light-answered");

  activate (self, "win.take-back-answer", g_variant_new ("(ss)", "valve-coarse", nappe_finding_get_part (finding)));
  g_assert_cmpuint (build->answers->len, ==, 0);
  studio_fixture_wait (self, is_played);
  g_assert_nonnull (find_rule (verdict (self)->findings, "valve-coarse"));
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpuint (build->answers->len, ==, 1);
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpuint (build->answers->len, ==, 0);
  studio_fixture_settle (self);
}

/* A danger stays, bears its answer, and a second answer takes the first one's place. */
static void
test_answer_to_danger (StudioFixture *self, gconstpointer data)
{
  const char *const reasons[] = { "First.", "Second." };
  NappeFinding *finding;
  NappeBuild *build;
  g_autofree char *rule = NULL, *part = NULL;

  studio_fixture_load (self, "single-drain.nappe");
  studio_fixture_wait (self, is_played);
  build = nappe_document_get_build (self->document);
  finding = verdict (self)->findings->pdata[0];
  g_assert_cmpint (nappe_finding_get_severity (finding), ==, NAPPE_SEVERITY_DANGER);
  rule = g_strdup (nappe_finding_get_rule (finding));
  part = g_strdup (nappe_finding_get_part (finding));
  for (gsize i = 0; i < G_N_ELEMENTS (reasons); i++)
    {
      GtkWidget *dialog;

      activate (self, "win.answer-finding", g_variant_new ("(ss)", rule, part));
      dialog = studio_fixture_find_window (NAPPE_TYPE_ANSWER_DIALOG);
      write_reason (dialog, reasons[i]);
      if (i == 0)
        studio_fixture_picture_of (self, dialog, "light-answer-danger");
      g_assert_true (gtk_widget_activate_action (dialog, "answer.save", NULL));
      studio_fixture_wait (self, is_played);
      g_assert_cmpuint (build->answers->len, ==, 1);
      finding = find_rule (verdict (self)->findings, rule);
      g_assert_nonnull (finding);
      g_assert_nonnull (strstr (nappe_finding_get_answer (finding), reasons[i]));
    }
  studio_fixture_act (self, "win.next-finding", NULL);
  studio_fixture_picture (self, "light-answered-danger");
}

static GtkWidget *
row_of_limit (GtkWidget *window, const char *label)
{
  GtkWidget *list = studio_fixture_find (window, NAPPE_TYPE_FIELD_ROW, NULL);

  for (GtkWidget *row = list; row != NULL; row = gtk_widget_get_next_sibling (row))
    {
      GtkWidget *shown = studio_fixture_find (row, GTK_TYPE_LABEL, NULL);

      if (g_str_equal (gtk_label_get_text (GTK_LABEL (shown)), label))
        return row;
    }
  return NULL;
}

static guint
count_rows (GtkWidget *window, GType type)
{
  guint n = 0;

  for (GtkWidget *row = studio_fixture_find (window, type, NULL); row != NULL; row = gtk_widget_get_next_sibling (row))
    n += G_TYPE_CHECK_INSTANCE_TYPE (row, type) && gtk_widget_get_child_visible (row);
  return n;
}

/* Rows are made some at a time. */
static gboolean
limits_are_there (StudioFixture *self)
{
  guint settable = 0;

  for (NappeLimitName name = 0; name < NAPPE_LIMIT_N; name++)
    settable += nappe_limit_field (name) != NULL;
  return count_rows (studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW), NAPPE_TYPE_FIELD_ROW) == settable;
}

static void
test_limits (StudioFixture *self, gconstpointer data)
{
  NappeBuild *build;
  GtkWidget *window, *row, *entry;

  studio_fixture_load (self, "three-drain.nappe");
  build = nappe_document_get_build (self->document);
  studio_fixture_act (self, "win.limits", NULL);
  window = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  g_assert_nonnull (window);
  studio_fixture_wait (self, limits_are_there);
  row = row_of_limit (window, "Thickest film over the weir");
  entry = studio_fixture_find (row, GTK_TYPE_ENTRY, NULL);
  g_assert_cmpstr (gtk_entry_get_placeholder_text (GTK_ENTRY (entry)), ==, "20 mm");
  gtk_editable_set_text (GTK_EDITABLE (entry), "1/4 in");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpfloat_with_epsilon (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), 0.00635, 1e-12);
  studio_fixture_picture_of (self, window, "light-limits");
  studio_fixture_wait (self, is_played);
  g_assert_nonnull (strstr (nappe_finding_get_changed (find_rule (verdict (self)->findings, "weir-film")), "usually 20 mm"));
  studio_fixture_picture (self, "light-changed-limit");
  g_assert_true (gtk_widget_activate_action (row, "field.reset", NULL));
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), ==, 0.020);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "");
  gtk_window_close (GTK_WINDOW (window));
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpfloat_with_epsilon (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), 0.00635, 1e-12);
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_false (nappe_document_is_modified (self->document));
  studio_fixture_settle (self);
}

static gboolean
weight_is_there (StudioFixture *self)
{
  return count_rows (studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW), NAPPE_TYPE_WEIGHT_ROW) > 0;
}

static void
test_weights (StudioFixture *self, gconstpointer data)
{
  NappeBuild *build;
  GtkWidget *window, *row, *choice;

  studio_fixture_load (self, "two-drain.nappe");
  build = nappe_document_get_build (self->document);
  activate (self, "win.weigh-rule", g_variant_new_string ("valve-coarse"));
  window = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  studio_fixture_wait (self, weight_is_there);
  studio_fixture_picture_of (self, window, "light-weights");
  /* The rule that was asked for is the only one in sight. */
  g_assert_cmpuint (count_rows (window, NAPPE_TYPE_WEIGHT_ROW), ==, 1);
  row = studio_fixture_find (window, NAPPE_TYPE_WEIGHT_ROW, NULL);
  while (!gtk_widget_get_child_visible (row))
    row = gtk_widget_get_next_sibling (row);
  choice = studio_fixture_find (row, GTK_TYPE_DROP_DOWN, NULL);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (choice)), ==, 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), 2);
  g_assert_cmpuint (build->weighings->len, ==, 1);
  studio_fixture_settle (self);
  g_assert_cmpint (nappe_finding_get_severity (find_rule (verdict (self)->findings, "valve-coarse")), ==,
                   NAPPE_SEVERITY_PROBLEM);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), 0);
  g_assert_cmpuint (build->weighings->len, ==, 0);
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (choice)), ==, 2);
  gtk_window_close (GTK_WINDOW (window));
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_settle (self);
}

static GtkWidget *
nth_of_type (GtkWidget *root, GType type, guint *n)
{
  if (g_type_is_a (G_OBJECT_TYPE (root), type) && (*n)-- == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = nth_of_type (child, type, n);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* Every rule is accounted for: it has found something, or found something fine, or says why it did not look. */
static void
test_checks (StudioFixture *self, gconstpointer data)
{
  GtkWidget *checks, *search, *list;
  guint n_rules_seen = 0, all, first = 0;
  gsize n;
  const NappeRuleInfo *rules = nappe_rules_list (&n);

  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_wait (self, is_played);
  for (gsize i = 0; i < n; i++)
    n_rules_seen += find_rule (verdict (self)->findings, rules[i].id) != NULL
                    || find_rule (verdict (self)->fine, rules[i].id) != NULL;
  g_assert_cmpuint (n_rules_seen, ==, n);
  checks = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_CHECKS_LIST, NULL);
  g_assert_null (studio_fixture_find (checks, NAPPE_TYPE_FINDING_ROW, NULL));
  search = studio_fixture_find (checks, GTK_TYPE_SEARCH_ENTRY, NULL);
  gtk_editable_set_text (GTK_EDITABLE (search), "WEIR");
  g_signal_emit_by_name (search, "search-changed");
  studio_fixture_settle (self);
  list = nth_of_type (checks, GTK_TYPE_LIST_BOX, &first);
  all = count_rows (list, NAPPE_TYPE_FINDING_ROW);
  g_assert_cmpuint (all, >, 0);
  g_assert_cmpuint (all, <, 10);
  studio_fixture_picture (self, "light-checks-search");
  gtk_editable_set_text (GTK_EDITABLE (search), "");
  g_signal_emit_by_name (search, "search-changed");
  g_assert_cmpuint (count_rows (list, NAPPE_TYPE_FINDING_ROW), >, all);
  studio_fixture_picture (self, "light-checks");
}

static guint
count_labels (GtkWidget *root, const char *css_class)
{
  guint n = GTK_IS_LABEL (root) && gtk_widget_has_css_class (root, css_class);

  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += count_labels (child, css_class);
  return n;
}

static void
test_about_rule (StudioFixture *self, gconstpointer data)
{
  GtkWidget *window;

  studio_fixture_load (self, "two-drain.nappe");
  activate (self, "win.about-rule", g_variant_new_string ("valve-coarse"));
  window = studio_fixture_find_window (NAPPE_TYPE_RULE_WINDOW);
  g_assert_nonnull (window);
  g_assert_cmpuint (count_labels (window, "title-2"), ==, 1);
  g_assert_cmpuint (count_labels (window, "heading"), >=, 4);
  gtk_window_set_default_size (GTK_WINDOW (window), 360, 600);
  studio_fixture_picture_of (self, window, "light-about-rule");
  gtk_window_close (GTK_WINDOW (window));
  /* A rule without a page is said to have none. */
  activate (self, "win.about-rule", g_variant_new_string ("../../demos/no-such-rule"));
  g_assert_null (studio_fixture_find_window (NAPPE_TYPE_RULE_WINDOW));
}

static void
test_narrow (StudioFixture *self, gconstpointer data)
{
  GtkWidget *dialog, *window;
  NappeFinding *finding;
  int minimum;

  studio_fixture_load (self, "two-drain.nappe");
  studio_fixture_act (self, "app.style", "dark");
  finding = find_rule (verdict (self)->findings, "valve-coarse");
  activate (self, "win.answer-finding", g_variant_new ("(ss)", "valve-coarse", nappe_finding_get_part (finding)));
  dialog = studio_fixture_find_window (NAPPE_TYPE_ANSWER_DIALOG);
  gtk_widget_measure (dialog, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  gtk_window_set_default_size (GTK_WINDOW (dialog), 360, 600);
  studio_fixture_picture_of (self, dialog, "dark-narrow-answer");
  gtk_window_close (GTK_WINDOW (dialog));
  studio_fixture_act (self, "win.limits", NULL);
  window = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  gtk_window_set_default_size (GTK_WINDOW (window), 360, 600);
  studio_fixture_picture_of (self, window, "dark-narrow-limits");
  gtk_stack_set_visible_child_name (GTK_STACK (studio_fixture_find (window, GTK_TYPE_STACK, NULL)), "weights");
  studio_fixture_picture_of (self, window, "dark-narrow-weights");
  gtk_window_close (GTK_WINDOW (window));
  studio_fixture_act (self, "app.style", "light");
}

static const StudioTest tests[] = {
  { "/studio/judging/answer", test_answer },
  { "/studio/judging/answer-to-danger", test_answer_to_danger },
  { "/studio/judging/limits", test_limits },
  { "/studio/judging/weights", test_weights },
  { "/studio/judging/checks", test_checks },
  { "/studio/judging/about-rule", test_about_rule },
  { "/studio/judging/narrow", test_narrow },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
