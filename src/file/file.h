/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The build file: JSON text with units in its keys, read strictly and written so that a person can
 * read it. Nothing here keeps state; every function may run on any thread that owns its build.
 *
 * The message of every error names the place: `name:line: member path: reason`, such as
 * `three-drain.nappe:41: drains[2].outlets[0].into: no part has the id “drain-chambre”`. Text that
 * is no JSON has the column as well. */
#pragma once

#include <gio/gio.h>

#include "build/build.h"

G_BEGIN_DECLS

/* The newest version of the format, which is the one that is written. */
#define NAPPE_FILE_VERSION 1
/* Longest text that is read [byte]. */
#define NAPPE_FILE_SIZE_MAX (16 * 1024 * 1024)

#define NAPPE_FILE_ERROR (nappe_file_error_quark ())
GQuark nappe_file_error_quark (void);
typedef enum
{
  NAPPE_FILE_ERROR_NOT_JSON,  /* empty, or not the grammar of JSON, or several roots */
  NAPPE_FILE_ERROR_ENCODING,  /* not UTF-8, or a NUL */
  NAPPE_FILE_ERROR_SIZE,      /* longer than NAPPE_FILE_SIZE_MAX, or more values than any build has */
  NAPPE_FILE_ERROR_DEPTH,     /* nested too deeply */
  NAPPE_FILE_ERROR_DUPLICATE, /* one member twice in an object */
  NAPPE_FILE_ERROR_FORMAT,    /* JSON, but not a build file */
  NAPPE_FILE_ERROR_VERSION,   /* of a version that this program does not know */
  NAPPE_FILE_ERROR_TYPE,      /* a value of the wrong type, or a text that cannot stand there */
  NAPPE_FILE_ERROR_MISSING,   /* a member that must be given */
  NAPPE_FILE_ERROR_RANGE,     /* a number outside what the field accepts, or not finite */
  NAPPE_FILE_ERROR_CHOICE,    /* a word that is none of the alternatives */
  NAPPE_FILE_ERROR_COUNT,     /* too many parts in a list, or baffles that do not fit the chambers */
  NAPPE_FILE_ERROR_ID,        /* a malformed id, or one that two parts have */
  NAPPE_FILE_ERROR_REFERENCE, /* an id that no part has, or a part of an unfit kind */
  NAPPE_FILE_ERROR_IO,        /* the system could not read or write */
  NAPPE_FILE_ERROR_FOLDER,    /* a folder, not a file */
  NAPPE_FILE_ERROR_NO_FILE,   /* a device, pipe or socket, not a file */
} NappeFileError;

/* Reads a build from a file. Reads at most NAPPE_FILE_SIZE_MAX + 1 bytes and opens only regular files,
 * so that devices and pipes neither hang it nor fill the memory.
 * Returns the build (transfer full), or NULL with an error of NAPPE_FILE_ERROR, or G_IO_ERROR_CANCELLED. */
NappeBuild *nappe_file_read (GFile *file, GCancellable *cancellable, GError **error);

/* Reads a build from text that need not end in NUL.
 *  length  [byte]
 *  name    what errors call the text, such as the file's name */
NappeBuild *nappe_file_read_text (const char *text, gsize length, const char *name, GError **error);

/* The text of a build (transfer full), always the same for equal builds: members in the order of the
 * tables; required values and all that differ from the initial ones.
 *  length  (out, nullable) without the closing NUL [byte] */
char *nappe_file_write_text (NappeBuild *build, gsize *length);

/* Replaces a file by the text of the build, whole or not at all: a file beside it is written, forced to
 * the disk and renamed over it. Follows symbolic links; keeps the permissions. Before anything is
 * touched the text is read back and compared, so that no saved file fails to open.
 * Returns FALSE with an error; what stood there before is then still there. */
gboolean nappe_file_write (NappeBuild *build, GFile *file, GCancellable *cancellable, GError **error);

/* SHA-256 of the build's text in hexadecimal (transfer full): the same for equal builds. */
char *nappe_file_hash (NappeBuild *build);

G_END_DECLS
