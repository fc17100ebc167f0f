/* SPDX-License-Identifier: GPL-3.0-or-later */
/* That nothing is lost: other programs at the file, saving that fails, what is dropped, what a crash left. */
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

#include <glib/gstdio.h>

#include "file/file.h"
#include "file/rescue.h"
#include "studio-fixture.h"
#include "studio/document/autosave.h"
#include "studio/application/recovery.h"

#define DEMO "single-drain.nappe"
/* Height of the stand [m]: in the demo, by the person, by another program. */
#define THEIRS 0.71
#define MINE 0.72

static GFile *
file_of (StudioFixture *self)
{
  return nappe_document_get_file (self->document);
}

static double
height_of (StudioFixture *self)
{
  return NAPPE_BUILD_STAND (nappe_document_get_build (self->document))->height;
}

static double
height_in_file (StudioFixture *self)
{
  g_autoptr (NappeBuild) build = nappe_file_read (file_of (self), NULL, NULL);

  return build != NULL ? NAPPE_BUILD_STAND (build)->height : -1.0;
}

static void
change_mine (StudioFixture *self)
{
  NappeBuild *build = nappe_document_get_build (self->document);

  g_assert_true (nappe_build_set_number (build, build->stand, "height", MINE, NULL));
}

static void
change_theirs (StudioFixture *self)
{
  g_autoptr (NappeBuild) build = nappe_file_read (file_of (self), NULL, NULL);

  g_assert_true (nappe_build_set_number (build, build->stand, "height", THEIRS, NULL));
  g_assert_true (nappe_file_write (build, file_of (self), NULL, NULL));
}

/* The place in the window that tells of something: the nth bar from above. */
static GtkInfoBar *
bar_of (StudioFixture *self, guint n)
{
  GtkWidget *bar = studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_INFO_BAR, NULL);

  for (; n > 0; n--)
    bar = gtk_widget_get_next_sibling (bar);
  return GTK_INFO_BAR (bar);
}

static gboolean
error_is_shown (StudioFixture *self)
{
  return gtk_info_bar_get_revealed (bar_of (self, 0));
}

static gboolean
bar_is_shown (StudioFixture *self)
{
  return gtk_info_bar_get_revealed (bar_of (self, 1));
}

static gboolean
is_quiet (StudioFixture *self)
{
  return !bar_is_shown (self) && nappe_document_get_disk (self->document) == NAPPE_DISK_SAME;
}

static gboolean
is_unmodified (StudioFixture *self)
{
  return !nappe_document_is_modified (self->document);
}

static gboolean
is_theirs (StudioFixture *self)
{
  return height_of (self) == THEIRS;
}

static void
test_reload (StudioFixture *self, gconstpointer data)
{
  int narrowest;

  studio_fixture_load (self, DEMO);
  change_theirs (self);
  studio_fixture_wait (self, bar_is_shown);
  g_assert_cmpfloat (height_of (self), !=, THEIRS);
  g_assert_false (nappe_document_is_modified (self->document));
  studio_fixture_picture (self, "light-changed-on-disk");
  gtk_widget_measure (GTK_WIDGET (self->window), GTK_ORIENTATION_HORIZONTAL, -1, &narrowest, NULL, NULL, NULL);
  g_assert_cmpint (narrowest, <=, 360);
  studio_fixture_act (self, "win.reload", NULL);
  studio_fixture_wait (self, is_theirs);
  g_assert_true (is_quiet (self));
  g_assert_false (nappe_document_is_modified (self->document));
}

/* Changes on both sides: nothing is written or lost before the person has said which is to stay. */
static void
test_keep_mine (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change_mine (self);
  change_theirs (self);
  studio_fixture_wait (self, bar_is_shown);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_pause (0.5);
  g_assert_cmpfloat (height_in_file (self), ==, THEIRS);
  g_assert_cmpfloat (height_of (self), ==, MINE);
  g_assert_true (nappe_document_is_modified (self->document));
  studio_fixture_act (self, "win.keep-mine", NULL);
  g_assert_true (is_quiet (self));
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in_file (self), ==, MINE);
  studio_fixture_pause (1.0);
  g_assert_true (is_quiet (self));
}

