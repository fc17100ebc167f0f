/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies of builds with unsaved changes, kept so that they outlive the program.
 *
 * A copy is two files in one folder: NAME.nappe, a build file like any other, and NAME.keep, which says
 * where the build came from. The program that keeps a copy holds a lock on NAME.keep; the system lets go
 * of it when the program ends, however it ends. A copy whose lock is free was left behind.
 *
 * A copy may be handed from thread to thread but used by one at a time. */
#pragma once

#include "build/build.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* Most copies that are looked at [1]; more are left where they are. */
#define NAPPE_RESCUES_MAX 50

typedef struct _NappeRescue NappeRescue;

/* The folder of the user's own copies. Transfer full; it need not exist. */
char *nappe_rescue_folder (void);

/* Makes room for a copy; there is none before the first nappe_rescue_write().
 *  folder  is made when it is not there, for the user's eyes alone
 *  origin  nullable: the file that the build was read from or saved to; NULL: it was never saved
 *  base    nullable: what nappe_file_hash() says of the build as it is in `origin`
 * Returns NULL with an error of NAPPE_FILE_ERROR. */
NappeRescue *nappe_rescue_new (const char *folder, GFile *origin, const char *base, GError **error);

/* Replaces the copy by the build, whole or not at all; errors as of nappe_file_write(). */
gboolean nappe_rescue_write (NappeRescue *self, NappeBuild *build, GError **error);

/* Takes possession of every copy that no program holds, newest first. Transfer full; elements are
 * NappeRescue with nappe_rescue_free(). Empty when there is no folder. */
GPtrArray *nappe_rescue_claim_all (const char *folder);

GFile *nappe_rescue_get_file (NappeRescue *self);      /* the copy itself */
GFile *nappe_rescue_get_origin (NappeRescue *self);    /* NULL: it was never saved */
const char *nappe_rescue_get_base (NappeRescue *self); /* NULL: not known */
/* When the copy was written, in local time. Transfer full; NULL: there is none. */
GDateTime *nappe_rescue_get_time (NappeRescue *self);

/* Lets go of the copy and leaves it where it is. */
void nappe_rescue_free (NappeRescue *self);
/* The same, and takes it away. */
void nappe_rescue_discard (NappeRescue *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeRescue, nappe_rescue_free)

G_END_DECLS
