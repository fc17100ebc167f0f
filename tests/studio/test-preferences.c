/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The preferences: choices that hold at once, margins that go into builds on demand alone, and the own part of the catalogue. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "rules/rule-limits.h"
#include "studio-fixture.h"
#include "studio/findings/limits-window.h"
#include "studio/findings/margins.h"
#include "studio/parts/add-window.h"
#include "studio/parts/field-row.h"
#include "studio/preferences/curve-preview.h"
#include "studio/preferences/preferences-window.h"
#include "studio/preferences/pump-window.h"

static NappePreferencesWindow *
open_preferences (StudioFixture *self)
{
  GtkWidget *window;

  studio_fixture_act (self, "app.preferences", NULL);
  window = studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW);
  g_assert_nonnull (window);
  return NAPPE_PREFERENCES_WINDOW (window);
}

static NappePreferences *
preferences_of (StudioFixture *self)
{
  return nappe_application_get_preferences (self->application);
}

/* The row of a list with a title; NULL: none. */
static GtkWidget *
row_titled (GtkWidget *root, const char *title)
{
  if (ADW_IS_PREFERENCES_ROW (root) && g_strcmp0 (adw_preferences_row_get_title (ADW_PREFERENCES_ROW (root)), title) == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = row_titled (child, title);

      if (found != NULL)
        return found;
    }
  return NULL;
}

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

static void
choose (GtkWidget *window, const char *row, guint index)
{
  adw_combo_row_set_selected (ADW_COMBO_ROW (row_titled (window, row)), index);
}

/* Whether the button of an action can be pressed. */
static gboolean
can_press (GtkWidget *root, const char *action)
{
  if (GTK_IS_BUTTON (root) && g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (root)), action) == 0)
    return gtk_widget_is_sensitive (root);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (can_press (child, action))
      return TRUE;
  return FALSE;
}

/* ---- choices ---- */

static void
test_choices (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = preferences_of (self);
  GtkWidget *window = GTK_WIDGET (open_preferences (self)), *spin = studio_fixture_find (window, GTK_TYPE_SPIN_BUTTON, NULL);

  choose (window, "Units", 1);
  g_assert_cmpint (nappe_preferences_get_units (preferences), ==, NAPPE_UNITS_US);
  studio_fixture_act (self, "app.units", "metric");
  g_assert_cmpuint (adw_combo_row_get_selected (ADW_COMBO_ROW (row_titled (window, "Units"))), ==, 0);
  choose (window, "Paper", 1);
  g_assert_cmpint (nappe_preferences_get_paper (preferences), ==, NAPPE_PAPER_LETTER);
  choose (window, "Paper", 0);
  choose (window, "Style", 2);
  g_assert_true (adw_style_manager_get_dark (adw_style_manager_get_default ()));
  choose (window, "Style", 1);
  g_assert_false (adw_style_manager_get_dark (adw_style_manager_get_default ()));

  adw_action_row_activate (ADW_ACTION_ROW (row_titled (window, "Reopen builds at start")));
  studio_fixture_pause (0.5);
  g_assert_false (nappe_preferences_get_reopen (preferences));
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
  NappePreferencesWindow *first = open_preferences (self);

  studio_fixture_load (self, "two-drain.nappe");
  g_assert_true (open_preferences (self) == first);
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
  NappePreferences *preferences = preferences_of (self);
  GtkWidget *window = GTK_WIDGET (open_preferences (self)), *entry = studio_fixture_find (row_titled (window, "Currency"), GTK_TYPE_ENTRY, NULL);
  NappeRoom *room;
  GtkWidget *price;

  gtk_editable_set_text (GTK_EDITABLE (entry), "EUR");
  g_assert_cmpstr (nappe_preferences_get_currency (preferences), ==, "EUR");
  g_object_set (preferences, "currency", "more than settings may hold of it", NULL);
  g_assert_cmpstr (nappe_preferences_get_currency (preferences), ==, "EUR");
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
  GtkWidget *window = GTK_WIDGET (open_preferences (self));
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
  NappePreferences *preferences = preferences_of (self);
  GtkWidget *window, *limits;
  NappeBuild *build;
  g_autoptr (GVariant) margins = NULL;

  studio_fixture_load (self, "three-drain.nappe");
  build = nappe_document_get_build (self->document);

  /* Nothing of one's own, nothing to put in. */
  studio_fixture_act (self, "win.limits", NULL);
  limits = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  g_assert_false (can_press (limits, "limits.use-margins"));
  gtk_window_close (GTK_WINDOW (limits));

  window = GTK_WIDGET (open_preferences (self));
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
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (studio_fixture_find (limit_row (window, "Fall behind the weir"), GTK_TYPE_ENTRY,
                                                                              NULL))), ==, "12\342\200\211in");
  studio_fixture_act (self, "app.units", "metric");
  gtk_window_close (GTK_WINDOW (window));

  /* On demand, in one step; what the person has no margin for stays. */
  g_assert_true (nappe_build_set_number (build, build->limits, "slot_least", 0.003, NULL));
  studio_fixture_act (self, "win.limits", NULL);
  limits = studio_fixture_find_window (NAPPE_TYPE_LIMITS_WINDOW);
  g_assert_true (can_press (limits, "limits.use-margins"));
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

