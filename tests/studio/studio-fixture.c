/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio-fixture.h"

#include <libintl.h>
#include <locale.h>
#include <string.h>

/* Longest wait for anything [us]: a busy machine is slow, under a sanitizer the more so. */
#ifdef __SANITIZE_ADDRESS__
#define PATIENCE (60 * G_USEC_PER_SEC)
#else
#define PATIENCE (20 * G_USEC_PER_SEC)
#endif

NappeApplication *
studio_fixture_application (void)
{
  NappeApplication *application = nappe_application_new ();
  g_autoptr (GError) error = NULL;

  g_application_set_flags (G_APPLICATION (application), G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE);
  g_application_register (G_APPLICATION (application), NULL, &error);
  g_assert_no_error (error);
  g_application_set_default (G_APPLICATION (application));
  return application;
}

void
studio_fixture_open (StudioFixture *self, NappeApplication *application)
{
  self->application = application;
  self->window = nappe_window_new (GTK_APPLICATION (application), nappe_application_get_preferences (application));
  self->document = g_object_ref (nappe_window_get_document (self->window));
  gtk_window_present (GTK_WINDOW (self->window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (self->window));
}

void
studio_fixture_wait (StudioFixture *self, StudioCondition condition)
{
  gint64 end = g_get_monotonic_time () + PATIENCE;

  while (!condition (self) && g_get_monotonic_time () < end)
    {
      if (!g_main_context_iteration (NULL, FALSE))
        g_usleep (1000);
    }
  g_assert_true (condition (self));
}

static gboolean
is_computed (StudioFixture *self)
{
  return nappe_document_get_outcome (self->document) != NULL && !nappe_document_is_busy (self->document);
}

void
studio_fixture_settle (StudioFixture *self)
{
  studio_fixture_wait (self, is_computed);
  for (int frame = 0; frame < 3; frame++)
    {
      gtk_widget_queue_draw (GTK_WIDGET (self->window));
      gtk_test_widget_wait_for_draw (GTK_WIDGET (self->window));
    }
}

void
studio_fixture_load (StudioFixture *self, const char *demo)
{
  g_autofree char *source = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", demo, NULL);
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), demo, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  gsize length;

  g_file_get_contents (source, &text, &length, &error);
  g_assert_no_error (error);
  g_file_set_contents (path, text, (gssize) length, &error);
  g_assert_no_error (error);
  nappe_window_open_file (self->window, file);
  studio_fixture_settle (self);
}

void
studio_fixture_close (StudioFixture *self)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  /* What is still under way keeps the document; it is let go when it ends. */
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_clear_object (&self->document);
}

void
studio_fixture_act (StudioFixture *self, const char *action, const char *parameter)
{
  GVariant *value = parameter != NULL ? g_variant_new_string (parameter) : NULL;

  if (g_str_has_prefix (action, "app."))
    {
      const char *name = action + strlen ("app.");

      g_assert_true (g_action_group_has_action (G_ACTION_GROUP (self->application), name));
      g_action_group_activate_action (G_ACTION_GROUP (self->application), name, value);
    }
  else
    {
      g_assert_true (gtk_widget_activate_action_variant (GTK_WIDGET (self->window), action, value));
    }
}

GtkWidget *
studio_fixture_find (GtkWidget *root, GType type, const char *css_class)
{
  if (g_type_is_a (G_OBJECT_TYPE (root), type) && (css_class == NULL || gtk_widget_has_css_class (root, css_class)))
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = studio_fixture_find (child, type, css_class);

      if (found != NULL)
        return found;
    }
  return NULL;
}

GdkTexture *
studio_fixture_texture (GtkWidget *widget)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  int width = gdk_paintable_get_intrinsic_width (paintable), height = gdk_paintable_get_intrinsic_height (paintable);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  GskRenderer *renderer = gsk_cairo_renderer_new ();
  GskRenderNode *node;
  GdkTexture *texture;

  g_assert_cmpint (width, >, 0);
  gdk_paintable_snapshot (paintable, snapshot, width, height);
  node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  gsk_renderer_realize (renderer, NULL, NULL);
  texture = gsk_renderer_render_texture (renderer, node,
                                         &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  gsk_render_node_unref (node);
  gsk_renderer_unrealize (renderer);
  g_object_unref (renderer);
  return texture;
}

