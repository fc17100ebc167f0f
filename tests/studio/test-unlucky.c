/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that are none, folders that go, disks that refuse, windows closed too early: a clear message or no harm, the
 * work intact. */
#include <sys/stat.h>
#include <unistd.h>
#include <utime.h>

#include <glib/gstdio.h>

#include "file/file.h"
#include "file/rescue.h"
#include "studio-fixture.h"
#include "studio/application/recovery.h"
#include "studio/application/session.h"
#include "studio/window/export.h"
#include "studio/window/window-private.h"

#define DEMO "single-drain.nappe"
#define MINE 0.72

static double
height_of (NappeBuild *build)
{
  return NAPPE_BUILD_STAND (build)->height;
}

static double
height_in (GFile *file)
{
  g_autoptr (NappeBuild) build = nappe_file_read (file, NULL, NULL);

  return build != NULL ? height_of (build) : -1.0;
}

static void
change (StudioFixture *self, double height)
{
  NappeBuild *build = nappe_document_get_build (self->document);

  g_assert_true (nappe_build_set_number (build, build->stand, "height", height, NULL));
}

static GtkInfoBar *
error_bar (StudioFixture *self)
{
  return GTK_INFO_BAR (studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_INFO_BAR, NULL));
}

static gboolean
error_is_shown (StudioFixture *self)
{
  return gtk_info_bar_get_revealed (error_bar (self));
}

static gboolean
is_unmodified (StudioFixture *self)
{
  return !nappe_document_is_modified (self->document);
}

static const char *
error_text (StudioFixture *self)
{
  return gtk_label_get_text (GTK_LABEL (studio_fixture_find (GTK_WIDGET (error_bar (self)), GTK_TYPE_LABEL, NULL)));
}

static guint
count_windows (StudioFixture *self)
{
  return g_list_length (gtk_application_get_windows (GTK_APPLICATION (self->application)));
}

static void
close_others (StudioFixture *self)
{
  g_autoptr (GList) windows = g_list_copy (gtk_application_get_windows (GTK_APPLICATION (self->application)));

  for (GList *window = windows; window != NULL; window = window->next)
    if (window->data != self->window && NAPPE_IS_WINDOW (window->data))
      gtk_window_destroy (window->data);
}

static GFile *
file_of (const char *name)
{
  return g_file_new_build_filename (g_get_tmp_dir (), name, NULL);
}

static GFile *
demo_file (const char *name)
{
  return g_file_new_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", name, NULL);
}

/* A window may be kept by what is under way, and no longer. */
static void
close_and_wait (StudioFixture *self)
{
  g_object_add_weak_pointer (G_OBJECT (self->window), (gpointer *) &self->window);
  gtk_window_destroy (GTK_WINDOW (self->window));
  for (gint64 end = g_get_monotonic_time () + 20 * G_USEC_PER_SEC; self->window != NULL && g_get_monotonic_time () < end;)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  g_assert_null (self->window);
  g_clear_object (&self->document);
  studio_fixture_open (self, self->application);
}

/* What is opened */

/* A file system that does not answer, until somebody gives it up. */
typedef struct
{
  GObject parent_instance;
} SlowFile;
typedef GObjectClass SlowFileClass;

static int asked; /* how often it was */

static GFileInfo *
slow_query_info (GFile *file, const char *attributes, GFileQueryInfoFlags flags, GCancellable *cancellable, GError **error)
{
  g_atomic_int_inc (&asked);
  while (!g_cancellable_set_error_if_cancelled (cancellable, error))
    g_usleep (1000);
  return NULL;
}

static char *
slow_name (GFile *file)
{
  return g_strdup ("far.nappe");
}

static char *
slow_uri (GFile *file)
{
  return g_strdup ("far://away/far.nappe");
}

static char *
slow_path (GFile *file)
{
  return NULL;
}

static gboolean
slow_equal (GFile *a, GFile *b)
{
  return a == b;
}

static GFile *
slow_parent (GFile *file)
{
  return NULL;
}