/* ---- own parts ---- */

static gboolean
is_listed (StudioFixture *self)
{
  GtkWidget *window = studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW);

  return nappe_own_parts_page_get_catalogue (nappe_preferences_window_get_own_parts (NAPPE_PREFERENCES_WINDOW (window))) != NULL;
}

static gboolean
has_pump_window (StudioFixture *self)
{
  return studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW) != NULL;
}

static gboolean
has_no_pump_window (StudioFixture *self)
{
  return !has_pump_window (self) && is_listed (self);
}

static char *
own_file (void)
{
  g_autofree char *folder = nappe_catalogue_user_dir ();

  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  return g_build_filename (folder, "own-pumps.json", NULL);
}

static void
write_own (const char *text)
{
  g_autofree char *path = own_file ();

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

/* Puts a table where a person has it, and hands it to the page as if it were dropped there. */
static void
read_table (NappePreferencesWindow *window, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), name, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  nappe_own_parts_page_read_table (nappe_preferences_window_get_own_parts (window), file);
}

static guint
count_own (NappePreferencesWindow *window)
{
  return nappe_catalogue_own_parts (nappe_own_parts_page_get_catalogue (nappe_preferences_window_get_own_parts (window)))->len;
}

static gboolean
knows_own_pump (StudioFixture *self)
{
  return !nappe_document_is_busy (self->document)
         && nappe_catalogue_find (nappe_document_get_catalogue (self->document), "own-north-reef") != NULL;
}

static gboolean
knows_no_own_pump (StudioFixture *self)
{
  return !nappe_document_is_busy (self->document) && !knows_own_pump (self);
}

static void
show_own_parts (NappePreferencesWindow *window)
{
  adw_preferences_window_set_visible_page_name (ADW_PREFERENCES_WINDOW (window), "own-parts");
}

