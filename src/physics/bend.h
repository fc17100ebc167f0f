/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Loss of a round pipe or hose that turns in an arc (Rennels and Hudson, Pipe Flow, Wiley 2012, chapter 15):
 * K = f a R + (0.10 + 2.4 f) s + 6.6 f (sqrt s + s) / R^(4 a / pi)
 * on the velocity head in the pipe, with a the angle that it turns by, s = sin (a/2), f the pipe's Darcy friction factor
 * and R the radius of the arc's axis over the bore. The first term is the friction of the arc as if it were straight,
 * the second the secondary flow, the third the separation at the inner wall. Made for turbulent flow, angles up to
 * pi and R of 0.5 and more; good to a tenth there.
 * K is a constant and a multiple of f: a bend is a fitting and a length of pipe more.
 */
typedef struct
{
  double k;         /* part that does not depend on friction */
  double diameters; /* what the turning adds to the pipe's length, in bores: without the arc's own length */
} NappeBend;

/* angle: that the pipe turns by [rad], 0..pi. radius_ratio: radius of the axis over the bore; below 0.5, where the inner
 * edge is sharp, taken as 0.5. Both parts are >= 0 and 0 at angle 0; diameters falls strictly as radius_ratio rises from
 * 0.5 on, k does not depend on it. */
NappeBend nappe_bend (double angle,
                      double radius_ratio);

/* The whole K of the arc, friction of its own length included; friction: Darcy's f, >= 0. */
double nappe_bend_k (double angle,
                     double radius_ratio,
                     double friction);

G_END_DECLS