static void
slow_file_iface (GFileIface *iface)
{
  iface->get_basename = slow_name;
  iface->get_uri = slow_uri;
  iface->get_parse_name = slow_uri;
  iface->get_path = slow_path;
  iface->get_parent = slow_parent;
  iface->equal = slow_equal;
  iface->query_info = slow_query_info;
}

static GType slow_file_get_type (void);
G_DEFINE_TYPE_WITH_CODE (SlowFile, slow_file, G_TYPE_OBJECT, G_IMPLEMENT_INTERFACE (G_TYPE_FILE, slow_file_iface))

static void
slow_file_class_init (SlowFileClass *class)
{
}

static void
slow_file_init (SlowFile *self)
{
}

static gboolean
is_asked (StudioFixture *self)
{
  return g_atomic_int_get (&asked) > 0;
}

static void
test_slow_file (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) slow = g_object_new (slow_file_get_type (), NULL);

  asked = 0;
  nappe_window_open_file (self->window, slow);
  studio_fixture_wait (self, is_asked);
  g_assert_false (nappe_window_is_empty (self->window));
  nappe_window_open_file (self->window, slow);
  g_assert_cmpuint (count_windows (self), ==, 1);
  studio_fixture_act (self, "win.stop-loading", NULL);
  g_assert_true (nappe_window_is_empty (self->window));
  studio_fixture_pause (0.2);
  g_assert_false (error_is_shown (self));
  studio_fixture_load (self, DEMO);
  /* A window that is closed gives it up, too. */
  close_and_wait (self);
  asked = 0;
  nappe_window_open_file (self->window, slow);
  studio_fixture_wait (self, is_asked);
  gtk_window_close (GTK_WINDOW (self->window));
  close_and_wait (self);
}

/* None hangs, and each is told of. */
static void
test_no_build (StudioFixture *self, gconstpointer data)
{
  static const char *const names[] = { "pipe", "folder", "large", "empty", "zero", "loop", "missing" };
  g_autofree char *zero = g_build_filename (g_get_tmp_dir (), "zero", NULL),
                  *loop = g_build_filename (g_get_tmp_dir (), "loop", NULL);
  g_autofree char *pipe = g_build_filename (g_get_tmp_dir (), "pipe", NULL),
                  *folder = g_build_filename (g_get_tmp_dir (), "folder", NULL);
  g_autofree char *large = g_build_filename (g_get_tmp_dir (), "large", NULL),
                  *empty = g_build_filename (g_get_tmp_dir (), "empty", NULL);

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  g_assert_true (g_file_set_contents (large, "{", 1, NULL));
  g_assert_cmpint (truncate (large, 1024L * 1024 * 1024), ==, 0);
  g_assert_true (g_file_set_contents (empty, "", 0, NULL));
  g_assert_cmpint (symlink ("/dev/zero", zero), ==, 0);
  g_assert_cmpint (symlink ("loop", loop), ==, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GFile) file = file_of (names[i]);

      gtk_info_bar_set_revealed (error_bar (self), FALSE);
      nappe_window_open_file (self->window, file);
      studio_fixture_wait (self, error_is_shown);
      g_assert_nonnull (g_strstr_len (error_text (self), -1, names[i]));
      g_assert_true (nappe_window_is_empty (self->window));
    }
}

static void
drop (StudioFixture *self, GSList *files)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (self->window));
  GValue value = G_VALUE_INIT;
  gboolean taken = FALSE;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, files);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_DROP_TARGET (controller))
        g_signal_emit_by_name (controller, "drop", &value, 1.0, 1.0, &taken);
    }
  g_assert_true (taken);
  g_value_unset (&value);
}

