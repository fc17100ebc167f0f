/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One overflow box and its drains on a test bench: the box stands at a level of one's choosing, the vessels below
 * as they run, and the drains answer with the flow that they carry there. */
#pragma once

#include "study/balance.h"
#include "study/study.h"

G_BEGIN_DECLS

typedef struct
{
  NappeBalance *balance;   /* borrowed */
  const NappeState *running; /* borrowed */
  const NappeNetwork *original; /* borrowed */
  NappeNetwork *network;   /* a copy that may be changed */
  gboolean *held;          /* by node */
  NappeLinkMode *mode;     /* by link */
  double *level;           /* by node, z [m] */
  double *flow;            /* by link: of the box's drains as they last answered [m3/s] */
  guint box;               /* node */
} NappeBench;

/* Copies the study's network. The study must outlive the bench. */
void nappe_bench_init (NappeBench *self, const NappeStudy *study, NappeBalance *balance);
void nappe_bench_clear (NappeBench *self);

/* Puts a box on the bench, everything as it runs. Changes made to the network stay. */
void nappe_bench_take (NappeBench *self, guint box);

/* Takes every drain of the box as unprimed but one; G_MAXUINT: every one. */
void nappe_bench_prime_only (NappeBench *self, guint link);

/* Flow of all drains of the box with the box at a level, z [m]; flow holds each one's. NaN: not found [m3/s]. */
double nappe_bench_carried (NappeBench *self, double level);

/* How near a drain, unprimed, is to priming at the level last asked for: the greater of its Froude number over the one that
 * sweeps its air away, and the flow that its inlet lets in over 0.999 of what the pipe carries full. It primes at 1. */
double nappe_bench_urge (const NappeBench *self, guint link);

/* Something that rises with x, through zero. */
typedef double (*NappeBenchRise) (NappeBench *self, double x, gpointer data);

/* The x in low..high where the function is zero, by the Illinois kind of false position (Dowell and Jarratt, BIT 11, 1971).
 * at_low <= 0 <= at_high: its values there, or any of that sign. Returns an x within x_tolerance above the zero, or one whose
 * value is within value_tolerance of it; NaN when the function is. */
double nappe_bench_zero (NappeBench *self, NappeBenchRise rise, gpointer data, double low, double at_low, double high,
                         double at_high, double x_tolerance, double value_tolerance);

/* Level at which a drain's inlet lets in a flow [m3/s] > 0, z [m]. */
double nappe_bench_inlet_level (const NappeLink *drain, double flow);

G_END_DECLS
