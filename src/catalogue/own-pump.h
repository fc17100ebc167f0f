/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the user's own catalogue, put in and taken out by the program. A file is replaced whole or not at all, and all that is
 * not the row stays in it as it was written. Two programs that do this at the same time wait for each other. */
#pragma once

#include "catalogue/catalogue.h"
#include "physics/pump-curve.h"

G_BEGIN_DECLS

/* The file below the user's folder that pumps are put into. */
#define NAPPE_OWN_PUMPS_FILE "own-pumps.json"
/* Longest name and source of an own pump [bytes]. */
#define NAPPE_OWN_PUMP_TEXT_MAX 200

typedef struct
{
  const char *name;   /* for people, one line */
  const char *source; /* where the curve is from, one line */
  NappePumpCurve curve;
  double power;       /* greatest, drawn [W] */
  double outlet_bore; /* [m]; 0: not given */
  gboolean variable_speed;
} NappeOwnPump;

/* NULL: it may be put in; else what is wrong with it, translated and static. */
const char *nappe_own_pump_check (const NappeOwnPump *pump);

/* Puts a pump into NAPPE_OWN_PUMPS_FILE in `folder`, which is made if need be, under an id that `catalogue` has not. Returns the
 * id, transfer full; NULL with an error in NAPPE_CATALOGUE_ERROR: the pump is wrong, or the file cannot be read or written or is
 * none that a pump may be put into, and stays as it was. */
char *nappe_own_pump_add (const char *folder, const NappeCatalogue *catalogue, const NappeOwnPump *pump, GError **error);

/* Takes a row out of its file. FALSE with an error: it is not there any more as it was, or the file cannot be changed. */
gboolean nappe_own_part_remove (const NappeOwnPart *part, GError **error);

G_END_DECLS