/* Each has a window of its own, and none takes another's. */
static void
test_dropped_together (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) one = demo_file ("single-drain.nappe"), two = demo_file ("two-drain.nappe");
  g_autoslist (GFile) many = NULL;
  GSList second = { two, NULL }, again = { one, &second }, files = { one, &again };

  drop (self, &files);
  studio_fixture_settle (self);
  g_assert_true (g_file_equal (nappe_document_get_file (self->document), one));
  g_assert_cmpuint (count_windows (self), ==, 2);
  g_assert_nonnull (nappe_window_find (GTK_APPLICATION (self->application), two));
  close_others (self);
  for (guint i = 0; i < 100; i++)
    {
      g_autofree char *name = g_strdup_printf ("none-%u.nappe", i);
      many = g_slist_prepend (many, file_of (name));
    }
  drop (self, many);
  g_assert_cmpuint (count_windows (self), ==, 1 + NAPPE_WINDOW_FILES_MAX);
  studio_fixture_pause (0.5);
  close_others (self);
}

static void
test_closed_while_opening (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) file = demo_file ("three-drain.nappe");

  for (guint rounds = 0; rounds < 12; rounds++)
    {
      nappe_window_open_file (self->window, file);
      for (guint i = 0; i < rounds * rounds; i++)
        g_main_context_iteration (NULL, FALSE);
      close_and_wait (self);
    }
}

/* Saving */

static void
test_closed_while_saving (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) file = file_of (DEMO);

  studio_fixture_load (self, DEMO);
  change (self, MINE);
  studio_fixture_act (self, "win.save", NULL);
  close_and_wait (self);
  g_assert_cmpfloat (height_in (file), ==, MINE);
}

static void
test_saved_twice (StudioFixture *self, gconstpointer data)
{
  GFile *file;

  studio_fixture_load (self, DEMO);
  file = nappe_document_get_file (self->document);
  for (guint i = 0; i < 4; i++)
    {
      change (self, MINE + 0.01 * i);
      studio_fixture_act (self, "win.save", NULL);
    }
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in (file), ==, MINE + 0.03);
  studio_fixture_pause (0.8);
  g_assert_cmpint (nappe_document_get_disk (self->document), ==, NAPPE_DISK_SAME);
  g_assert_false (error_is_shown (self));
}

/* Why it was not saved, or that something else is in the file's place. */
static gboolean
is_told (StudioFixture *self)
{
  return error_is_shown (self) || nappe_document_get_disk (self->document) == NAPPE_DISK_CHANGED;
}

/* Tries to save; says why it cannot be, and keeps all. */
static void
fail_to_save (StudioFixture *self)
{
  gtk_info_bar_set_revealed (error_bar (self), FALSE);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_told);
  g_assert_true (nappe_document_is_modified (self->document));
  g_assert_cmpfloat (height_of (nappe_document_get_build (self->document)), ==, MINE);
}

static void
test_folder_gone (StudioFixture *self, gconstpointer data)
{
  g_autofree char *folder = g_dir_make_tmp ("gone-XXXXXX", NULL), *path = g_build_filename (folder, "reef.nappe", NULL);
  g_autofree char *away = g_strconcat (folder, "-away", NULL), *text = NULL;
  g_autoptr (GFile) file = g_file_new_for_path (path), demo = demo_file (DEMO);

  g_assert_true (g_file_copy (demo, file, G_FILE_COPY_NONE, NULL, NULL, NULL, NULL));
  nappe_window_open_file (self->window, file);
  studio_fixture_settle (self);
  change (self, MINE);
  g_assert_cmpint (g_rename (folder, away), ==, 0);
  fail_to_save (self);
  /* A file in its place, then a folder in the file's. */
  g_assert_true (g_file_set_contents (folder, "", 0, NULL));
  fail_to_save (self);
  g_assert_cmpint (g_unlink (folder), ==, 0);
  g_assert_cmpint (g_mkdir_with_parents (path, 0700), ==, 0);
  fail_to_save (self);
  g_assert_cmpint (g_rmdir (path), ==, 0);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in (file), ==, MINE);
}

static void
test_read_only (StudioFixture *self, gconstpointer data)
{
  GFile *file;

  if (geteuid () == 0)
    {
      g_test_skip ("nothing is read-only for the superuser");
      return;
    }
  studio_fixture_load (self, DEMO);
  file = nappe_document_get_file (self->document);
  change (self, MINE);
  g_assert_cmpint (g_chmod (g_get_tmp_dir (), 0500), ==, 0);
  fail_to_save (self);
  g_assert_cmpint (g_chmod (g_get_tmp_dir (), 0700), ==, 0);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in (file), ==, MINE);
}

