/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The forms of what `nappe simulate` says. */
#pragma once

#include "command/case.h"
#include "study/simulation.h"

G_BEGIN_DECLS

/* One course, for people: what happens when, peaks and lowest levels, the verdict. Transfer full. */
char *nappe_course_report_text (const NappeCase *self, const NappeSimulation *course);
/* Many, a row each. courses: NappeSimulation, NULL where one could not be played; plans: NappePlan in the same order. */
char *nappe_courses_report_text (const NappeCase *self, const GPtrArray *plans, const GPtrArray *courses);
/* The cases that there are: id and title. */
char *nappe_plans_text (const GPtrArray *plans);

/* For programs, see nappe(1). `course` or all `courses`. */
char *nappe_course_report_json (const NappeCase *self, const NappeSimulation *course);
char *nappe_courses_report_json (const NappeCase *self, const GPtrArray *plans, const GPtrArray *courses);
char *nappe_plans_json (const NappeCase *self, const GPtrArray *plans);

G_END_DECLS
