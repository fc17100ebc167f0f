/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The preferences: choices that hold at once, the currency, and margins that go into builds on demand alone. */
#include <math.h>

#include "rules/rule-limits.h"
#include "studio-fixture.h"
#include "studio/findings/limits-window.h"
#include "studio/findings/margins.h"
#include "studio/parts/field-row.h"

/* The row of a limit; NULL: none. */
static GtkWidget *
find_limit_row (GtkWidget *root, const char *label)
{
  if (GTK_IS_LABEL (root) && g_strcmp0 (gtk_label_get_text (GTK_LABEL (root)), label) == 0)
    return gtk_widget_get_ancestor (root, NAPPE_TYPE_FIELD_ROW);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_limit_row (child, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* Rows are made some at a time. */
static GtkWidget *
limit_row (GtkWidget *root, const char *label)
{
  GtkWidget *row = NULL;

  for (int i = 0; i < 100 && (row = find_limit_row (root, label)) == NULL; i++)
    studio_fixture_pause (0.05);
  g_assert_nonnull (row);
  return row;
}

/* ---- choices ---- */

static gboolean
reopens_nothing (StudioFixture *self)
{
  return !nappe_preferences_get_reopen (nappe_application_get_preferences (self->application));
}

static void
test_choices (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = nappe_application_get_preferences (self->application);
  GtkWidget *window = GTK_WIDGET (studio_fixture_open_preferences (self)),
            *spin = studio_fixture_find (window, GTK_TYPE_SPIN_BUTTON, NULL);

  studio_fixture_choose (window, "Units", 1);
  g_assert_cmpint (nappe_preferences_get_units (preferences), ==, NAPPE_UNITS_US);
  studio_fixture_act (self, "app.units", "metric");
  g_assert_cmpuint (adw_combo_row_get_selected (ADW_COMBO_ROW (studio_fixture_find_row (window, "Units"))), ==, 0);
  studio_fixture_choose (window, "Paper", 1);
  g_assert_cmpint (nappe_preferences_get_paper (preferences), ==, NAPPE_PAPER_LETTER);
  studio_fixture_choose (window, "Paper", 0);
  studio_fixture_choose (window, "Style", 2);
  g_assert_true (adw_style_manager_get_dark (adw_style_manager_get_default ()));
  studio_fixture_choose (window, "Style", 1);
  g_assert_false (adw_style_manager_get_dark (adw_style_manager_get_default ()));

  adw_action_row_activate (ADW_ACTION_ROW (studio_fixture_find_row (window, "Reopen builds at start")));
  studio_fixture_wait (self, reopens_nothing);
  studio_fixture_act (self, "app.reopen", NULL);
  g_assert_true (nappe_preferences_get_reopen (preferences));

  g_assert_cmpuint (nappe_preferences_get_recent_max (preferences), ==, 10);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), 3);
  g_assert_cmpuint (nappe_preferences_get_recent_max (preferences), ==, 3);
  gtk_editable_set_text (GTK_EDITABLE (spin), "many");
  gtk_spin_button_update (GTK_SPIN_BUTTON (spin));
  g_assert_cmpuint (nappe_preferences_get_recent_max (preferences), ==, 3);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), 1e9);
  g_assert_cmpuint (nappe_preferences_get_recent_max (preferences), ==, 50);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), 10);
}

/* One window of them, whoever asks; Escape closes it. */
static void
test_one_window (StudioFixture *self, gconstpointer data)
{
  NappePreferencesWindow *first = studio_fixture_open_preferences (self);

  studio_fixture_load (self, "two-drain.nappe");
  g_assert_true (studio_fixture_open_preferences (self) == first);
  studio_fixture_picture_of (self, GTK_WIDGET (first), "light-preferences");
  gtk_widget_activate_action (GTK_WIDGET (first), "preferences.close", NULL);
  g_assert_null (studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW));
}

static void
type_number (GtkWidget *row, const char *text)
{
  GtkWidget *entry = studio_fixture_find (row, GTK_TYPE_ENTRY, NULL);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
}