/* From a table to a pump that an open browser of the catalogue lists at once, and out again. */
static void
test_pump (StudioFixture *self, gconstpointer data)
{
  NappePreferencesWindow *window;
  NappeAddWindow *browser;
  GtkWidget *pump;

  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.add", NULL);
  browser = NAPPE_ADD_WINDOW (studio_fixture_find_window (NAPPE_TYPE_ADD_WINDOW));
  nappe_add_window_search (browser, "north reef", NAPPE_ADD_PUMP);
  g_assert_cmpuint (nappe_add_window_get_n_shown (browser), ==, 0);

  window = open_preferences (self);
  show_own_parts (window);
  studio_fixture_wait (self, is_listed);
  g_assert_cmpuint (count_own (window), ==, 0);
  read_table (window, "North & Reef.csv", "flow gal/h;head ft\n0;13,1\n400;12,4\n700;10,5\n1000;6,5\n1200;1\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  g_assert_true (gtk_widget_get_visible (studio_fixture_find (pump, NAPPE_TYPE_CURVE_PREVIEW, NULL)));
  /* Without a power there is no pump. */
  g_assert_false (can_press (pump, "pump.add"));
  gtk_editable_set_text (GTK_EDITABLE (row_titled (pump, "Greatest power, W")), "much");
  g_assert_true (gtk_widget_has_css_class (row_titled (pump, "Greatest power, W"), "error"));
  g_assert_false (can_press (pump, "pump.add"));
  gtk_editable_set_text (GTK_EDITABLE (row_titled (pump, "Greatest power, W")), "60");
  gtk_editable_set_text (GTK_EDITABLE (row_titled (pump, "Name")), "North Reef");
  studio_fixture_picture_of (self, pump, "light-pump");
  g_assert_true (can_press (pump, "pump.add"));
  gtk_widget_activate_action (pump, "pump.add", NULL);
  studio_fixture_wait (self, has_no_pump_window);
  studio_fixture_wait (self, knows_own_pump);
  g_assert_cmpuint (count_own (window), ==, 1);
  g_assert_cmpuint (nappe_add_window_get_n_shown (browser), ==, 1);
  studio_fixture_picture_of (self, GTK_WIDGET (window), "light-own-parts");

  gtk_widget_activate_action (GTK_WIDGET (nappe_preferences_window_get_own_parts (window)), "own-parts.remove", "u", 0);
  studio_fixture_answer (self, "cancel");
  g_assert_cmpuint (count_own (window), ==, 1);
  gtk_widget_activate_action (GTK_WIDGET (nappe_preferences_window_get_own_parts (window)), "own-parts.remove", "u", 0);
  studio_fixture_answer (self, "remove");
  studio_fixture_wait (self, knows_no_own_pump);
  studio_fixture_wait (self, is_listed);
  g_assert_cmpuint (count_own (window), ==, 0);
  g_assert_cmpuint (nappe_add_window_get_n_shown (browser), ==, 0);
  gtk_window_close (GTK_WINDOW (browser));
}

/* A table that does not tell its units is not taken before the person tells them. */
static void
test_untold_units (StudioFixture *self, gconstpointer data)
{
  NappePreferencesWindow *window = open_preferences (self);
  GtkWidget *pump;

  read_table (window, "bare.csv", "4,0\n3.1,1500\n0.5,3000\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  gtk_editable_set_text (GTK_EDITABLE (row_titled (pump, "Greatest power, W")), "60 W");
  g_assert_false (can_press (pump, "pump.add"));
  choose (pump, "Unit of the flows", 1);
  g_assert_false (can_press (pump, "pump.add"));
  choose (pump, "Unit of the heads", 1);
  /* A head of 1500 m: the columns are the other way round. */
  g_assert_false (can_press (pump, "pump.add"));
  g_assert_true (gtk_widget_get_visible (studio_fixture_find (pump, GTK_TYPE_LABEL, "error")));
  g_assert_true (gtk_widget_get_visible (row_titled (pump, "The first column is the head")));
  studio_fixture_pause (0.5);
  adw_action_row_activate (ADW_ACTION_ROW (row_titled (pump, "The first column is the head")));
  studio_fixture_pause (0.5);
  g_assert_true (gtk_widget_get_visible (studio_fixture_find (pump, NAPPE_TYPE_CURVE_PREVIEW, NULL)));
  g_assert_true (can_press (pump, "pump.add"));
  gtk_widget_activate_action (pump, "pump.cancel", NULL);
}

static void
test_refused_tables (StudioFixture *self, gconstpointer data)
{
  const struct
  {
    const char *name, *text, *says;
  } tables[] = {
    { "empty.csv", "", "empty.csv: there are no numbers" },
    { "picture.png", "\211PNG\r\n\032\n", "picture.png: this is no table" },
    { "rising.csv", "l/h;m\n0;4\nNaN;5\n", "rising.csv, line 3" },
  };
  NappePreferencesWindow *window = open_preferences (self);
  GtkWidget *pump;

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      read_table (window, tables[i].name, tables[i].text);
      studio_fixture_wait (self, studio_fixture_is_asking);
      g_assert_nonnull (strstr (adw_message_dialog_get_body (ADW_MESSAGE_DIALOG (studio_fixture_find_dialog ())), tables[i].says));
      studio_fixture_answer (self, "close");
    }
  /* What shows only with its units is said in the window. */
  read_table (window, "rising.csv", "l/h;m\n0;4\n100;5\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (studio_fixture_find (pump, GTK_TYPE_LABEL, "error"))), "rising.csv, line 3"));
  gtk_widget_activate_action (pump, "pump.cancel", NULL);
}

static GtkWidget *
faulty_row (void)
{
  return row_titled (studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW), "a&lt;b&gt;&amp;c");
}

static gboolean
has_faulty_row (StudioFixture *self)
{
  return faulty_row () != NULL;
}

/* Of a file that cannot be read as a whole. */
static gboolean
has_file_row (StudioFixture *self)
{
  return row_titled (studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW), "own-pumps.json") != NULL;
}

static gboolean
pump_is_refused (StudioFixture *self)
{
  GtkWidget *pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);

  return pump == NULL || gtk_widget_get_visible (studio_fixture_find (pump, GTK_TYPE_LABEL, "error"));
}

