/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "command/json-writer.h"
#include "command/simulate.h"
#include "config.h"
#include "picture/curves/course-words.h"

#define VERSION 1u

static const char *const ends[] = {
  [NAPPE_END_REACHED] = "reached",
  [NAPPE_END_CANCELLED] = "cancelled",
  [NAPPE_END_TOO_MUCH] = "too-much",
  [NAPPE_END_FAILED] = "failed",
};

static void
begin (NappeJsonWriter *json, const NappeCase *self)
{
  nappe_json_writer_init (json);
  nappe_json_open (json, NULL, '{');
  nappe_json_text (json, "format", "nappe-simulation");
  nappe_json_count (json, "version", VERSION);
  nappe_json_text (json, "program", NAPPE_VERSION);
  nappe_json_text (json, "file", self->name);
  nappe_json_text (json, "title", self->build->title);
}

static char *
end (NappeJsonWriter *json)
{
  nappe_json_close (json, '}');
  return nappe_json_writer_end (json);
}

static void
add_plan (NappeJsonWriter *json, const NappePlan *plan)
{
  nappe_json_text (json, "case", plan->id);
  nappe_json_text (json, "name", plan->title);
  nappe_json_quantity (json, "length", NAPPE_QUANTITY_DURATION, plan->length);
}

static void
add_summary (NappeJsonWriter *json, const NappeCase *self, const NappeSimulation *course)
{
  g_autofree char *verdict = nappe_course_verdict_text (self->build, course, self->units);

  nappe_json_text (json, "ends", nappe_course_end_nick (nappe_course_end (course)));
  nappe_json_text (json, "text", verdict);
  nappe_json_text (json, "simulated", ends[course->end]);
  nappe_json_quantity (json, "end", NAPPE_QUANTITY_DURATION, course->end_time);
  nappe_json_quantity (json, "on_the_floor", NAPPE_QUANTITY_VOLUME, course->spilled);
  nappe_json_quantity (json, "first_drop", NAPPE_QUANTITY_DURATION, course->first_drop);
  nappe_json_quantity (json, "added", NAPPE_QUANTITY_VOLUME, course->added);
  nappe_json_quantity (json, "evaporated", NAPPE_QUANTITY_VOLUME, course->evaporated);
  nappe_json_flag (json, "returns", course->returns);
  nappe_json_flag (json, "settles", course->settles);
  nappe_json_flag (json, "cycles", course->cycles);
  nappe_json_quantity (json, "period", NAPPE_QUANTITY_DURATION, course->period);
  nappe_json_quantity (json, "swing", NAPPE_QUANTITY_LENGTH, course->swing);
}

static void
add_vessels (NappeJsonWriter *json, const NappeCase *self, const NappeSimulation *course)
{
  const NappeNetwork *network = course->network;

  nappe_json_open (json, "vessels", '[');
  for (guint i = 0; i < network->n_nodes; i++)
    {
      g_autofree char *name = NULL;

      if (network->nodes[i].kind > NAPPE_NODE_VESSEL)
        continue;
      name = nappe_case_name (self, network->nodes[i].id);
      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "id", network->nodes[i].id);
      nappe_json_text (json, "name", name);
      nappe_json_quantity (json, "rim", NAPPE_QUANTITY_LENGTH, network->nodes[i].rim);
      nappe_json_quantity (json, "level_before", NAPPE_QUANTITY_LENGTH, self->study->running.level[i]);
      nappe_json_quantity (json, "peak", NAPPE_QUANTITY_LENGTH, course->peak[i]);
      nappe_json_quantity (json, "peak_time", NAPPE_QUANTITY_DURATION, course->peak_time[i]);
      nappe_json_quantity (json, "lowest", NAPPE_QUANTITY_LENGTH, course->lowest[i]);
      nappe_json_quantity (json, "lowest_time", NAPPE_QUANTITY_DURATION, course->lowest_time[i]);
      nappe_json_quantity (json, "level", NAPPE_QUANTITY_LENGTH, nappe_simulation_level (course, i, course->end_time));
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

static void
add_events (NappeJsonWriter *json, const NappeCase *self, const NappeSimulation *course)
{
  nappe_json_open (json, "events", '[');
  for (guint i = 0; i < course->n_events; i++)
    {
      const NappeEvent *event = &course->events[i];
      g_autofree char *text = nappe_course_event_text (self->build, course, event, self->units);

      nappe_json_open (json, NULL, '{');
      nappe_json_quantity (json, "time", NAPPE_QUANTITY_DURATION, event->time);
      nappe_json_text (json, "kind", nappe_event_nick (event->kind));
      nappe_json_text (json, "part", event->part);
      nappe_json_text (json, "text", text);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
}

char *
nappe_course_report_json (const NappeCase *self, const NappeSimulation *course)
{
  NappeJsonWriter json;

  begin (&json, self);
  add_plan (&json, course->plan);
  add_summary (&json, self, course);
  add_vessels (&json, self, course);
  add_events (&json, self, course);
  return end (&json);
}

char *
nappe_courses_report_json (const NappeCase *self, const GPtrArray *plans, const GPtrArray *courses)
{
  NappeJsonWriter json;

  begin (&json, self);
  nappe_json_open (&json, "cases", '[');
  for (guint i = 0; i < plans->len; i++)
    {
      nappe_json_open (&json, NULL, '{');
      add_plan (&json, plans->pdata[i]);
      if (courses->pdata[i] != NULL)
        add_summary (&json, self, courses->pdata[i]);
      else
        nappe_json_text (&json, "ends", NULL);
      nappe_json_close (&json, '}');
    }
  nappe_json_close (&json, ']');
  return end (&json);
}

char *
nappe_plans_json (const NappeCase *self, const GPtrArray *plans)
{
  NappeJsonWriter json;

  begin (&json, self);
  nappe_json_open (&json, "cases", '[');
  for (guint i = 0; i < plans->len; i++)
    {
      nappe_json_open (&json, NULL, '{');
      add_plan (&json, plans->pdata[i]);
      nappe_json_close (&json, '}');
    }
  nappe_json_close (&json, ']');
  return end (&json);
}
