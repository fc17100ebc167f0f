/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a box comes to rest whose siphon has emptied it after a power cut.
 *
 * The siphon takes the box down to where air enters it and breaks. What then still stands over the weir fills the box
 * again, at most to the drain's crest. How much that is at the least follows from one balance: until it breaks, the
 * siphon has carried what stood in the box above its break level and what has come over the weir. It carries no less than
 * it would at that level with the sump at its rim; the weir passes what its law says at each level of the display. So the
 * display's level at the break is no lower than where the siphon's flow, taken over the time of that fall, first makes up
 * for both. */
#pragma once

#include "study/state.h"

G_BEGIN_DECLS

/* Level of the box at rest once its primed drain has broken, between break level and crest, on the low side, z [m]: so
 * that the sump does not get less here than it does in time. backflow: level of the display down to which its return
 * lines may siphon it meanwhile, z [m]; INFINITY: none does. */
double nappe_refill_level (const NappeNetwork *network, const NappeState *running, guint drain, double backflow);

G_END_DECLS
