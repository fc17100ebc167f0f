/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lets somebody who tries everything at a window for some steps, and holds after each that nothing is lost, nothing stands still
 * and nothing complains.
 *   test-monkey [--seed N] [--seeds N] [--steps N] [--tell] */
#include "monkey.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include <glib/gstdio.h>

#include "file/file.h"

/* A round of the main loop, or a thing done, that takes the main thread longer is told of [s], and too long [s]. */
#define STALL 0.05
#if defined(__SANITIZE_ADDRESS__)
#define TOO_LONG 60.0
#else
#define TOO_LONG 2.0
#endif
/* Everything is undone and done again after so many steps. */
#define THOROUGH 25
/* Memory may grow so much in a run [MiB]; not held where a sanitizer keeps what was freed. */
#define GROWTH 300.0
/* Windows and dialogs in front; more are closed. */
#define MOST_WINDOWS 5

static int first_seed = 1, seeds = 2, steps = 60;
static gboolean tell;

static const GOptionEntry options[] = {
  { "seed", 0, 0, G_OPTION_ARG_INT, &first_seed, "The first seed", "N" },
  { "seeds", 0, 0, G_OPTION_ARG_INT, &seeds, "How many", "N" },
  { "steps", 0, 0, G_OPTION_ARG_INT, &steps, "Things done for each", "N" },
  { "tell", 0, 0, G_OPTION_ARG_NONE, &tell, "Say what is done, and what takes long", NULL },
  { 0 },
};

/* What the run is about, for whoever reads why it failed. */
static struct
{
  int seed, step;
  const char *did;
} now;

typedef struct
{
  Monkey monkey;   /* the first: its fixture is handed on, and means this */
  char *opened; /* the text of the build as it was put in */
  GObject *window; /* as long as anybody keeps it */
  double longest;  /* [s] */
} Run;

static double
thread_time (void)
{
  struct timespec time;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &time);
  return (double) time.tv_sec + 1e-9 * (double) time.tv_nsec;
}

static double
memory (void)
{
  g_autofree char *text = NULL;

  g_file_get_contents ("/proc/self/statm", &text, NULL, NULL);
  return text != NULL ? (double) g_ascii_strtoull (strchr (text, ' '), NULL, 10) * 4096.0 / (1024.0 * 1024.0) : 0.0;
}

/* What GTK 4.8 says of itself, whatever the program does: a hint that waits for a window that has closed; a label in
 * its window of keys. */
static gboolean
is_of_toolkit (const char *message)
{
  return strstr (message, "GDK_IS_SURFACE (surface)") != NULL || strstr (message, "reported min width") != NULL;
}

static const char *
message_of (const GLogField *fields, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (fields[i].key, "MESSAGE"))
      return fields[i].value;
  return "";
}

/* Any other complaint ends the program, as in every test; this says what led to it. */
static GLogWriterOutput
write_log (GLogLevelFlags level, const GLogField *fields, gsize n, gpointer data)
{
  gboolean bad = (level & (G_LOG_LEVEL_WARNING | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_ERROR)) != 0
                 && !is_of_toolkit (message_of (fields, n));

  if (bad)
    g_printerr ("# seed %d, step %d: %s\n", now.seed, now.step, now.did != NULL ? now.did : "");
  g_log_writer_default (level, fields, n, data);
  if (bad)
    abort ();
  return G_LOG_WRITER_HANDLED;
}

/* What must hold */

static char *
text_of (NappeBuild *build)
{
  return build != NULL ? nappe_file_write_text (build, NULL) : NULL;
}

static void
replaced (Run *run)
{
  g_free (run->opened);
  run->opened = text_of (nappe_document_get_build (run->monkey.fixture.document));
}

static GtkWidget *
find_button (GtkWidget *root, const char *action)
{
  GtkWidget *found = NULL;

  if (GTK_IS_BUTTON (root) && g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (root)), action) == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_button (child, action);
  return found;
}

