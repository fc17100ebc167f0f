/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves of a time simulation as a table of comma-separated values. */
#pragma once

#include "study/simulation.h"

G_BEGIN_DECLS

/* A heading and one row for every frame, or for every `every` seconds [s] when that is more than 0; the last moment is
 * always there. Columns: the time, the level of each vessel over the room's floor, the flow of each drain, outlet,
 * pump, weir, gap, joint and sock, and what is on the floor. Headings are ids of parts with the unit of the build file
 * behind, so that none of them can be taken for a formula; numbers are in the C locale. Lines end in a line feed. NULL
 * when there would be more than NAPPE_COURSE_CSV_ROWS_MAX rows. Transfer full. */
char *nappe_course_csv (const NappeSimulation *course, double every);

#define NAPPE_COURSE_CSV_ROWS_MAX 1000000

G_END_DECLS