/* The link stays one, and what it leads to is written. */
static void
test_link (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) target = file_of ("target.nappe"), link = file_of ("link.nappe"), demo = demo_file (DEMO);
  g_autofree char *leads_to = NULL;

  g_assert_true (g_file_copy (demo, target, G_FILE_COPY_NONE, NULL, NULL, NULL, NULL));
  g_assert_cmpint (symlink ("target.nappe", g_file_peek_path (link)), ==, 0);
  nappe_window_open_file (self->window, link);
  studio_fixture_settle (self);
  change (self, MINE);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  leads_to = g_file_read_link (g_file_peek_path (link), NULL);
  g_assert_cmpstr (leads_to, ==, "target.nappe");
  g_assert_cmpfloat (height_in (target), ==, MINE);
}

static void
test_closed_while_exporting (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GFile) sheet = file_of ("sheet.pdf");
  g_autofree char *text = NULL;
  gsize length;

  studio_fixture_load (self, DEMO);
  nappe_export_sheet_async (nappe_document_get_outcome (self->document), DEMO, NAPPE_PAPER_A4, sheet, nappe_window_exported,
                            g_object_ref (self->window));
  close_and_wait (self);
  g_assert_true (g_file_load_contents (sheet, NULL, &text, &length, NULL, NULL));
  g_assert_true (g_str_has_prefix (text, "%PDF-"));
}

/* Closing */

static guint
count_questions (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  guint n = 0;

  for (GList *window = windows; window != NULL; window = window->next)
    n += ADW_IS_MESSAGE_DIALOG (window->data) && gtk_widget_get_visible (window->data);
  return n;
}

static void
test_asked_once (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change (self, MINE);
  for (guint i = 0; i < 3; i++)
    {
      gtk_window_close (GTK_WINDOW (self->window));
      studio_fixture_act (self, "app.quit", NULL);
      studio_fixture_pause (0.1);
    }
  g_assert_cmpuint (count_questions (), ==, 1);
  studio_fixture_answer (self, "cancel");
  g_assert_cmpuint (count_questions (), ==, 0);
  gtk_window_close (GTK_WINDOW (self->window));
  g_assert_cmpuint (count_questions (), ==, 1);
  studio_fixture_answer (self, "cancel");
  g_assert_true (nappe_document_is_modified (self->document));
}

/* What was kept */

/* There is no room for copies of unsaved changes: the person is told, and can save. */
static void
test_no_state_folder (StudioFixture *self, gconstpointer data)
{
  g_autofree char *folder = nappe_rescue_folder (), *above = g_path_get_dirname (folder);
  GFile *file;

  g_rmdir (folder);
  g_rmdir (above);
  g_assert_cmpint (g_mkdir_with_parents (g_get_user_state_dir (), 0700), ==, 0);
  g_assert_true (g_file_set_contents (above, "", 0, NULL));
  studio_fixture_load (self, DEMO);
  file = nappe_document_get_file (self->document);
  change (self, MINE);
  studio_fixture_wait (self, error_is_shown);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in (file), ==, MINE);
  g_assert_cmpint (g_unlink (above), ==, 0);
}

static void
leave (const char *text, gssize length, glong date)
{
  g_autofree char *folder = nappe_rescue_folder ();
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autoptr (NappeRescue) rescue = nappe_rescue_new (folder, NULL, NULL, NULL);
  const char *path = g_file_peek_path (nappe_rescue_get_file (rescue));
  const struct utimbuf times = { date, date };

  g_assert_true (nappe_build_set_number (build, build->stand, "height", MINE, NULL));
  g_assert_true (nappe_rescue_write (rescue, build, NULL));
  if (text != NULL)
    g_assert_true (g_file_set_contents (path, text, length, NULL));
  if (length > 1)
    g_assert_cmpint (truncate (path, length), ==, 0);
  g_assert_cmpint (g_utime (path, (struct utimbuf *) &times), ==, 0);
}