static void
check_window (Run *run)
{
  StudioFixture *fixture = &run->monkey.fixture;
  const char *title = gtk_window_get_title (GTK_WINDOW (fixture->window));
  GtkWidget *undo = find_button (GTK_WIDGET (fixture->window), "win.undo"), *leave;

  g_assert_cmpint (g_str_has_prefix (title, "• "), ==, nappe_document_is_modified (fixture->document));
  leave = find_button (GTK_WIDGET (fixture->window), "win.leave-preview");
  g_assert_cmpint (gtk_widget_get_sensitive (undo), ==,
                   nappe_document_can_undo (fixture->document) && !gtk_widget_get_mapped (leave));
  if (run->monkey.depth == 0)
    g_assert_false (nappe_document_has_draft (fixture->document));
}

/* Undone to the first step it is what was opened, and done again it is what it was. */
static void
check_history (Run *run)
{
  StudioFixture *fixture = &run->monkey.fixture;
  NappeBuild *build = nappe_document_get_build (fixture->document);
  g_autofree char *before = text_of (build), *first = NULL, *after = NULL;
  guint undone = 0;

  if (build == NULL)
    return;
  studio_fixture_settle (fixture);
  g_assert_true (nappe_part_equal (NAPPE_PART (nappe_document_get_outcome (fixture->document)->build), NAPPE_PART (build)));
  for (; nappe_build_can_undo (build); undone++)
    nappe_build_undo (build);
  first = text_of (build);
  g_assert_cmpstr (first, ==, run->opened);
  for (; undone > 0; undone--)
    nappe_build_redo (build);
  after = text_of (build);
  g_assert_cmpstr (after, ==, before);
  studio_fixture_settle (fixture);
  check_window (run);
}

/* The window comes and goes */

static void
window_gone (Run *run)
{
  run->monkey.fixture.window = NULL;
}

static void
put_file (Run *run)
{
  g_autofree char *demo
      = g_build_filename (run->monkey.folder, now.seed % 2 == 0 ? "two-drain.nappe" : "single-drain.nappe", NULL);
  g_autofree char *text = NULL;

  g_assert_true (g_file_get_contents (demo, &text, NULL, NULL));
  g_rmdir (g_file_peek_path (run->monkey.file));
  g_assert_true (g_file_set_contents (g_file_peek_path (run->monkey.file), text, -1, NULL));
}

static void
open_window (Run *run)
{
  StudioFixture *fixture = &run->monkey.fixture;

  put_file (run);
  studio_fixture_open (fixture, fixture->application);
  g_set_weak_pointer (&run->window, G_OBJECT (fixture->window));
  g_signal_connect_swapped (fixture->window, "unrealize", G_CALLBACK (window_gone), run);
  g_signal_connect_swapped (fixture->document, "replaced", G_CALLBACK (replaced), run);
  nappe_window_open_file (fixture->window, run->monkey.file);
  studio_fixture_settle (fixture);
}

static gboolean
has_let_go (StudioFixture *fixture)
{
  return ((Run *) fixture)->window == NULL && G_OBJECT (fixture->document)->ref_count == 1;
}

/* Nobody may keep what belonged to a window that has gone. */
static void
forget_window (Run *run)
{
  StudioFixture *fixture = &run->monkey.fixture;

  g_signal_handlers_disconnect_by_data (fixture->document, run);
  studio_fixture_wait (fixture, has_let_go);
  g_clear_object (&fixture->document);
}

static void
close_others (Run *run)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  guint n = g_list_length (windows);

  for (GList *window = windows; window != NULL; window = window->next)
    if (NAPPE_IS_WINDOW (window->data) && window->data != run->monkey.fixture.window)
      gtk_window_destroy (window->data);
    else if (!NAPPE_IS_WINDOW (window->data) && n > MOST_WINDOWS)
      gtk_window_close (window->data);
}

/* One thing, and the rounds of the main loop that follow. */
static void
step (Run *run)
{
  guint rounds = 1 + monkey_pick (&run->monkey, 30);
  double start = thread_time ();

  monkey_act (&run->monkey);
  for (guint i = 0; i <= rounds; i++)
    {
      double took = thread_time () - start;

      run->longest = MAX (run->longest, took);
      if (tell && took > STALL)
        g_test_message ("seed %d, step %d: %.0f ms after %s", now.seed, now.step, 1e3 * took, now.did);
      g_assert_cmpfloat (took, <, TOO_LONG);
      start = thread_time ();
      if (!g_main_context_iteration (NULL, FALSE))
        g_usleep (500);
    }
  close_others (run);
}