void
studio_fixture_picture (StudioFixture *self, const char *name)
{
  studio_fixture_picture_of (self, GTK_WIDGET (self->window), name);
}

void
studio_fixture_picture_of (StudioFixture *self, GtkWidget *window, const char *name)
{
  g_autoptr (GdkTexture) texture = NULL;
  g_autofree char *folder = g_test_build_filename (G_TEST_BUILT, "studio", NULL);
  g_autofree char *file = g_strconcat (name, ".png", NULL);
  g_autofree char *path = g_build_filename (folder, file, NULL);

  /* Transitions of switches, stacks and panels have ended by then. */
  for (gint64 end = g_get_monotonic_time () + G_USEC_PER_SEC / 2; g_get_monotonic_time () < end;)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  studio_fixture_settle (self);
  texture = studio_fixture_texture (window);
  g_mkdir_with_parents (folder, 0755);
  g_assert_true (gdk_texture_save_to_png (texture, path));
}

void
studio_fixture_pause (double seconds)
{
  for (gint64 end = g_get_monotonic_time () + (gint64) (seconds * G_USEC_PER_SEC); g_get_monotonic_time () < end;)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
}

GtkWidget *
studio_fixture_find_window (GType type)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *window = windows; window != NULL; window = window->next)
    if (g_type_is_a (G_OBJECT_TYPE (window->data), type))
      return window->data;
  return NULL;
}

GtkWidget *
studio_fixture_find_dialog (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *window = windows; window != NULL; window = window->next)
    if (ADW_IS_MESSAGE_DIALOG (window->data) && gtk_widget_get_visible (window->data))
      return window->data;
  return NULL;
}

gboolean
studio_fixture_is_asking (StudioFixture *self)
{
  return studio_fixture_find_dialog () != NULL;
}

void
studio_fixture_answer (StudioFixture *self, const char *response)
{
  g_autoptr (GtkWidget) dialog = NULL;

  studio_fixture_wait (self, studio_fixture_is_asking);
  dialog = g_object_ref (studio_fixture_find_dialog ());
  adw_message_dialog_response (ADW_MESSAGE_DIALOG (dialog), response);
  gtk_window_destroy (GTK_WINDOW (dialog));
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
studio_fixture_run (int *argc, char ***argv, const StudioTest *tests, gsize n)
{
  NappeApplication *application;
  const char *translations = g_getenv ("NAPPE_LOCALE_DIR");
  int status;

  gtk_test_init (argc, argv, NULL);
  if (translations != NULL)
    {
      /* The toolkit's tests speak English only. */
      setlocale (LC_ALL, "");
      bindtextdomain (GETTEXT_PACKAGE, translations);
      bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
    }
  adw_init ();
  g_test_set_nonfatal_assertions ();
  application = studio_fixture_application ();
  g_action_group_activate_action (G_ACTION_GROUP (application), "style", g_variant_new_string ("light"));
  for (gsize i = 0; i < n; i++)
    g_test_add (tests[i].path, StudioFixture, application, set_up, tests[i].run, tear_down);
  status = g_test_run ();
  g_object_unref (application);
  return status;
}

GtkWidget *
studio_fixture_find_row (GtkWidget *root, const char *title)
{
  if (ADW_IS_PREFERENCES_ROW (root) && g_strcmp0 (adw_preferences_row_get_title (ADW_PREFERENCES_ROW (root)), title) == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = studio_fixture_find_row (child, title);

      if (found != NULL)
        return found;
    }
  return NULL;
}

gboolean
studio_fixture_can_press (GtkWidget *root, const char *action)
{
  if (GTK_IS_BUTTON (root) && g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (root)), action) == 0)
    return gtk_widget_is_sensitive (root);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (studio_fixture_can_press (child, action))
      return TRUE;
  return FALSE;
}

void
studio_fixture_choose (GtkWidget *root, const char *title, guint index)
{
  adw_combo_row_set_selected (ADW_COMBO_ROW (studio_fixture_find_row (root, title)), index);
}

NappePreferencesWindow *
studio_fixture_open_preferences (StudioFixture *self)
{
  GtkWidget *window;

  studio_fixture_act (self, "app.preferences", NULL);
  window = studio_fixture_find_window (NAPPE_TYPE_PREFERENCES_WINDOW);
  g_assert_nonnull (window);
  return NAPPE_PREFERENCES_WINDOW (window);
}
