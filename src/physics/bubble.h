/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "physics/water.h"

#include <glib.h>

G_BEGIN_DECLS

/* Speed [m/s] at which an air bubble of diameter [m] rises in still water. A bubble in aquarium water is skinned with
 * surfactants and moves as a rigid ball: drag by Schiller and Naumann 1935, 24/Re (1 + 0.15 Re^0.687), at least 0.44.
 * Good to about 2 mm; larger bubbles flatten and are slower than given (0.20 m/s at 2 mm, 0.25 at 3 mm, Clift, Grace and
 * Weber 1978). 0 for diameter <= 0. Rises with diameter. */
double nappe_bubble_rise_speed (double            diameter,
                                const NappeWater *water);

/* Diameter [m] of the bubble that rises with speed [m/s]: the smallest one that a chamber with that downward speed lets
 * escape upwards. 0 for speed <= 0. Inverse of the above. */
double nappe_bubble_diameter_for_speed (double            speed,
                                        const NappeWater *water);

G_END_DECLS
