/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a change does to the numbers that matter: a few lines for a person who is making it. Needs no display. */
#pragma once

#include "studio/document/outcome.h"

G_BEGIN_DECLS

/* "Runs down in a power cut: 31 L → 34 L": numbers of the whole build, of the part and of the tank that read otherwise, those
 * of a power cut first, and last how many findings there are. At most `most`. char *, transfer full. */
GPtrArray *nappe_differences (const NappeOutcome *before, const NappeOutcome *after, const char *part, guint most);

G_END_DECLS