/* ---- currency ---- */

/* It comes into a build with a price, in the same step, and never over one that the build names. */
static void
test_currency (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = nappe_application_get_preferences (self->application);
  GtkWidget *window = GTK_WIDGET (studio_fixture_open_preferences (self)),
            *entry = studio_fixture_find (studio_fixture_find_row (window, "Currency"), GTK_TYPE_ENTRY, NULL);
  NappeRoom *room;
  GtkWidget *price;

  gtk_editable_set_text (GTK_EDITABLE (entry), "EUR");
  g_assert_cmpstr (nappe_preferences_get_currency (preferences), ==, "EUR");
  g_object_set (preferences, "currency", "more than settings may hold of it", NULL);
  g_assert_cmpstr (nappe_preferences_get_currency (preferences), ==, "EUR");
  /* Not what is chosen, but what holds when nothing is; the tests' locale has no currency. */
  g_assert_cmpstr (gtk_entry_get_placeholder_text (GTK_ENTRY (entry)), ==, "none");
  gtk_window_close (GTK_WINDOW (window));

  studio_fixture_load (self, "three-drain.nappe");
  room = NAPPE_ROOM (nappe_document_get_build (self->document)->room);
  g_assert_cmpstr (room->currency, ==, "");
  nappe_window_select (self->window, nappe_part_get_id (NAPPE_PART (room)));
  studio_fixture_act (self, "win.panel", "part");
  studio_fixture_settle (self);
  price = find_limit_row (GTK_WIDGET (self->window), "Price of a kilowatt-hour");
  g_assert_nonnull (price);
  type_number (price, "0.32");
  g_assert_cmpfloat (room->electricity_price, ==, 0.32);
  g_assert_cmpstr (room->currency, ==, "EUR");
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpstr (room->currency, ==, "");
  g_assert_true (isnan (room->electricity_price));

  g_assert_true (nappe_build_set_text (nappe_document_get_build (self->document), NAPPE_PART (room), "currency", "kr", NULL));
  type_number (price, "3.2");
  g_assert_cmpstr (room->currency, ==, "kr");
  g_object_set (preferences, "currency", "", NULL);
}

/* ---- margins ---- */

static guint
count_fields (GtkWidget *root)
{
  guint n = NAPPE_IS_FIELD_ROW (root) ? 1 : 0;

  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += count_fields (child);
  return n;
}

static gboolean
margins_are_there (StudioFixture *self)
{
  guint settable = 0;

  for (NappeLimitName name = 0; name < NAPPE_LIMIT_N; name++)
    settable += nappe_limit_field (name) != NULL;
  return count_fields (studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW)) >= settable;
}

/* Other units while rows are on their way, and the page is out of sight: no row comes twice. */
static void
test_margins_once (StudioFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (studio_fixture_open_preferences (self));
  guint n;

  adw_preferences_window_set_visible_page_name (ADW_PREFERENCES_WINDOW (window), "margins");
  studio_fixture_wait (self, margins_are_there);
  n = count_fields (window);
  studio_fixture_act (self, "app.units", "us");
  adw_preferences_window_set_visible_page_name (ADW_PREFERENCES_WINDOW (window), "general");
  studio_fixture_act (self, "app.units", "metric");
  studio_fixture_pause (0.3);
  g_assert_cmpuint (count_fields (window), ==, 0);
  adw_preferences_window_set_visible_page_name (ADW_PREFERENCES_WINDOW (window), "margins");
  studio_fixture_wait (self, margins_are_there);
  studio_fixture_pause (0.3);
  g_assert_cmpuint (count_fields (window), ==, n);
  gtk_window_close (GTK_WINDOW (window));
}

