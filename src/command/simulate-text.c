/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "command/simulate.h"
#include "command/text-table.h"
#include "picture/curves/course-words.h"

#define INDENT 2u
#define WIDTH 96u
/* A cycling siphon makes thousands: people read the first ones. */
#define MOST_EVENTS 200u

static void
add_number (const NappeCase *self, NappeTextTable *table, NappeQuantity quantity, double si)
{
  nappe_text_table_take (table, nappe_case_number (self, quantity, si));
}

static void
add_events (const NappeCase *self, GString *text, const NappeSimulation *course)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (3);
  guint shown = MIN (course->n_events, MOST_EVENTS), left = course->n_events - shown;

  if (shown == 0)
    return;
  nappe_text_table_set_left (table, 1);
  for (guint i = 0; i < shown; i++)
    {
      const NappeEvent *event = &course->events[i];

      nappe_text_table_take (table, nappe_course_clock_text (event->time));
      nappe_text_table_take (table, nappe_course_event_text (self->build, course, event, self->units));
      nappe_text_table_add (table, NULL);
    }
  g_string_append_printf (text, "\n%s\n", _("What happens (hours:minutes:seconds)"));
  nappe_text_table_print (table, INDENT, text);
  if (left > 0)
    {
      g_string_append (text, "  ");
      g_string_append_printf (text, ngettext ("and %u more", "and %u more", left), left);
      g_string_append_c (text, '\n');
    }
}

static void
add_levels (const NappeCase *self, GString *text, const NappeSimulation *course)
{
  const NappeNetwork *network = course->network;
  g_autoptr (NappeTextTable) table = nappe_text_table_new (8);
  const char *const headings[] = { NULL, _("before"), _("highest"), _("at"), _("lowest"), _("at"), _("in the end"), _("rim") };

  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    nappe_text_table_add (table, headings[i]);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      if (network->nodes[i].kind > NAPPE_NODE_VESSEL)
        continue;
      nappe_text_table_take (table, nappe_case_name (self, network->nodes[i].id));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, self->study->running.level[i]);
      add_number (self, table, NAPPE_QUANTITY_LENGTH, course->peak[i]);
      nappe_text_table_take (table, nappe_course_clock_text (course->peak_time[i]));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, course->lowest[i]);
      nappe_text_table_take (table, nappe_course_clock_text (course->lowest_time[i]));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, nappe_simulation_level (course, i, course->end_time));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, network->nodes[i].rim);
    }
  g_string_append_printf (text, "\n%s\n", _("Levels above the room's floor"));
  nappe_text_table_print (table, INDENT, text);
}

static void
add_water (const NappeCase *self, GString *text, const NappeSimulation *course)
{
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  nappe_text_table_add (table, _("On the floor"));
  add_number (self, table, NAPPE_QUANTITY_VOLUME, course->spilled);
  nappe_text_table_add (table, _("Added by the top-off"));
  add_number (self, table, NAPPE_QUANTITY_VOLUME, course->added);
  nappe_text_table_add (table, _("Evaporated"));
  add_number (self, table, NAPPE_QUANTITY_VOLUME, course->evaporated);
  g_string_append_printf (text, "\n%s\n", _("Water"));
  nappe_text_table_print (table, INDENT, text);
}

static void
add_title (const NappeCase *self, GString *text)
{
  g_string_append_printf (text, "%s\n", *self->build->title != '\0' ? self->build->title : self->name);
}

char *
nappe_course_report_text (const NappeCase *self, const NappeSimulation *course)
{
  GString *text = g_string_new (NULL);
  g_autofree char *verdict = nappe_course_verdict_text (self->build, course, self->units);
  g_autofree char *length = nappe_course_time_text (course->end_time, self->units);

  add_title (self, text);
  /* Translators: the name of a case of the time simulation, then a time. */
  g_string_append_printf (text, _("%s, followed for %s"), course->plan->title, length);
  g_string_append_c (text, '\n');
  nappe_text_wrap (verdict, 0, WIDTH, text);
  add_events (self, text, course);
  add_levels (self, text, course);
  add_water (self, text, course);
  return g_string_free (text, FALSE);
}

/* Smallest height that a rim had over its water, of the vessels that hold any [m]; NaN: none. */
static double
least_freeboard (const NappeSimulation *course)
{
  double least = NAN;

  for (guint i = 0; i < course->network->n_nodes; i++)
    if (course->network->nodes[i].kind <= NAPPE_NODE_VESSEL && course->network->nodes[i].kind != NAPPE_NODE_SOCK)
      least = fmin (least, course->network->nodes[i].rim - course->peak[i]);
  return least;
}

char *
nappe_courses_report_text (const NappeCase *self, const GPtrArray *plans, const GPtrArray *courses)
{
  GString *text = g_string_new (NULL);
  g_autoptr (NappeTextTable) table = nappe_text_table_new (6);
  const char *const headings[] = { _("case"), NULL, _("on the floor"), _("first drop"), _("least under a rim"), _("ends") };

  nappe_text_table_set_left (table, 1);
  nappe_text_table_set_left (table, 5);
  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    nappe_text_table_add (table, headings[i]);
  for (guint i = 0; i < plans->len; i++)
    {
      const NappePlan *plan = plans->pdata[i];
      const NappeSimulation *course = courses->pdata[i];

      nappe_text_table_add (table, plan->id);
      nappe_text_table_add (table, plan->title);
      add_number (self, table, NAPPE_QUANTITY_VOLUME, course != NULL ? course->spilled : NAN);
      nappe_text_table_take (table, nappe_course_time_text (course != NULL ? course->first_drop : NAN, self->units));
      add_number (self, table, NAPPE_QUANTITY_LENGTH, course != NULL ? fmax (least_freeboard (course), 0) : NAN);
      nappe_text_table_add (table, course != NULL ? nappe_course_end_word (nappe_course_end (course)) : _("not played"));
    }
  add_title (self, text);
  nappe_text_table_print (table, 0, text);
  return g_string_free (text, FALSE);
}

char *
nappe_plans_text (const GPtrArray *plans)
{
  GString *text = g_string_new (NULL);
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  nappe_text_table_set_left (table, 1);
  for (guint i = 0; i < plans->len; i++)
    {
      nappe_text_table_add (table, ((const NappePlan *) plans->pdata[i])->id);
      nappe_text_table_add (table, ((const NappePlan *) plans->pdata[i])->title);
    }
  nappe_text_table_print (table, 0, text);
  return g_string_free (text, FALSE);
}