/* Saving looks for itself, before anybody has told of the change. */
static void
test_save_at_once (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change_mine (self);
  change_theirs (self);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, bar_is_shown);
  g_assert_cmpfloat (height_in_file (self), ==, THEIRS);
  g_assert_true (nappe_document_is_modified (self->document));
}

/* Keeping an unchanged build against another one makes it one that is to be saved. */
static void
test_keep_unchanged (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change_theirs (self);
  studio_fixture_wait (self, bar_is_shown);
  studio_fixture_act (self, "win.keep-mine", NULL);
  g_assert_true (nappe_document_is_modified (self->document));
  g_assert_cmpfloat (height_of (self), !=, THEIRS);
}

static void
test_reload_asks (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change_mine (self);
  change_theirs (self);
  studio_fixture_wait (self, bar_is_shown);
  studio_fixture_act (self, "win.reload", NULL);
  studio_fixture_answer (self, "cancel");
  studio_fixture_pause (0.3);
  g_assert_cmpfloat (height_of (self), ==, MINE);
  studio_fixture_act (self, "win.reload", NULL);
  studio_fixture_answer (self, "reload");
  studio_fixture_wait (self, is_theirs);
  g_assert_true (is_unmodified (self));
}

/* A file that is taken away leaves the build in the window, which asks before it is closed. */
static void
test_gone (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  g_assert_true (g_file_delete (file_of (self), NULL, NULL));
  studio_fixture_wait (self, bar_is_shown);
  g_assert_true (nappe_document_is_modified (self->document));
  studio_fixture_picture (self, "light-gone-from-disk");
  gtk_window_close (GTK_WINDOW (self->window));
  studio_fixture_answer (self, "cancel");
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in_file (self), ==, height_of (self));
  studio_fixture_wait (self, is_quiet);
}

/* Saving is no change from outside, nor is the same build written anew. */
static void
test_same (StudioFixture *self, gconstpointer data)
{
  g_autoptr (NappeBuild) build = NULL;

  studio_fixture_load (self, DEMO);
  change_mine (self);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  studio_fixture_pause (1.0);
  g_assert_true (is_quiet (self));
  build = nappe_file_read (file_of (self), NULL, NULL);
  g_assert_true (nappe_file_write (build, file_of (self), NULL, NULL));
  studio_fixture_pause (1.0);
  g_assert_true (is_quiet (self));
}

/* What is no build does not take the place of one. */
static void
test_broken (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change_mine (self);
  g_assert_true (g_file_set_contents (g_file_peek_path (file_of (self)), "{ \"format\"", -1, NULL));
  studio_fixture_wait (self, bar_is_shown);
  studio_fixture_act (self, "win.reload", NULL);
  studio_fixture_answer (self, "reload");
  studio_fixture_wait (self, error_is_shown);
  g_assert_cmpfloat (height_of (self), ==, MINE);
  g_assert_true (nappe_document_is_modified (self->document));
}

/* A limit on the size of files stands for a full disk. */
static void
test_disk_full (StudioFixture *self, gconstpointer data)
{
  struct rlimit before, small;
  double old;

  studio_fixture_load (self, DEMO);
  old = height_in_file (self);
  change_mine (self);
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = before;
  small.rlim_cur = 100;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  studio_fixture_act (self, "win.save", NULL);
  for (gint64 end = g_get_monotonic_time () + 10 * G_USEC_PER_SEC;
       !error_is_shown (self) && g_get_monotonic_time () < end;)
    g_main_context_iteration (NULL, FALSE);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
  g_assert_true (error_is_shown (self));
  g_assert_true (nappe_document_is_modified (self->document));
  g_assert_cmpfloat (height_of (self), ==, MINE);
  g_assert_cmpfloat (height_in_file (self), ==, old);
  studio_fixture_act (self, "win.save", NULL);
  studio_fixture_wait (self, is_unmodified);
  g_assert_cmpfloat (height_in_file (self), ==, MINE);
}

/* Copies of unsaved changes */

