/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is open: files dropped in, a file opened twice, what was open last, steps by name. */
#include <glib/gstdio.h>

#include "studio-fixture.h"
#include "studio/application/session.h"
#include "studio/preferences/preferences-window.h"
#include "studio/preferences/pump-window.h"

#define DEMO "single-drain.nappe"

static GFile *
file_of (StudioFixture *self)
{
  return nappe_document_get_file (self->document);
}

static void
change (StudioFixture *self)
{
  NappeBuild *build = nappe_document_get_build (self->document);

  g_assert_true (nappe_build_set_number (build, build->stand, "height", 0.72, NULL));
}

static gboolean
error_is_shown (StudioFixture *self)
{
  return gtk_info_bar_get_revealed (GTK_INFO_BAR (studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_INFO_BAR, NULL)));
}

static void
drop (StudioFixture *self, GFile *file)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (self->window));
  GSList files = { file, NULL };
  GValue value = G_VALUE_INIT;
  gboolean taken = FALSE;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, &files);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_DROP_TARGET (controller))
        g_signal_emit_by_name (controller, "drop", &value, 1.0, 1.0, &taken);
    }
  g_assert_true (taken);
  g_value_unset (&value);
}

static void
test_drop (StudioFixture *self, gconstpointer data)
{
  g_autofree char *demo = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", DEMO, NULL);
  g_autofree char *picture = g_build_filename (g_get_tmp_dir (), "photo.png", NULL);
  g_autoptr (GFile) folder = g_file_new_for_path (g_get_tmp_dir ()), photo = g_file_new_for_path (picture);
  g_autoptr (GFile) build = g_file_new_for_path (demo);

  g_assert_true (g_file_set_contents (picture, "\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16, NULL));
  drop (self, folder);
  studio_fixture_wait (self, error_is_shown);
  g_assert_true (nappe_window_is_empty (self->window));
  drop (self, photo);
  studio_fixture_pause (0.5);
  g_assert_true (error_is_shown (self));
  g_assert_true (nappe_window_is_empty (self->window));
  drop (self, build);
  studio_fixture_settle (self);
  g_assert_false (error_is_shown (self));
  g_assert_true (g_file_equal (file_of (self), build));
  g_unlink (picture);
}

static gboolean
has_pump_window (StudioFixture *self)
{
  return studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW) != NULL;
}

/* A table is no build: a pump is made of it. */
static void
test_drop_table (StudioFixture *self, gconstpointer data)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "Curve.CSV", NULL);
  g_autoptr (GFile) table = g_file_new_for_path (path);
  GtkWindow *preferences;

  g_assert_true (g_file_set_contents (path, "l/h;m\n0;4\n1000;1\n", -1, NULL));
  drop (self, table);
  studio_fixture_wait (self, has_pump_window);
  preferences = gtk_window_get_transient_for (GTK_WINDOW (studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW)));
  g_assert_true (ADW_IS_PREFERENCES_WINDOW (preferences));
  g_assert_true (NAPPE_IS_OWN_PARTS_PAGE (adw_preferences_window_get_visible_page (ADW_PREFERENCES_WINDOW (preferences))));
  g_assert_false (error_is_shown (self));
  g_assert_true (nappe_window_is_empty (self->window));
  gtk_window_close (GTK_WINDOW (studio_fixture_find_window (NAPPE_TYPE_PUMP_WINDOW)));
  gtk_window_close (preferences);
  g_unlink (path);
}

/* A file that is open already is brought to the front. */
static void
test_once (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) file = NULL;
  guint before;

  studio_fixture_load (self, DEMO);
  file = g_object_ref (file_of (self));
  before = g_list_length (gtk_application_get_windows (GTK_APPLICATION (self->application)));
  nappe_window_open_file (self->window, file);
  studio_fixture_pause (0.3);
  g_assert_cmpuint (g_list_length (gtk_application_get_windows (GTK_APPLICATION (self->application))), ==, before);
}

static GtkWidget *
find_main_menu (GtkWidget *root)
{
  GtkWidget *found = NULL;

  if (GTK_IS_MENU_BUTTON (root))
    return gtk_menu_button_get_primary (GTK_MENU_BUTTON (root)) ? root : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_main_menu (child);
  return found;
}

