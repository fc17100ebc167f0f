/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The own part of the catalogue in the preferences: pumps out of tables, rows with faults, and taking rows out. */
#include <glib/gstdio.h>
#include <string.h>

#include "studio-fixture.h"
#include "studio/parts/add-window.h"
#include "studio/preferences/curve-preview.h"
#include "studio/preferences/pump-window.h"

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

  window = studio_fixture_open_preferences (self);
  show_own_parts (window);
  studio_fixture_wait (self, is_listed);
  g_assert_cmpuint (count_own (window), ==, 0);
  read_table (window, "North & Reef.csv", "flow gal/h;head ft\n0;13,1\n400;12,4\n700;10,5\n1000;6,5\n1200;1\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  g_assert_true (gtk_widget_get_visible (studio_fixture_find (pump, NAPPE_TYPE_CURVE_PREVIEW, NULL)));
  /* Without a power there is no pump. */
  g_assert_false (studio_fixture_can_press (pump, "pump.add"));
  gtk_editable_set_text (GTK_EDITABLE (studio_fixture_find_row (pump, "Greatest power, W")), "much");
  g_assert_true (gtk_widget_has_css_class (studio_fixture_find_row (pump, "Greatest power, W"), "error"));
  g_assert_false (studio_fixture_can_press (pump, "pump.add"));
  gtk_editable_set_text (GTK_EDITABLE (studio_fixture_find_row (pump, "Greatest power, W")), "60");
  gtk_editable_set_text (GTK_EDITABLE (studio_fixture_find_row (pump, "Name")), "North Reef");
  studio_fixture_picture_of (self, pump, "light-pump");
  g_assert_true (studio_fixture_can_press (pump, "pump.add"));
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
  NappePreferencesWindow *window = studio_fixture_open_preferences (self);
  GtkWidget *pump;

  read_table (window, "bare.csv", "4,0\n3.1,1500\n0.5,3000\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  gtk_editable_set_text (GTK_EDITABLE (studio_fixture_find_row (pump, "Greatest power, W")), "60 W");
  g_assert_false (studio_fixture_can_press (pump, "pump.add"));
  studio_fixture_choose (pump, "Unit of the flows", 1);
  g_assert_false (studio_fixture_can_press (pump, "pump.add"));
  studio_fixture_choose (pump, "Unit of the heads", 1);
  /* A head of 1500 m: the columns are the other way round. */
  g_assert_false (studio_fixture_can_press (pump, "pump.add"));
  g_assert_true (gtk_widget_get_visible (studio_fixture_find (pump, GTK_TYPE_LABEL, "error")));
  g_assert_true (gtk_widget_get_visible (studio_fixture_find_row (pump, "The first column is the head")));
  studio_fixture_pause (0.5);
  adw_action_row_activate (ADW_ACTION_ROW (studio_fixture_find_row (pump, "The first column is the head")));
  studio_fixture_pause (0.5);
  g_assert_true (gtk_widget_get_visible (studio_fixture_find (pump, NAPPE_TYPE_CURVE_PREVIEW, NULL)));
  g_assert_true (studio_fixture_can_press (pump, "pump.add"));
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
  NappePreferencesWindow *window = studio_fixture_open_preferences (self);
  GtkWidget *pump;

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      read_table (window, tables[i].name, tables[i].text);
      studio_fixture_wait (self, studio_fixture_is_asking);
      g_assert_nonnull (
          strstr (adw_message_dialog_get_body (ADW_MESSAGE_DIALOG (studio_fixture_find_dialog ())), tables[i].says));
      studio_fixture_answer (self, "close");
    }
  /* What shows only with its units is said in the window. */
  read_table (window, "rising.csv", "l/h;m\n0;4\n100;5\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (studio_fixture_find (pump, GTK_TYPE_LABEL, "error"))),
                            "rising.csv, line 3"));
  gtk_widget_activate_action (pump, "pump.cancel", NULL);
}

static GtkWidget *
faulty_row (void)
{
  return studio_fixture_find_row (studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW), "a&lt;b&gt;&amp;c");
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
  return studio_fixture_find_row (studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW), "own-pumps.json") != NULL;
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
  window = studio_fixture_open_preferences (self);
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
  gtk_editable_set_text (GTK_EDITABLE (studio_fixture_find_row (pump, "Greatest power, W")), "60");
  g_assert_true (studio_fixture_can_press (pump, "pump.add"));
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
  NappePreferencesWindow *window = studio_fixture_open_preferences (self);
  g_autofree char *path = own_file ();
  gboolean told = FALSE;
  GtkWidget *pump;

  read_table (window, "late.csv", "l/h;m\n0;4\n1000;1\n");
  gtk_window_close (GTK_WINDOW (window));
  studio_fixture_pause (0.3);
  g_assert_null (studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW));

  window = studio_fixture_open_preferences (self);
  read_table (window, "late.csv", "l/h;m\n0;4\n1000;1\n");
  studio_fixture_wait (self, has_pump_window);
  pump = studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW);
  gtk_editable_set_text (GTK_EDITABLE (studio_fixture_find_row (pump, "Greatest power, W")), "60");
  g_assert_true (studio_fixture_can_press (pump, "pump.add"));
  gtk_widget_activate_action (pump, "pump.add", NULL);
  g_signal_connect_swapped (nappe_application_get_preferences (self->application), "own-parts-changed",
                            G_CALLBACK (own_parts_told), &told);
  /* With the window that it stands before. */
  gtk_window_destroy (GTK_WINDOW (pump));
  gtk_window_close (GTK_WINDOW (window));
  while (!told)
    g_main_context_iteration (NULL, TRUE);
  g_signal_handlers_disconnect_by_data (nappe_application_get_preferences (self->application), &told);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
  g_remove (path);
}

static void
test_dark_narrow (StudioFixture *self, gconstpointer data)
{
  NappePreferencesWindow *window = studio_fixture_open_preferences (self);
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
  { "/studio/own-parts/pump", test_pump },
  { "/studio/own-parts/untold-units", test_untold_units },
  { "/studio/own-parts/refused-tables", test_refused_tables },
  { "/studio/own-parts/faults", test_faults },
  { "/studio/own-parts/closed-meanwhile", test_closed_meanwhile },
  { "/studio/own-parts/dark-narrow", test_dark_narrow },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