/* Rows with faults are listed with file, line and reason; a broken file keeps what it has. */
static void
test_faults (StudioFixture *self, gconstpointer data)
{
  const char *broken = "{\"format\": \"nappe-catalogue\"";
  NappePreferencesWindow *window;
  g_autofree char *path = own_file (), *text = NULL;
  GtkWidget *row, *pump;

  write_own ("{\"format\":\"nappe-catalogue\",\"version\":1,\"items\":[\n{\"id\":\"a<b>&c\",\"kind\":\"pump\"}\n]}");
  window = open_preferences (self);
  show_own_parts (window);
  studio_fixture_wait (self, has_faulty_row);
  row = faulty_row ();
  g_assert_nonnull (strstr (adw_action_row_get_subtitle (ADW_ACTION_ROW (row)), "own-pumps.json, line 2"));
  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_picture_of (self, GTK_WIDGET (window), "light-own-faults");

  write_own (broken);
  read_table (window, "good.csv", "l/h;m\n0;4\n1000;1\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  gtk_editable_set_text (GTK_EDITABLE (row_titled (pump, "Greatest power, W")), "60");
  g_assert_true (can_press (pump, "pump.add"));
  gtk_widget_activate_action (pump, "pump.add", NULL);
  studio_fixture_wait (self, pump_is_refused);
  g_assert_true (has_pump_window (self));
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, broken);
  /* A row that is not there any more is not taken out, and the list is made anew. */
  gtk_widget_activate_action (pump, "pump.cancel", NULL);
  gtk_widget_activate_action (GTK_WIDGET (nappe_preferences_window_get_own_parts (window)), "own-parts.remove", "u", 0);
  studio_fixture_answer (self, "remove");
  studio_fixture_wait (self, studio_fixture_is_asking);
  studio_fixture_answer (self, "close");
  studio_fixture_wait (self, has_file_row);
  g_assert_null (faulty_row ());
  g_remove (path);
  studio_fixture_settle (self);
}

static void
own_parts_told (gboolean *told)
{
  *told = TRUE;
}

/* Closing while something is read or written does no harm. */
static void
test_closed_meanwhile (StudioFixture *self, gconstpointer data)
{
  NappePreferencesWindow *window = open_preferences (self);
  g_autofree char *path = own_file ();
  gboolean told = FALSE;
  GtkWidget *pump;

  read_table (window, "late.csv", "l/h;m\n0;4\n1000;1\n");
  gtk_window_close (GTK_WINDOW (window));
  studio_fixture_pause (0.3);
  g_assert_null (studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW));

  window = open_preferences (self);
  read_table (window, "late.csv", "l/h;m\n0;4\n1000;1\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  gtk_editable_set_text (GTK_EDITABLE (row_titled (pump, "Greatest power, W")), "60");
  g_assert_true (can_press (pump, "pump.add"));
  gtk_widget_activate_action (pump, "pump.add", NULL);
  g_signal_connect_swapped (preferences_of (self), "own-parts-changed", G_CALLBACK (own_parts_told), &told);
  /* With the window that it stands before. */
  gtk_window_destroy (GTK_WINDOW (pump));
  gtk_window_close (GTK_WINDOW (window));
  while (!told)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handlers_disconnect_by_data (preferences_of (self), &told);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
  g_remove (path);
}

static void
test_dark_narrow (StudioFixture *self, gconstpointer data)
{
  NappePreferencesWindow *window = open_preferences (self);
  GtkWidget *pump;

  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "app.style", "dark");
  gtk_window_set_default_size (GTK_WINDOW (window), 360, 640);
  studio_fixture_picture_of (self, GTK_WIDGET (window), "dark-narrow-preferences");
  show_own_parts (window);
  studio_fixture_picture_of (self, GTK_WIDGET (window), "dark-narrow-own-parts");
  read_table (window, "bare.csv", "l/h;m\n0;4\n500;3.8\n1500;3.1\n3000;0.5\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  gtk_window_set_default_size (GTK_WINDOW (pump), 360, 640);
  studio_fixture_picture_of (self, pump, "dark-narrow-pump");
  gtk_widget_activate_action (pump, "pump.cancel", NULL);
  studio_fixture_act (self, "app.style", "light");
}

static const StudioTest tests[] = {
  { "/studio/preferences/choices", test_choices },
  { "/studio/preferences/one-window", test_one_window },
  { "/studio/preferences/currency", test_currency },
  { "/studio/preferences/margins", test_margins },
  { "/studio/preferences/margins-once", test_margins_once },
  { "/studio/preferences/hostile-margins", test_hostile_margins },
  { "/studio/preferences/pump", test_pump },
  { "/studio/preferences/untold-units", test_untold_units },
  { "/studio/preferences/refused-tables", test_refused_tables },
  { "/studio/preferences/faults", test_faults },
  { "/studio/preferences/closed-meanwhile", test_closed_meanwhile },
  { "/studio/preferences/dark-narrow", test_dark_narrow },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