static gboolean
is_restored (StudioFixture *self)
{
  return nappe_document_get_build (self->document) != NULL && height_of (nappe_document_get_build (self->document)) == MINE;
}

/* Copies of any kind and of any date are offered; what can be read comes back, and what cannot stays for somebody to look at. */
static void
test_strange_copies (StudioFixture *self, gconstpointer data)
{
  g_autofree char *folder = nappe_rescue_folder (), *note = g_build_filename (folder, "unsaved-strange.keep", NULL);
  g_autofree char *copy = g_build_filename (folder, "unsaved-strange.nappe", NULL);
  g_autoptr (GPtrArray) left = NULL;

  leave (NULL, 0, 4000000000);
  leave ("{ \"format\": \"nappe-build\", \"version\": 999 }", -1, 0);
  leave ("\0\xff\xfe", 1, 1);
  g_assert_true (g_file_set_contents (note, "\0[Build\nOrigin=\xff", 16, NULL));
  g_assert_cmpint (mkfifo (copy, 0600), ==, 0);
  nappe_recovery_offer (GTK_APPLICATION (self->application), nappe_application_get_preferences (self->application));
  studio_fixture_wait (self, studio_fixture_is_asking);
  studio_fixture_answer (self, "restore");
  studio_fixture_wait (self, is_restored);
  g_assert_cmpuint (count_windows (self), ==, 1);
  studio_fixture_pause (0.3);
  left = nappe_rescue_claim_all (folder);
  g_assert_cmpuint (left->len, ==, 3);
  while (left->len > 0)
    nappe_rescue_discard (g_ptr_array_steal_index (left, 0));
}

/* What was open last, as another program or version may have left it. */
static void
test_strange_session (StudioFixture *self, gconstpointer data)
{
  NappePreferences *preferences = nappe_application_get_preferences (self->application);
  static const char *const uris[] = { "", "::", "file:///dev/zero", "file:///%ff%00", "no-such-scheme://x/y" };
  GVariantBuilder session;

  g_variant_builder_init (&session, G_VARIANT_TYPE ("a(ss)"));
  for (gsize i = 0; i < G_N_ELEMENTS (uris); i++)
    g_variant_builder_add (&session, "(ss)", uris[i], i % 2 == 0 ? "nonsense" : "plan");
  nappe_preferences_set_session (preferences, g_variant_builder_end (&session));
  g_object_set (preferences, "units", "furlongs", "style", "", "paper", "\xe2\x98\x83", NULL);
  g_assert_true (nappe_session_restore (GTK_APPLICATION (self->application), preferences));
  studio_fixture_pause (1.0);
  g_assert_cmpuint (count_windows (self), >, 1);
  close_others (self);
  studio_fixture_act (self, "win.view", "nonsense");
  studio_fixture_act (self, "win.panel", "nonsense");
  studio_fixture_load (self, DEMO);
}

int
main (int argc, char **argv)
{
  static const StudioTest tests[] = {
    { "/studio/unlucky/slow-file", test_slow_file },
    { "/studio/unlucky/no-build", test_no_build },
    { "/studio/unlucky/dropped-together", test_dropped_together },
    { "/studio/unlucky/closed-while-opening", test_closed_while_opening },
    { "/studio/unlucky/closed-while-saving", test_closed_while_saving },
    { "/studio/unlucky/closed-while-exporting", test_closed_while_exporting },
    { "/studio/unlucky/saved-twice", test_saved_twice },
    { "/studio/unlucky/folder-gone", test_folder_gone },
    { "/studio/unlucky/read-only", test_read_only },
    { "/studio/unlucky/link", test_link },
    { "/studio/unlucky/asked-once", test_asked_once },
    { "/studio/unlucky/no-state-folder", test_no_state_folder },
    { "/studio/unlucky/strange-copies", test_strange_copies },
    { "/studio/unlucky/strange-session", test_strange_session },
  };

  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
