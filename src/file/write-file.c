/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Replacing a file whole or not at all.
 *
 * The new text goes into a file beside the old one, is forced to the disk and renamed over it, which
 * the system does in one step; then the folder is forced to the disk too. Whatever fails before the
 * renaming leaves the old file as it was. */
#include "config.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "file/file-name.h"
#include "file/file.h"

/* Symbolic links that are followed in a row, as many as Linux follows. */
#define LINKS_MAX 40
/* Permissions of a new file, before the user's mask. */
#define NEW_FILE_MODE 0666

static gboolean
fail (GError **error, const char *name, NappeFileError code, const char *reason)
{
  g_set_error (error, NAPPE_FILE_ERROR, (int) code,
               /* Translators: name of a file, and why it could not be written. */
               _ ("%s: not saved: %s"), name, reason);
  return FALSE;
}

static gboolean
fail_errno (GError **error, const char *name, int number)
{
  return fail (error, name, NAPPE_FILE_ERROR_IO, g_strerror (number));
}

/* The path at the end of a chain of symbolic links; NULL with errno set when it has no end. */
static char *
follow_links (const char *path)
{
  g_autofree char *current = g_strdup (path);

  for (int i = 0; i < LINKS_MAX; i++)
    {
      g_autofree char *target = g_file_read_link (current, NULL);
      g_autofree char *folder = g_path_get_dirname (current);
      if (target == NULL)
        return g_steal_pointer (&current);
      g_free (current);
      current = g_path_is_absolute (target) ? g_strdup (target) : g_build_filename (folder, target, NULL);
    }
  errno = ELOOP;
  return NULL;
}

/* What stands at the path may be replaced: nothing, or a file that may be written.
 * exists, mode: (out) whether there is one, and the permissions that the new file is made with */
static gboolean
check_target (const char *path, const char *name, gboolean *exists, mode_t *mode, GError **error)
{
  struct stat found;

  *exists = FALSE;
  *mode = NEW_FILE_MODE;
  if (stat (path, &found) != 0)
    return errno == ENOENT || fail_errno (error, name, errno);
  if (S_ISDIR (found.st_mode))
    return fail (error, name, NAPPE_FILE_ERROR_FOLDER, _ ("there is a folder of that name"));
  if (!S_ISREG (found.st_mode))
    return fail (error, name, NAPPE_FILE_ERROR_NO_FILE, _ ("there is a device or a pipe of that name"));
  if (access (path, W_OK) != 0)
    return fail_errno (error, name, errno);
  *exists = TRUE;
  *mode = found.st_mode & 0777;
  return TRUE;
}

static gboolean
write_all (int file, const char *text, gsize length)
{
  while (length > 0)
    {
      gssize count = write (file, text, length);
      if (count < 0 && errno == EINTR)
        continue;
      if (count < 0)
        return FALSE;
      text += count;
      length -= (gsize) count;
    }
  return TRUE;
}

/* Fills and closes the new file. keep_mode: it gets exactly `mode`, whatever the user's mask.
 * Returns 0 or the number of the error. */
static int
fill (int file, const char *text, gsize length, gboolean keep_mode, mode_t mode)
{
  int number = 0;

  if (!write_all (file, text, length) || (keep_mode && fchmod (file, mode) != 0) || fsync (file) != 0)
    number = errno;
  if (close (file) != 0 && number == 0)
    number = errno;
  return number;
}

/* The renaming itself is in the folder. Not every file system can do it, and the text is safe already. */
static void
sync_folder (const char *folder)
{
  int descriptor = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (descriptor < 0)
    return;
  fsync (descriptor);
  close (descriptor);
}

static gboolean
replace_local (const char *given, const char *name, const char *text, gsize length, GError **error)
{
  g_autofree char *path = follow_links (given);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  g_autofree char *beside = NULL;
  gboolean exists;
  mode_t mode;
  int file, number;

  if (path == NULL)
    return fail_errno (error, name, errno);
  if (!check_target (path, name, &exists, &mode, error))
    return FALSE;
  beside = g_build_filename (folder, ".nappe-XXXXXX", NULL);
  file = g_mkstemp_full (beside, O_WRONLY | O_CLOEXEC, (int) mode);
  if (file < 0)
    return fail_errno (error, name, errno);
  number = fill (file, text, length, exists, mode);
  if (number == 0 && g_rename (beside, path) != 0)
    number = errno;
  if (number != 0)
    {
      g_unlink (beside);
      return fail_errno (error, name, number);
    }
  sync_folder (folder);
  return TRUE;
}

/* Where there is no path, the library behind the file replaces it as safely as it can. */
static gboolean
replace_remote (GFile *file, const char *name, const char *text, gsize length, GCancellable *cancellable,
                GError **error)
{
  GError *cause = NULL;

  if (g_file_replace_contents (file, text, length, NULL, FALSE, G_FILE_CREATE_NONE, NULL, cancellable, &cause))
    return TRUE;
  if (g_error_matches (cause, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_propagate_error (error, cause);
  else
    {
      fail (error, name, NAPPE_FILE_ERROR_IO, cause->message);
      g_error_free (cause);
    }
  return FALSE;
}

/* Whether the text reads back as the same build. */
static gboolean
check_text (NappeBuild *build, const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr (GError) cause = NULL;
  g_autoptr (NappeBuild) back = nappe_file_read_text (text, length, name, &cause);

  if (back == NULL)
    {
      g_set_error (error, NAPPE_FILE_ERROR, cause->code, _ ("%s: not saved, since it could not be opened again: %s"),
                   name, cause->message);
      return FALSE;
    }
  if (!nappe_part_equal (NAPPE_PART (build), NAPPE_PART (back)))
    return fail (error, name, NAPPE_FILE_ERROR_IO, _ ("it would not open again with the same values"));
  return TRUE;
}

gboolean
nappe_file_write (NappeBuild *build, GFile *file, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = nappe_file_short_name (file);
  g_autofree char *path = g_file_get_path (file);
  gsize length;
  g_autofree char *text = nappe_file_write_text (build, &length);

  if (g_cancellable_set_error_if_cancelled (cancellable, error) || !check_text (build, text, length, name, error))
    return FALSE;
  if (path != NULL)
    return replace_local (path, name, text, length, error);
  return replace_remote (file, name, text, length, cancellable, error);
}
