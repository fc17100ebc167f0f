/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/rescue.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "file/file.h"

#define GROUP "Build"
#define NOTE_ENDING ".keep"
#define COPY_ENDING ".nappe"
/* Longest note that is read [byte]: an address and a hash. */
#define NOTE_MAX 65536
/* Age of a note without a copy at which nobody is about to write one [s]. */
#define NOTE_OLD 3600

struct _NappeRescue
{
  int lock;   /* descriptor of the note, locked; −1: none */
  char *note; /* path */
  GFile *copy, *origin;
  char *base;
};

char *
nappe_rescue_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "nappe", "unsaved", NULL);
}

static NappeRescue *
rescue_for_note (const char *note)
{
  NappeRescue *self = g_new0 (NappeRescue, 1);
  g_autofree char *stem = g_strndup (note, strlen (note) - strlen (NOTE_ENDING));
  g_autofree char *copy = g_strconcat (stem, COPY_ENDING, NULL);

  self->lock = -1;
  self->note = g_strdup (note);
  self->copy = g_file_new_for_path (copy);
  return self;
}

/* Returns 0 or the number of the error. */
static int
write_note (NappeRescue *self)
{
  g_autoptr (GKeyFile) keys = g_key_file_new ();
  g_autofree char *uri = self->origin != NULL ? g_file_get_uri (self->origin) : NULL;
  g_autofree char *text = NULL;
  gsize length;

  if (uri != NULL)
    g_key_file_set_string (keys, GROUP, "Origin", uri);
  if (self->base != NULL)
    g_key_file_set_string (keys, GROUP, "Base", self->base);
  text = g_key_file_to_data (keys, &length, NULL);
  if (write (self->lock, text, length) != (gssize) length)
    return errno != 0 ? errno : ENOSPC;
  return 0;
}

NappeRescue *
nappe_rescue_new (const char *folder, GFile *origin, const char *base, GError **error)
{
  g_autofree char *note = g_build_filename (folder, "unsaved-XXXXXX" NOTE_ENDING, NULL);
  NappeRescue *self;
  int lock, number = 0;

  lock = g_mkdir_with_parents (folder, 0700) == 0 ? g_mkstemp_full (note, O_RDWR | O_CLOEXEC, 0600) : -1;
  if (lock < 0)
    {
      g_set_error_literal (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_IO, g_strerror (errno));
      return NULL;
    }
  self = rescue_for_note (note);
  self->lock = lock;
  self->origin = origin != NULL ? g_object_ref (origin) : NULL;
  self->base = g_strdup (base);
  errno = 0;
  number = flock (lock, LOCK_EX) == 0 ? write_note (self) : errno;
  if (number == 0)
    return self;
  nappe_rescue_discard (self);
  g_set_error_literal (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_IO, g_strerror (number));
  return NULL;
}

gboolean
nappe_rescue_write (NappeRescue *self, NappeBuild *build, GError **error)
{
  return nappe_file_write (build, self->copy, NULL, error);
}

/* A note that cannot be understood costs the name of the build, not the build. */
static void
read_note (NappeRescue *self)
{
  g_autoptr (GKeyFile) keys = g_key_file_new ();
  g_autofree char *text = g_malloc (NOTE_MAX);
  g_autofree char *uri = NULL;
  gssize length = read (self->lock, text, NOTE_MAX);

  if (length <= 0 || !g_key_file_load_from_data (keys, text, (gsize) length, G_KEY_FILE_NONE, NULL))
    return;
  uri = g_key_file_get_string (keys, GROUP, "Origin", NULL);
  self->origin = uri != NULL && *uri != '\0' ? g_file_new_for_uri (uri) : NULL;
  self->base = g_key_file_get_string (keys, GROUP, "Base", NULL);
}

/* A program may have ended before it wrote its first copy. Locked, so that none is about to. */
static void
drop_old_note (NappeRescue *self)
{
  struct stat found;

  if (fstat (self->lock, &found) == 0 && found.st_mtime < g_get_real_time () / G_USEC_PER_SEC - NOTE_OLD)
    g_unlink (self->note);
}

/* NULL when a program holds it, or there is no copy. */
static NappeRescue *
claim (const char *note)
{
  g_autoptr (NappeRescue) self = rescue_for_note (note);
  struct stat found;

  self->lock = open (note, O_RDWR | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
  if (self->lock < 0 || fstat (self->lock, &found) != 0 || !S_ISREG (found.st_mode)
      || flock (self->lock, LOCK_EX | LOCK_NB) != 0)
    return NULL;
  /* It may have been taken away between finding and locking it. */
  if (fstat (self->lock, &found) != 0 || found.st_nlink == 0)
    return NULL;
  if (!g_file_query_exists (self->copy, NULL))
    {
      drop_old_note (self);
      return NULL;
    }
  read_note (self);
  return g_steal_pointer (&self);
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  g_autoptr (GDateTime) time_a = nappe_rescue_get_time (*(NappeRescue *const *) a);
  g_autoptr (GDateTime) time_b = nappe_rescue_get_time (*(NappeRescue *const *) b);

  if (time_a == NULL || time_b == NULL)
    return (time_b != NULL) - (time_a != NULL);
  return g_date_time_compare (time_b, time_a);
}

GPtrArray *
nappe_rescue_claim_all (const char *folder)
{
  GPtrArray *rescues = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_rescue_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && rescues->len < NAPPE_RESCUES_MAX && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      NappeRescue *rescue = g_str_has_suffix (name, NOTE_ENDING) ? claim (path) : NULL;

      if (rescue != NULL)
        g_ptr_array_add (rescues, rescue);
    }
  g_ptr_array_sort (rescues, newest_first);
  return rescues;
}

GFile *
nappe_rescue_get_file (NappeRescue *self)
{
  return self->copy;
}

GFile *
nappe_rescue_get_origin (NappeRescue *self)
{
  return self->origin;
}

const char *
nappe_rescue_get_base (NappeRescue *self)
{
  return self->base;
}

GDateTime *
nappe_rescue_get_time (NappeRescue *self)
{
  GStatBuf found;

  if (g_stat (g_file_peek_path (self->copy), &found) != 0)
    return NULL;
  return g_date_time_new_from_unix_local (found.st_mtime);
}

void
nappe_rescue_free (NappeRescue *self)
{
  if (self->lock >= 0)
    close (self->lock);
  g_free (self->note);
  g_object_unref (self->copy);
  g_clear_object (&self->origin);
  g_free (self->base);
  g_free (self);
}

void
nappe_rescue_discard (NappeRescue *self)
{
  /* The copy first: a note alone offers nothing to restore. */
  g_unlink (g_file_peek_path (self->copy));
  g_unlink (self->note);
  nappe_rescue_free (self);
}