/* Steps by name in the menu as in the buttons' hints. */
static void
test_history_menu (StudioFixture *self, gconstpointer data)
{
  GtkWidget *button;
  GMenuModel *menu, *section = NULL;
  g_autofree char *label = NULL, *hint = NULL;

  studio_fixture_load (self, DEMO);
  change (self);
  button = find_main_menu (GTK_WIDGET (self->window));
  gtk_menu_button_popup (GTK_MENU_BUTTON (button));
  menu = gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (button));
  for (int i = 0; i < g_menu_model_get_n_items (menu) && label == NULL; i++)
    {
      g_autofree char *action = NULL;

      section = g_menu_model_get_item_link (menu, i, G_MENU_LINK_SECTION);
      if (g_menu_model_get_item_attribute (section, 0, "action", "s", &action) && g_str_equal (action, "win.undo"))
        g_menu_model_get_item_attribute (section, 0, "label", "s", &label);
      g_object_unref (section);
    }
  hint = g_strconcat ("_Undo: ", nappe_build_undo_label (nappe_document_get_build (self->document)), NULL);
  g_assert_cmpstr (label, ==, hint);
  gtk_menu_button_popdown (GTK_MENU_BUTTON (button));
}

/* A program started without a file goes on where it was left. */
static void
test_session (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = nappe_application_get_preferences (self->application);
  g_autoptr (GFile) file = NULL;
  g_autofree char *view = NULL;

  studio_fixture_load (self, DEMO);
  file = g_object_ref (file_of (self));
  studio_fixture_act (self, "win.view", "plan");
  g_object_unref (self->document);
  gtk_window_close (GTK_WINDOW (self->window));
  studio_fixture_pause (0.2);
  g_assert_null (gtk_application_get_windows (GTK_APPLICATION (self->application)));
  g_object_set (preferences, "reopen", FALSE, NULL);
  g_assert_false (nappe_session_restore (GTK_APPLICATION (self->application), preferences));
  g_object_set (preferences, "reopen", TRUE, NULL);
  g_application_activate (G_APPLICATION (self->application));
  self->window = NAPPE_WINDOW (gtk_application_get_windows (GTK_APPLICATION (self->application))->data);
  self->document = g_object_ref (nappe_window_get_document (self->window));
  studio_fixture_settle (self);
  g_assert_true (g_file_equal (file_of (self), file));
  g_object_get (self->window, "view", &view, NULL);
  g_assert_cmpstr (view, ==, "plan");
}

static gboolean
remembers_two (StudioFixture *self)
{
  g_autoptr (GVariant) session = nappe_preferences_get_session (nappe_application_get_preferences (self->application));

  return g_variant_n_children (session) == 2;
}

/* One window that closes takes itself out; the program that ends remembers them all. */
static void
test_session_of_two (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = nappe_application_get_preferences (self->application);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", "two-drain.nappe", NULL);
  g_autoptr (GFile) other = g_file_new_for_path (path);
  g_autoptr (GVariant) one = NULL, all = NULL;
  NappeWindow *second;

  studio_fixture_load (self, DEMO);
  for (int round = 0; round < 2; round++)
    {
      nappe_window_open_file (self->window, other);
      while ((second = nappe_window_find (GTK_APPLICATION (self->application), other)) == NULL)
        g_main_context_iteration (NULL, TRUE);
      studio_fixture_wait (self, remembers_two);
      if (round == 0)
        {
          gtk_window_close (GTK_WINDOW (second));
          one = nappe_preferences_get_session (preferences);
          g_assert_cmpuint (g_variant_n_children (one), ==, 1);
        }
    }
  change (self);
  studio_fixture_act (self, "app.quit", NULL);
  studio_fixture_pause (0.2);
  g_assert_null (nappe_window_find (GTK_APPLICATION (self->application), other));
  all = nappe_preferences_get_session (preferences);
  g_assert_cmpuint (g_variant_n_children (all), ==, 2);
  studio_fixture_answer (self, "cancel");
}

static void
set_up (StudioFixture *self, gconstpointer application)
{
  studio_fixture_open (self, (NappeApplication *) application);
}

static void
tear_down (StudioFixture *self, gconstpointer application)
{
  studio_fixture_close (self);
}

int
main (int argc, char **argv)
{
  const struct
  {
    const char *path;
    void (*test) (StudioFixture *, gconstpointer);
  } tests[] = {
    { "/studio/session/drop", test_drop },
    { "/studio/session/drop-table", test_drop_table },
    { "/studio/session/once", test_once },
    { "/studio/session/restored", test_session },
    { "/studio/session/of-two", test_session_of_two },
    { "/studio/session/history-menu", test_history_menu },
  };
  NappeApplication *application;
  int status;

  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_set_nonfatal_assertions ();
  application = studio_fixture_application ();
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, StudioFixture, application, set_up, tests[i].test, tear_down);
  status = g_test_run ();
  g_object_unref (application);
  return status;
}
