/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies of unsaved builds: who holds them, what is left behind, and what bad input does. */
#include "config.h"

#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "file/file.h"
#include "file/rescue.h"

typedef struct
{
  char *folder; /* of the copies; not there yet */
  GFile *origin;
  NappeBuild *build;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autofree char *parent = g_dir_make_tmp ("nappe-XXXXXX", NULL);

  self->folder = g_build_filename (parent, "deep", "unsaved", NULL);
  self->origin = g_file_new_for_path ("/home/ann/my reef = 2.nappe");
  self->build = nappe_build_new ();
  g_assert_true (nappe_build_set_number (self->build, self->build->stand, "height", 0.777, NULL));
}

static guint
count_files (Fixture *self)
{
  g_autoptr (GDir) dir = g_dir_open (self->folder, 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_autofree char *deep = g_path_get_dirname (self->folder);
  g_autofree char *parent = g_path_get_dirname (deep);
  g_autoptr (GDir) dir = g_dir_open (self->folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      g_unlink (path);
    }
  g_rmdir (self->folder);
  g_rmdir (deep);
  g_rmdir (parent);
  g_object_unref (self->origin);
  g_object_unref (self->build);
  g_free (self->folder);
}

/* What is kept while it is held is nobody else's; let go, it is found with all that is known of it. */
static void
test_keep_and_claim (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  NappeRescue *kept = nappe_rescue_new (self->folder, self->origin, "abc", &error);
  g_autoptr (GPtrArray) held = NULL, left = NULL;
  g_autoptr (NappeBuild) back = NULL;
  g_autoptr (GDateTime) time = NULL;
  GStatBuf found;

  g_assert_no_error (error);
  g_assert_true (nappe_rescue_write (kept, self->build, &error));
  g_assert_cmpint (g_stat (self->folder, &found), ==, 0);
  g_assert_cmpuint (found.st_mode & 0077, ==, 0);
  held = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (held->len, ==, 0);
  nappe_rescue_free (kept);
  left = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (left->len, ==, 1);
  kept = g_ptr_array_steal_index (left, 0);
  g_assert_true (g_file_equal (nappe_rescue_get_origin (kept), self->origin));
  g_assert_cmpstr (nappe_rescue_get_base (kept), ==, "abc");
  time = nappe_rescue_get_time (kept);
  g_assert_cmpint (ABS (g_date_time_to_unix (time) - g_get_real_time () / G_USEC_PER_SEC), <, 60);
  back = nappe_file_read (nappe_rescue_get_file (kept), NULL, &error);
  g_assert_no_error (error);
  g_assert_true (nappe_part_equal (NAPPE_PART (back), NAPPE_PART (self->build)));
  nappe_rescue_discard (kept);
  g_assert_cmpuint (count_files (self), ==, 0);
}

/* A program that is killed lets go of its copy, and the copy is whole. */
static void
test_killed (Fixture *self, gconstpointer data)
{
  g_autoptr (GPtrArray) left = NULL;
  g_autoptr (NappeBuild) back = NULL;
  int ready[2];
  char sign;
  pid_t child;

  g_assert_cmpint (pipe (ready), ==, 0);
  child = fork ();
  if (child == 0)
    {
      NappeRescue *kept = nappe_rescue_new (self->folder, NULL, NULL, NULL);
      gboolean written = kept != NULL && nappe_rescue_write (kept, self->build, NULL);

      if (write (ready[1], written ? "y" : "n", 1) == 1)
        pause ();
      _exit (1);
    }
  g_assert_cmpint (read (ready[0], &sign, 1), ==, 1);
  g_assert_cmpint (sign, ==, 'y');
  left = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (left->len, ==, 0);
  g_clear_pointer (&left, g_ptr_array_unref);
  kill (child, SIGKILL);
  waitpid (child, NULL, 0);
  close (ready[0]);
  close (ready[1]);
  left = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (left->len, ==, 1);
  g_assert_null (nappe_rescue_get_origin (left->pdata[0]));
  back = nappe_file_read (nappe_rescue_get_file (left->pdata[0]), NULL, NULL);
  g_assert_true (nappe_part_equal (NAPPE_PART (back), NAPPE_PART (self->build)));
}

/* A full disk leaves the copy that was there. */
static void
test_disk_full (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeRescue) kept = nappe_rescue_new (self->folder, self->origin, NULL, &error);
  g_autoptr (NappeBuild) changed = nappe_build_copy (self->build), back = NULL;
  struct rlimit before, small;

  g_assert_true (nappe_rescue_write (kept, self->build, &error));
  g_assert_true (nappe_build_set_number (changed, changed->stand, "height", 0.5, NULL));
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = before;
  small.rlim_cur = 8;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  g_assert_false (nappe_rescue_write (kept, changed, &error));
  g_assert_null (nappe_rescue_new (self->folder, self->origin, NULL, NULL));
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
  g_assert_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_IO);
  back = nappe_file_read (nappe_rescue_get_file (kept), NULL, NULL);
  g_assert_true (nappe_part_equal (NAPPE_PART (back), NAPPE_PART (self->build)));
  g_assert_cmpuint (count_files (self), ==, 2);
}