static guint
count_kept (void)
{
  g_autofree char *folder = nappe_rescue_folder ();
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static gboolean
is_kept (StudioFixture *self)
{
  return count_kept () == 2;
}

static gboolean
none_is_kept (StudioFixture *self)
{
  return count_kept () == 0;
}

static void
test_undone (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  g_assert_true (none_is_kept (self));
  change_mine (self);
  studio_fixture_wait (self, is_kept);
  nappe_document_undo (self->document);
  studio_fixture_wait (self, none_is_kept);
  studio_fixture_pause (NAPPE_AUTOSAVE_DELAY + 1.0);
  g_assert_true (none_is_kept (self));
}

/* Undone while the copy is being written. */
static void
test_undone_meanwhile (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, DEMO);
  change_mine (self);
  studio_fixture_pause (NAPPE_AUTOSAVE_DELAY - 0.01);
  nappe_document_undo (self->document);
  studio_fixture_pause (1.0);
  g_assert_true (none_is_kept (self));
}

static void
leave (const char *text, NappeBuild *build, GFile *origin, const char *base)
{
  g_autofree char *folder = nappe_rescue_folder ();
  g_autoptr (NappeRescue) rescue = nappe_rescue_new (folder, origin, base, NULL);

  g_assert_true (nappe_rescue_write (rescue, build, NULL));
  if (text != NULL)
    g_assert_true (g_file_set_contents (g_file_peek_path (nappe_rescue_get_file (rescue)), text, -1, NULL));
}

static gboolean
is_mine (StudioFixture *self)
{
  return height_of (self) == MINE;
}

/* Restored onto a file that has another build by now: the person is told, and nothing is written over it. */
static void
test_restore (StudioFixture *self, gconstpointer data)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autofree char *base = NULL;

  studio_fixture_load (self, DEMO);
  base = g_strdup (nappe_document_get_base (self->document));
  g_assert_true (nappe_build_set_number (build, build->stand, "height", MINE, NULL));
  leave (NULL, build, file_of (self), base);
  leave ("{", build, NULL, NULL);
  nappe_recovery_offer (GTK_APPLICATION (self->application), nappe_application_get_preferences (self->application));
  studio_fixture_wait (self, studio_fixture_is_asking);
  studio_fixture_picture_of (self, studio_fixture_find_dialog (), "light-restore");
  change_theirs (self);
  studio_fixture_answer (self, "restore");
  studio_fixture_wait (self, is_mine);
  g_assert_true (nappe_document_is_modified (self->document));
  studio_fixture_wait (self, bar_is_shown);
  g_assert_cmpfloat (height_in_file (self), ==, THEIRS);
  g_assert_cmpuint (count_kept (), ==, 4);
  /* What cannot be read is offered again, and can be thrown away. */
  studio_fixture_pause (0.5);
  nappe_recovery_offer (GTK_APPLICATION (self->application), nappe_application_get_preferences (self->application));
  studio_fixture_answer (self, "discard");
  g_assert_cmpuint (count_kept (), ==, 2);
  studio_fixture_act (self, "win.reload", NULL);
  studio_fixture_answer (self, "reload");
  studio_fixture_wait (self, none_is_kept);
}

static void
set_up (StudioFixture *self, gconstpointer application)
{
  studio_fixture_open (self, (NappeApplication *) application);
}

static void
tear_down (StudioFixture *self, gconstpointer application)
{
  g_autofree char *folder = nappe_rescue_folder ();
  g_autoptr (GPtrArray) left = NULL;

  studio_fixture_close (self);
  studio_fixture_pause (0.2);
  left = nappe_rescue_claim_all (folder);
  while (left->len > 0)
    nappe_rescue_discard (g_ptr_array_steal_index (left, 0));
}

int
main (int argc, char **argv)
{
  const struct
  {
    const char *path;
    void (*test) (StudioFixture *, gconstpointer);
  } tests[] = {
    { "/studio/keeping/reload", test_reload },
    { "/studio/keeping/keep-mine", test_keep_mine },
    { "/studio/keeping/save-at-once", test_save_at_once },
    { "/studio/keeping/keep-unchanged", test_keep_unchanged },
    { "/studio/keeping/reload-asks", test_reload_asks },
    { "/studio/keeping/gone", test_gone },
    { "/studio/keeping/same", test_same },
    { "/studio/keeping/broken", test_broken },
    { "/studio/keeping/disk-full", test_disk_full },
    { "/studio/keeping/undone", test_undone },
    { "/studio/keeping/undone-meanwhile", test_undone_meanwhile },
    { "/studio/keeping/restore", test_restore },
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
