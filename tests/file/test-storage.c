/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that are none, and saving that fails half way. */
#include "config.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "file/file.h"

typedef struct
{
  char *folder;
  GFile *file; /* in the folder; not there yet */
  char *path;
  NappeBuild *build;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->folder = g_dir_make_tmp ("nappe-XXXXXX", NULL);
  fixture->path = g_build_filename (fixture->folder, "tank.nappe", NULL);
  fixture->file = g_file_new_for_path (fixture->path);
  fixture->build = nappe_build_new ();
}

/* No file may be left behind beside those that the test itself made and removed. */
static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_unlink (fixture->path);
  g_assert_cmpint (g_rmdir (fixture->folder), ==, 0);
  g_object_unref (fixture->file);
  g_object_unref (fixture->build);
  g_free (fixture->folder);
  g_free (fixture->path);
}

static void
save (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;

  nappe_file_write (fixture->build, fixture->file, NULL, &error);
  g_assert_no_error (error);
}

static void
assert_not_read (const char *path, NappeFileError code, const char *words)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;

  g_assert_null (nappe_file_read (file, NULL, &error));
  g_assert_error (error, NAPPE_FILE_ERROR, (int) code);
  if (strstr (error->message, words) == NULL)
    g_error ("“%s” does not say “%s”", error->message, words);
}

static void
assert_not_saved (Fixture *fixture, NappeFileError code)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_file_write (fixture->build, fixture->file, NULL, &error));
  g_assert_error (error, NAPPE_FILE_ERROR, (int) code);
  g_assert_nonnull (strstr (error->message, "not saved"));
}

static char *
contents (const char *path)
{
  char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}

