/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A wall that water flows over: smooth, or with slots between teeth. */
typedef struct {
  double length;     /* of the crest; with slots, of the whole wall [m]; 0 or less: nothing flows */
  double height;     /* crest over the floor of the channel upstream [m]; 0 or less: deep, no speed of approach */
  double thickness;  /* of the wall, along the flow [m], >= 0; 0 is a sharp edge */
  guint  slot_count; /* 0: smooth */
  double slot_width; /* [m] */
  double slot_depth; /* slots are open from the crest up to this above it; there is the wall's top [m] */
  double open_share; /* share of the crest (smooth) or of the slots (toothed) not blocked, 0..1 */
} NappeWeir;

/*
 * Q = 2/3 Ce sqrt (2g) (b + kb) (h + kh)^1.5, Kindsvater and Carter 1957 with the tables of the USBR Water
 * Measurement Manual, for a crest over the channel's full width, with
 *  - kh (1 mm) faded in over the first 3 mm of head, so that nothing flows at no head;
 *  - h/height bent to at most 2, the end of the tests;
 *  - the thick crest by 1 - (2/9) / (1 + (h/thickness)^4) (Hager and Schwalt 1994, from memory; it meets the
 *    0.79 below h/t 1/2 and nearly 1 above 2 of the SWMM Reference Manual);
 *  - drowned by (1 - (h2/h1)^1.5)^0.385 (Villemonte 1947), with a finite slope where the levels meet.
 * Slots: each a contracted weir, Ce by slot width over pitch, kb cut down in proportion below a width of 150 mm. Above
 * the slot's top, its flow is the slot weir's less the same weir's on the head over the top (the integral of sqrt (2 g z)
 * over the slot, an orifice), and the wall's top is a weir of the wall's whole length beside it.
 * Tested by others above 30 mm of head only; at the 5 to 25 mm of an aquarium good to 15-20 %.
 */

/* head_up, head_down: water over the crest on both sides [m], may be negative.
 * Returns flow from the up side to the down side [m3/s]; negative when the levels are the other way round,
 * with nappe_weir_flow (a, b) == -nappe_weir_flow (b, a). Continuous with its slopes; rises with head_up, falls with
 * head_down.
 * slope_up >= 0, slope_down <= 0: (out) (nullable) derivatives [m2/s], always finite. */
double nappe_weir_flow (const NappeWeir *weir,
                        double           head_up,
                        double           head_down,
                        double          *slope_up,
                        double          *slope_down);

/* Head over the crest [m] at which flow [m3/s] goes over freely; 0 for flow <= 0; INFINITY when nothing
 * can flow (all blocked). */
double nappe_weir_head_for_flow (const NappeWeir *weir,
                                 double           flow);

G_END_DECLS