static void
go_on (Run *run)
{
  g_string_truncate (run->monkey.did, 0);
  step (run);
  if (tell)
    g_test_message ("%d.%d %s", now.seed, now.step, now.did);
  if (run->monkey.fixture.window == NULL)
    {
      forget_window (run);
      open_window (run);
    }
  check_window (run);
  if (now.step % THOROUGH == THOROUGH - 1)
    check_history (run);
}

/* Files of all sorts */

static void
put (const char *folder, const char *name, const char *text, gssize length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  g_assert_true (g_file_set_contents (path, text, length, NULL));
}

static char *
make_folder (void)
{
  char *folder = g_dir_make_tmp ("files-XXXXXX", NULL);
  static const char *const demos[] = { "single-drain.nappe", "two-drain.nappe", "three-drain.nappe" };
  g_autofree char *pipe = g_build_filename (folder, "pipe.nappe", NULL), *below = g_build_filename (folder, "folder.nappe", NULL);
  g_autofree char *loop = g_build_filename (folder, "loop.nappe", NULL), *zero = g_build_filename (folder, "zero.nappe", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", demos[i], NULL), *text = NULL;

      g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
      put (folder, demos[i], text, -1);
    }
  put (folder, "empty.nappe", "", 0);
  put (folder, "list.nappe", "[1, 2, 3]", -1);
  put (folder, "photo.png", "\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16);
  put (folder, "newer.nappe", "{ \"format\": \"nappe-build\", \"version\": 999 }", -1);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_cmpint (g_mkdir (below, 0700), ==, 0);
  g_assert_cmpint (symlink ("loop.nappe", loop), ==, 0);
  g_assert_cmpint (symlink ("/dev/zero", zero), ==, 0);
  return folder;
}

static void
test_monkey (gconstpointer application)
{
  Run run = { .monkey = { .rand = g_rand_new_with_seed ((guint32) now.seed), .did = g_string_new (NULL) } };
  g_autofree char *folder = make_folder (), *path = g_build_filename (g_get_tmp_dir (), "monkey.nappe", NULL);
  double before;

  run.monkey.fixture.application = (NappeApplication *) application;
  run.monkey.folder = folder;
  run.monkey.file = g_file_new_for_path (path);
  open_window (&run);
  before = memory ();
  for (now.step = 0; now.step < steps; now.step++)
    {
      now.did = run.monkey.did->str;
      go_on (&run);
      now.did = run.monkey.did->str;
    }
  check_history (&run);
  g_test_message ("seed %d: main thread busy for at most %.0f ms at a time; memory %.0f MiB, %.0f more than at first", now.seed,
                  1e3 * run.longest, memory (), memory () - before);
#if !defined(__SANITIZE_ADDRESS__)
  g_assert_cmpfloat (memory () - before, <, GROWTH);
#endif
  gtk_window_destroy (GTK_WINDOW (run.monkey.fixture.window));
  forget_window (&run);
  g_object_unref (run.monkey.file);
  g_rand_free (run.monkey.rand);
  g_string_free (run.monkey.did, TRUE);
  g_free (run.opened);
}

/* Where no window is: a pointer that hovers would bring up hints in its own time, not in that of a seed. */
static void
put_pointer_away (void)
{
  const char *const command[] = { "xdotool", "mousemove", "1399", "899", NULL };

  g_assert_true (g_spawn_sync (NULL, (char **) command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
}

static void
run_seed (gconstpointer application)
{
  test_monkey (application);
  now.seed++;
}

int
main (int argc, char **argv)
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  NappeApplication *application;
  int status;

  g_option_context_add_main_entries (context, options, NULL);
  g_option_context_set_ignore_unknown_options (context, TRUE);
  g_option_context_set_help_enabled (context, FALSE);
  g_assert_true (g_option_context_parse (context, &argc, &argv, NULL));
  gtk_test_init (&argc, &argv, NULL);
  g_log_set_always_fatal (G_LOG_FATAL_MASK);
  g_log_set_writer_func (write_log, NULL, NULL);
  adw_init ();
  put_pointer_away ();
  application = studio_fixture_application ();
  now.seed = first_seed;
  for (int i = 0; i < seeds; i++)
    {
      g_autofree char *name = g_strdup_printf ("/studio/monkey/%d", first_seed + i);
      g_test_add_data_func (name, application, run_seed);
    }
  status = g_test_run ();
  g_object_unref (application);
  return status;
}