static void
test_save_and_read (Fixture *fixture, gconstpointer data)
{
  g_autoptr (NappeBuild) back = NULL;
  g_autoptr (GError) error = NULL;

  save (fixture);
  back = nappe_file_read (fixture->file, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (nappe_part_equal (NAPPE_PART (fixture->build), NAPPE_PART (back)));
}

static void
test_missing (Fixture *fixture, gconstpointer data)
{
  assert_not_read (fixture->path, NAPPE_FILE_ERROR_IO, "tank.nappe");
}

static void
test_read_folder (Fixture *fixture, gconstpointer data)
{
  assert_not_read (fixture->folder, NAPPE_FILE_ERROR_FOLDER, "folder");
}

static void
test_read_pipe (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (mkfifo (fixture->path, 0600), ==, 0);
  assert_not_read (fixture->path, NAPPE_FILE_ERROR_NO_FILE, "pipe");
}

static void
test_read_device (Fixture *fixture, gconstpointer data)
{
  assert_not_read ("/dev/zero", NAPPE_FILE_ERROR_NO_FILE, "device");
}

/* Two gigabytes that take no room on the disk; reading them must not take memory either. */
static void
test_read_huge (Fixture *fixture, gconstpointer data)
{
  int file = g_open (fixture->path, O_CREAT | O_WRONLY, 0600);

  g_assert_cmpint (ftruncate (file, (off_t) 2 << 30), ==, 0);
  close (file);
  assert_not_read (fixture->path, NAPPE_FILE_ERROR_SIZE, "16 MiB");
}

/* Files of the process file system say that they are empty; what is read decides. */
static void
test_read_unsized (Fixture *fixture, gconstpointer data)
{
  assert_not_read ("/proc/self/status", NAPPE_FILE_ERROR_NOT_JSON, "status");
}

static void
test_read_cancelled (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  save (fixture);
  g_cancellable_cancel (cancellable);
  g_assert_null (nappe_file_read (fixture->file, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&error);
  g_assert_false (nappe_file_write (fixture->build, fixture->file, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_permissions (Fixture *fixture, gconstpointer data)
{
  static const mode_t modes[] = { 0600, 0640, 0664, 0644 };

  save (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (modes); i++)
    {
      struct stat found;
      g_assert_cmpint (g_chmod (fixture->path, (int) modes[i]), ==, 0);
      save (fixture);
      g_assert_cmpint (g_stat (fixture->path, &found), ==, 0);
      g_assert_cmpuint (found.st_mode & 0777, ==, modes[i]);
    }
}

/* A new file gets what the user's mask leaves. */
static void
test_new_permissions (Fixture *fixture, gconstpointer data)
{
  const mode_t before = umask (027);
  struct stat found;

  save (fixture);
  umask (before);
  g_assert_cmpint (g_stat (fixture->path, &found), ==, 0);
  g_assert_cmpuint (found.st_mode & 0777, ==, 0640);
}

static void
test_links (Fixture *fixture, gconstpointer data)
{
  g_autofree char *link = g_build_filename (fixture->folder, "link.nappe", NULL);
  g_autofree char *second = g_build_filename (fixture->folder, "second.nappe", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (second);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (symlink ("tank.nappe", link), ==, 0);
  g_assert_cmpint (symlink (link, second), ==, 0);
  for (int round = 0; round < 2; round++)
    {
      nappe_file_write (fixture->build, file, NULL, &error);
      g_assert_no_error (error);
      g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
      g_assert_true (g_file_test (second, G_FILE_TEST_IS_SYMLINK));
      g_assert_false (g_file_test (fixture->path, G_FILE_TEST_IS_SYMLINK));
    }
  g_unlink (link);
  g_unlink (second);
}

static void
test_link_circle (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (symlink ("tank.nappe", fixture->path), ==, 0);
  assert_not_saved (fixture, NAPPE_FILE_ERROR_IO);
}

static void
test_save_on_folder (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (g_mkdir (fixture->path, 0700), ==, 0);
  assert_not_saved (fixture, NAPPE_FILE_ERROR_FOLDER);
  g_assert_cmpint (g_rmdir (fixture->path), ==, 0);
}

static void
test_save_on_pipe (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (mkfifo (fixture->path, 0600), ==, 0);
  assert_not_saved (fixture, NAPPE_FILE_ERROR_NO_FILE);
}

static void
test_no_folder (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GFile) elsewhere = g_file_new_build_filename (fixture->folder, "none", "tank.nappe", NULL);

  g_set_object (&fixture->file, elsewhere);
  assert_not_saved (fixture, NAPPE_FILE_ERROR_IO);
}

/* Nobody, not even the superuser, can make a file in the process file system. */
static void
test_read_only_folder (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GFile) elsewhere = g_file_new_for_path ("/proc/self/fdinfo/tank.nappe");

  g_set_object (&fixture->file, elsewhere);
  assert_not_saved (fixture, NAPPE_FILE_ERROR_IO);
}

/* A limit on the size of files stands for a full disk: writing stops in the middle. */
static void
test_disk_full (Fixture *fixture, gconstpointer data)
{
  struct rlimit before, small;
  g_autofree char *old_text = NULL;
  g_autofree char *text = NULL;

  save (fixture);
  old_text = contents (fixture->path);
  g_assert_true (nappe_build_set_text (fixture->build, NAPPE_PART (fixture->build), "summary", "more", NULL));
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = before;
  small.rlim_cur = 100;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  {
    g_autoptr (GError) error = NULL;
    gboolean saved = nappe_file_write (fixture->build, fixture->file, NULL, &error);
    g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
    g_assert_false (saved);
    g_assert_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_IO);
    g_assert_nonnull (strstr (error->message, g_strerror (EFBIG)));
  }
  text = contents (fixture->path);
  g_assert_cmpstr (text, ==, old_text);
}

/* A build that could not be opened again is not saved over one that can. */
static void
test_unreadable_build (Fixture *fixture, gconstpointer data)
{
  g_autoptr (NappePart) chamber = g_object_new (NAPPE_TYPE_CHAMBER, NULL);
  g_autoptr (NappePart) second = g_object_new (NAPPE_TYPE_CHAMBER, NULL);
  g_autofree char *old_text = NULL;
  g_autofree char *text = NULL;

  save (fixture);
  old_text = contents (fixture->path);
  g_assert_true (nappe_build_insert (fixture->build, fixture->build->sump, "chambers", 0, chamber, NULL));
  g_assert_true (nappe_build_insert (fixture->build, fixture->build->sump, "chambers", 0, second, NULL));
  assert_not_saved (fixture, NAPPE_FILE_ERROR_COUNT);
  text = contents (fixture->path);
  g_assert_cmpstr (text, ==, old_text);
}

static gpointer
read_in_thread (gpointer file)
{
  for (int i = 0; i < 20; i++)
    {
      g_autoptr (NappeBuild) build = nappe_file_read (file, NULL, NULL);
      g_assert_nonnull (build);
    }
  return NULL;
}

static void
test_threads (Fixture *fixture, gconstpointer data)
{
  GThread *threads[4];

  save (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("reader", read_in_thread, fixture->file);
  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *path;
    void (*test) (Fixture *, gconstpointer);
  } tests[] = {
    { "/storage/save-and-read", test_save_and_read },
    { "/storage/missing", test_missing },
    { "/storage/read-folder", test_read_folder },
    { "/storage/read-pipe", test_read_pipe },
    { "/storage/read-device", test_read_device },
    { "/storage/read-huge", test_read_huge },
    { "/storage/read-unsized", test_read_unsized },
    { "/storage/cancelled", test_read_cancelled },
    { "/storage/permissions", test_permissions },
    { "/storage/new-permissions", test_new_permissions },
    { "/storage/links", test_links },
    { "/storage/link-circle", test_link_circle },
    { "/storage/save-on-folder", test_save_on_folder },
    { "/storage/save-on-pipe", test_save_on_pipe },
    { "/storage/no-folder", test_no_folder },
    { "/storage/read-only-folder", test_read_only_folder },
    { "/storage/disk-full", test_disk_full },
    { "/storage/unreadable-build", test_unreadable_build },
    { "/storage/threads", test_threads },
  };

  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