static void
put (Fixture *self, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (self->folder, name, NULL);

  g_mkdir_with_parents (self->folder, 0700);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

/* Notes that say nothing cost the name alone; what is no copy is left alone. */
static void
test_odd_notes (Fixture *self, gconstpointer data)
{
  g_autofree char *pipe_path = g_build_filename (self->folder, "pipe.keep", NULL);
  g_autofree char *long_note = g_strnfill (100000, 'x');
  g_autoptr (GPtrArray) left = NULL;

  put (self, "a.keep", "no key file \xff");
  put (self, "a.nappe", "{}");
  put (self, "b.keep", long_note);
  put (self, "b.nappe", "{}");
  put (self, "alone.keep", "");
  put (self, "alone.nappe.txt", "");
  g_assert_cmpint (mkfifo (pipe_path, 0600), ==, 0);
  left = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (left->len, ==, 2);
  g_assert_null (nappe_rescue_get_origin (left->pdata[0]));
  g_assert_null (nappe_rescue_get_origin (left->pdata[1]));
  g_assert_cmpuint (count_files (self), ==, 7);
}

static void
test_many (Fixture *self, gconstpointer data)
{
  g_autoptr (GPtrArray) left = NULL;

  for (int i = 0; i < NAPPE_RESCUES_MAX + 5; i++)
    nappe_rescue_free (nappe_rescue_new (self->folder, NULL, NULL, NULL));
  left = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (left->len, ==, 0);
  for (int i = 0; i < NAPPE_RESCUES_MAX + 5; i++)
    {
      g_autofree char *note = g_strdup_printf ("n%d.keep", i), *copy = g_strdup_printf ("n%d.nappe", i);

      put (self, note, "");
      put (self, copy, "");
    }
  g_clear_pointer (&left, g_ptr_array_unref);
  left = nappe_rescue_claim_all (self->folder);
  g_assert_cmpuint (left->len, ==, NAPPE_RESCUES_MAX);
}

static void
test_no_folder (Fixture *self, gconstpointer data)
{
  g_autoptr (GPtrArray) left = nappe_rescue_claim_all (self->folder);
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (left->len, ==, 0);
  g_assert_null (nappe_rescue_new ("/proc/no-such-folder", NULL, NULL, &error));
  g_assert_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_IO);
}

int
main (int argc, char **argv)
{
  const struct
  {
    const char *path;
    void (*test) (Fixture *, gconstpointer);
  } tests[] = {
    { "/rescue/keep-and-claim", test_keep_and_claim },
    { "/rescue/killed", test_killed },
    { "/rescue/disk-full", test_disk_full },
    { "/rescue/odd-notes", test_odd_notes },
    { "/rescue/many", test_many },
    { "/rescue/no-folder", test_no_folder },
  };

  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
