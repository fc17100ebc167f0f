/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A variation: what differs in one build from another, as JSON. The handbook's examples and the tests of the rules are
 * variations of a sound build.
 *
 *   {
 *     "remove": ["id", …],
 *     "add": [ { "to": "id, or \"build\"", "slot": "run", "at": 2, "part": { … as in a build file … } }, … ],
 *     "set": { "id, or \"build\"": { "crest_height_mm": 140, "item": "…", "mouth_height_mm": null, … }, … }
 *   }
 *
 * They happen in this order, each member may be left out, and "at" too: at the end. null takes an optional value away. */
#pragma once

#include <json-glib/json-glib.h>

#include "file/file.h"

G_BEGIN_DECLS

/* Changes a build in one undoable step named by `name`, as messages call the variation too. FALSE with an error of
 * NAPPE_FILE_ERROR that names the member: then nothing was changed.
 * The build is whole afterwards as far as NappeBuild keeps it so; chambers and baffles are not counted. */
gboolean nappe_file_vary (NappeBuild *build, JsonObject *variation, const char *name, GError **error);

G_END_DECLS
