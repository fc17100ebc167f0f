/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The events of a simulation with number, time and words, over them how it ends. The one that happened last is selected.
 *
 * Signal `chosen` (guint event): the person wants to see that one. */
#pragma once

#include <gtk/gtk.h>

#include "study/simulation.h"
#include "studio/document/outcome.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_EVENT_LIST (nappe_event_list_get_type ())
G_DECLARE_FINAL_TYPE (NappeEventList, nappe_event_list, NAPPE, EVENT_LIST, GtkWidget)

GtkWidget *nappe_event_list_new (void);
/* A simulation and what it was made from. NULL, NULL empties it. */
void nappe_event_list_set_course (NappeEventList *self, NappeOutcome *outcome, NappeSimulation *course);
/* Selects an event and shows it; -1: none. */
void nappe_event_list_select (NappeEventList *self, int event);
int nappe_event_list_get_selected (NappeEventList *self);

G_END_DECLS
