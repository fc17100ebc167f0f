/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words for the time simulation: what happens, when, and how it ends. Translated; all transfer full. */
#pragma once

#include "build/build.h"
#include "study/course.h"
#include "units/quantity.h"

G_BEGIN_DECLS

/* A time in plain words: "8.4 s", "12 min 30 s", "3 h 5 min", "1 d 3 h"; "never" for infinity. */
char *nappe_course_time_text (double seconds, NappeUnitSystem units);

/* A time as it stands in lists and beside a scrubber, "0:12:30.5", hours first. */
char *nappe_course_clock_text (double seconds);

/* "The power fails", "Main siphon: 50 % blocked, growing over 4 h": without a full stop. */
char *nappe_course_happening_text (NappeBuild *build, const NappeHappening *happening, NappeUnitSystem units);
char *nappe_course_event_text (NappeBuild *build, const NappeSimulation *course, const NappeEvent *event,
                               NappeUnitSystem units);

/* Some sentences: water on the floor, air in a pump, how it ends. */
char *nappe_course_verdict_text (NappeBuild *build, const NappeSimulation *course, NappeUnitSystem units);
/* The end alone in a few words, for tables: "comes back by itself". */
const char *nappe_course_end_word (NappeCourseEnd end);

G_END_DECLS
