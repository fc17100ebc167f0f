/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bytes of a file, never more than a build file may have. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "file/file-name.h"
#include "file/file.h"

/* Read at a time [byte]. */
#define PORTION 65536

/* Makes an error of the input and output library one of this room; a cancellation stays what it is. */
static void
set_read_error (GError **error, const char *name, GError *cause)
{
  if (g_error_matches (cause, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_propagate_error (error, cause);
  else
    {
      g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_IO,
                   /* Translators: name of a file, and what the system says of it. */
                   _ ("%s: it cannot be read: %s"), name, cause->message);
      g_error_free (cause);
    }
}

static gboolean
set_size_error (GError **error, const char *name)
{
  g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_SIZE,
               /* Translators: name of a file, and a number of mebibytes. */
               _ ("%s: it is larger than %d MiB, which no build file is"), name, NAPPE_FILE_SIZE_MAX / (1024 * 1024));
  return FALSE;
}

/* Opening a named pipe would wait for ever, and some devices never end. */
static gboolean
check_is_file (GFile *file, const char *name, GCancellable *cancellable, GError **error)
{
  GError *cause = NULL;
  g_autoptr (GFileInfo) info =
      g_file_query_info (file, G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_SIZE,
                         G_FILE_QUERY_INFO_NONE, cancellable, &cause);

  if (info == NULL)
    {
      set_read_error (error, name, cause);
      return FALSE;
    }
  if (g_file_info_get_file_type (info) == G_FILE_TYPE_DIRECTORY)
    {
      g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_FOLDER, _ ("%s: it is a folder, not a build file"), name);
      return FALSE;
    }
  if (g_file_info_get_file_type (info) != G_FILE_TYPE_REGULAR)
    {
      g_set_error (error, NAPPE_FILE_ERROR, NAPPE_FILE_ERROR_NO_FILE,
                   _ ("%s: it is a device or a pipe, not a build file"), name);
      return FALSE;
    }
  if (g_file_info_has_attribute (info, G_FILE_ATTRIBUTE_STANDARD_SIZE) &&
      g_file_info_get_size (info) > NAPPE_FILE_SIZE_MAX)
    return set_size_error (error, name);
  return TRUE;
}

/* The whole stream, up to one byte more than is allowed; what a file says of its size may be wrong. */
static GByteArray *
read_stream (GInputStream *stream, GCancellable *cancellable, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autofree guint8 *portion = g_malloc (PORTION);

  while (bytes->len <= NAPPE_FILE_SIZE_MAX)
    {
      gssize count = g_input_stream_read (stream, portion, PORTION, cancellable, error);
      if (count < 0)
        return NULL;
      if (count == 0)
        break;
      g_byte_array_append (bytes, portion, (guint) count);
    }
  return g_steal_pointer (&bytes);
}

NappeBuild *
nappe_file_read (GFile *file, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = nappe_file_short_name (file);
  g_autoptr (GFileInputStream) stream = NULL;
  g_autoptr (GByteArray) bytes = NULL;
  GError *cause = NULL;

  if (!check_is_file (file, name, cancellable, error))
    return NULL;
  stream = g_file_read (file, cancellable, &cause);
  if (stream != NULL)
    bytes = read_stream (G_INPUT_STREAM (stream), cancellable, &cause);
  if (bytes == NULL)
    {
      set_read_error (error, name, cause);
      return NULL;
    }
  if (bytes->len > NAPPE_FILE_SIZE_MAX)
    {
      set_size_error (error, name);
      return NULL;
    }
  return nappe_file_read_text ((const char *) bytes->data, bytes->len, name, error);
}