static void
test_margins (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = nappe_application_get_preferences (self->application);
  GtkWidget *window, *limits;
  NappeBuild *build;
  g_autoptr (GVariant) margins = NULL;

  studio_fixture_load (self, "three-drain.nappe");
  build = nappe_document_get_build (self->document);

  /* Nothing of one's own, nothing to put in. */
  studio_fixture_act (self, "win.limits", NULL);
  limits = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  g_assert_false (studio_fixture_can_press (limits, "limits.use-margins"));
  gtk_window_close (GTK_WINDOW (limits));

  window = GTK_WIDGET (studio_fixture_open_preferences (self));
  adw_preferences_window_set_visible_page_name (ADW_PREFERENCES_WINDOW (window), "margins");
  type_number (limit_row (window, "Thickest film over the weir"), "30 mm");
  type_number (limit_row (window, "Fall behind the weir"), "lots");
  g_assert_true (nappe_field_row_has_error (NAPPE_FIELD_ROW (limit_row (window, "Fall behind the weir"))));
  type_number (limit_row (window, "Fall behind the weir"), "12 in");
  studio_fixture_picture_of (self, window, "light-margins");
  margins = nappe_preferences_get_margins (preferences);
  g_assert_cmpuint (nappe_margins_count (margins), ==, 2);
  /* The open build is as it was. */
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), ==, 0.020);
  g_assert_false (nappe_document_is_modified (self->document));

  /* Other units: the same margins. */
  studio_fixture_act (self, "app.units", "us");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (
                       studio_fixture_find (limit_row (window, "Fall behind the weir"), GTK_TYPE_ENTRY, NULL))),
                   ==, "12\342\200\211in");
  studio_fixture_act (self, "app.units", "metric");
  gtk_window_close (GTK_WINDOW (window));

  /* On demand, in one step; what the person has no margin for stays. */
  g_assert_true (nappe_build_set_number (build, build->limits, "slot_least", 0.003, NULL));
  studio_fixture_act (self, "win.limits", NULL);
  limits = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  g_assert_true (studio_fixture_can_press (limits, "limits.use-margins"));
  gtk_widget_activate_action (limits, "limits.use-margins", NULL);
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), ==, 0.030);
  g_assert_cmpfloat_with_epsilon (nappe_limit_in_build (NAPPE_LIMIT_WEIR_DROP, build), 0.3048, 1e-12);
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_SLOT_LEAST, build), ==, 0.003);
  g_assert_cmpstr (nappe_build_undo_label (build), ==, "Use my margins");
  gtk_window_close (GTK_WINDOW (limits));
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), ==, 0.020);
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_SLOT_LEAST, build), ==, 0.003);
  nappe_preferences_set_margins (preferences, g_variant_new_array (G_VARIANT_TYPE ("{sd}"), NULL, 0));
  studio_fixture_settle (self);
}

/* Settings may hold anything. */
static void
test_hostile_margins (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GVariant) margins = g_variant_ref_sink (g_variant_new_parsed (
      "{'film-thick': 1e300, 'weir-drop': %d, 'no-such-limit': 1.0, '': 2.0, 'spill': 0.001, 'slot-least': 0.004}", 0.0 / 0.0));
  g_autoptr (NappeBuild) build = nappe_build_new ();

  g_assert_cmpuint (nappe_margins_count (margins), ==, 1);
  nappe_margins_put_in (margins, build);
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_FILM_THICK, build), ==, 0.020);
  g_assert_cmpfloat (nappe_limit_in_build (NAPPE_LIMIT_SLOT_LEAST, build), ==, 0.004);
  nappe_build_undo (build);
  nappe_margins_put_in (margins, build);
  nappe_margins_put_in (margins, build);
  nappe_build_undo (build);
  g_assert_false (nappe_build_can_undo (build));
}

static const StudioTest tests[] = {
  { "/studio/preferences/choices", test_choices },
  { "/studio/preferences/one-window", test_one_window },
  { "/studio/preferences/currency", test_currency },
  { "/studio/preferences/margins", test_margins },
  { "/studio/preferences/margins-once", test_margins_once },
  { "/studio/preferences/hostile-margins", test_hostile_margins },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
