/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe simulate` */
#include "command/simulate.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/curves/course-csv.h"
#include "study/course.h"
#include "study/courses.h"

#define MOST_THREADS 8u

/* What was typed. */
typedef struct
{
  gboolean list, json;
  char *id;  /* of the case; NULL: all */
  char *csv; /* name of a file, "-", or NULL */
  char *every, *units;
  double step; /* [s]; 0: every frame */
  NappeUnitsOption system;
} Asked;

static void
asked_clear (Asked *self)
{
  g_free (self->id);
  g_free (self->csv);
  g_free (self->every);
  g_free (self->units);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, asked_clear)

static gboolean
read_step (Asked *self)
{
  g_autoptr (GError) error = NULL;

  if (self->every == NULL)
    return TRUE;
  if (!nappe_quantity_parse (NAPPE_QUANTITY_DURATION, self->every, NAPPE_UNITS_METRIC, &self->step, &error))
    nappe_complain ("--every: %s", error->message);
  else if (!(self->step > 0))
    nappe_complain (_("--every wants a time longer than nothing, not “%s”"), self->every);
  else if (self->csv == NULL)
    nappe_complain (_("--every says how far apart the rows of --csv are"));
  else
    return TRUE;
  return FALSE;
}

static gboolean
check_asked (const Asked *self)
{
  if (self->list && (self->id != NULL || self->csv != NULL))
    nappe_complain (_("--list-cases stands alone"));
  else if (self->csv != NULL && self->id == NULL)
    nappe_complain (_("--csv wants one case; --list-cases lists them"));
  else if (self->json && g_strcmp0 (self->csv, "-") == 0)
    nappe_complain (_("--json and “--csv -” exclude each other"));
  else
    return TRUE;
  return FALSE;
}

static NappeExit
exit_of (const NappeSimulation *course)
{
  switch (nappe_course_end (course))
    {
    case NAPPE_COURSE_FLOODS:
      return NAPPE_EXIT_DANGER;
    case NAPPE_COURSE_UNFINISHED:
    case NAPPE_COURSE_DRAWS_AIR:
    case NAPPE_COURSE_CYCLES:
    case NAPPE_COURSE_LOST:
      return NAPPE_EXIT_PROBLEM;
    case NAPPE_COURSE_MOVING:
    case NAPPE_COURSE_SETTLES:
    case NAPPE_COURSE_RETURNS:
    default:
      return NAPPE_EXIT_FINE;
    }
}

static double
evaporation_of (const NappeCase *self)
{
  g_autoptr (NappeHeat) heat = nappe_heat_new (self->build, self->catalogue, self->study);

  return heat->evaporation;
}

/* FALSE after a complaint; `written` when the values went to standard output. */
static gboolean
write_csv (const Asked *asked, const NappeSimulation *course, NappeExit *status, gboolean *written)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *values = NULL;
  g_autofree char *shown = NULL;

  *written = FALSE;
  if (asked->csv == NULL)
    return TRUE;
  values = nappe_course_csv (course, asked->step);
  shown = g_filename_display_name (asked->csv);
  *status = NAPPE_EXIT_USAGE;
  if (values == NULL)
    {
      nappe_complain (_("--every: so small a step gives more than %d rows"), NAPPE_COURSE_CSV_ROWS_MAX);
      return FALSE;
    }
  *status = NAPPE_EXIT_FILE;
  *written = strcmp (asked->csv, "-") == 0;
  if (*written)
    return nappe_write_out (values);
  if (g_file_set_contents (asked->csv, values, -1, &error))
    return TRUE;
  nappe_complain (_("%s was not written: %s"), shown, error->message);
  return FALSE;
}

static NappeExit
play_one (const Asked *asked, const NappeCase *opened)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappePlan) plan = nappe_plan_find (opened->build, opened->study, asked->id, &error);
  g_autoptr (NappeSimulation) course = NULL;
  g_autofree char *text = NULL;
  NappeExit status = NAPPE_EXIT_USAGE;
  gboolean written;

  if (plan != NULL)
    course = nappe_simulation_new (opened->study, plan, evaporation_of (opened), NULL, NULL, NULL, &error);
  if (course == NULL)
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_USAGE;
    }
  if (!write_csv (asked, course, &status, &written))
    return status;
  if (written)
    return exit_of (course);
  text = asked->json ? nappe_course_report_json (opened, course) : nappe_course_report_text (opened, course);
  return nappe_write_out (text) ? exit_of (course) : NAPPE_EXIT_FILE;
}

/* Says why a case could not be played. */
static void
complain_of (const NappeCase *opened, const NappePlan *plan)
{
  g_autoptr (GError) error = NULL;

  if (nappe_plan_check (plan, opened->study->network, &error))
    nappe_complain (_("%s: there is no running state to begin with"), plan->title);
  else
    nappe_complain ("%s", error->message);
}

static NappeExit
play_all (const Asked *asked, const NappeCase *opened, const GPtrArray *plans)
{
  g_autoptr (GPtrArray) courses = nappe_courses_new (opened->study, plans, evaporation_of (opened),
                                                     CLAMP (g_get_num_processors (), 1, MOST_THREADS), NULL);
  g_autofree char *text = asked->json ? nappe_courses_report_json (opened, plans, courses)
                                      : nappe_courses_report_text (opened, plans, courses);
  NappeExit worst = NAPPE_EXIT_FINE;

  for (guint i = 0; i < courses->len; i++)
    if (courses->pdata[i] == NULL)
      {
        complain_of (opened, plans->pdata[i]);
        worst = MAX (worst, NAPPE_EXIT_PROBLEM);
      }
    else
      worst = MAX (worst, exit_of (courses->pdata[i]));
  return nappe_write_out (text) ? worst : NAPPE_EXIT_FILE;
}

static NappeExit
answer (const Asked *asked, const char *path)
{
  g_autoptr (NappeCase) opened = nappe_case_open (path, &asked->system);
  g_autoptr (GPtrArray) plans = NULL;
  g_autofree char *text = NULL;

  if (opened == NULL)
    return NAPPE_EXIT_FILE;
  if (asked->id != NULL)
    return play_one (asked, opened);
  plans = nappe_plans_of (opened->build, opened->study);
  if (!asked->list)
    return play_all (asked, opened, plans);
  text = asked->json ? nappe_plans_json (opened, plans) : nappe_plans_text (plans);
  return nappe_write_out (text) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

NappeExit
nappe_command_simulate (char **arguments)
{
  g_auto (Asked) asked = { 0 };
  const GOptionEntry entries[] = {
    { "case", 'c', 0, G_OPTION_ARG_STRING, &asked.id, N_("Play one case; without it all are played"), N_("ID") },
    { "list-cases", 'l', 0, G_OPTION_ARG_NONE, &asked.list, N_("List the cases of the build"), NULL },
    { "csv", 0, 0, G_OPTION_ARG_FILENAME, &asked.csv, N_("Write levels and flows as a table; “-” is standard output"),
      N_("NAME") },
    { "every", 'e', 0, G_OPTION_ARG_STRING, &asked.every, N_("Time between the rows of that table, such as 1 s"),
      N_("TIME") },
    { "json", 'j', 0, G_OPTION_ARG_NONE, &asked.json, N_("Print JSON for other programs"), NULL },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &asked.units, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };
  g_auto (GStrv) words = NULL;

  if (!nappe_options_read ("simulate", _("FILE"),
                           _("Plays in time what befalls a build: power cuts, blocked drains, and your own trials."), entries,
                           arguments, &words)
      || !nappe_units_option_read (&asked.system, asked.units) || !read_step (&asked) || !check_asked (&asked))
    return NAPPE_EXIT_USAGE;
  if (g_strv_length (words) != 1)
    {
      nappe_complain (_("“nappe simulate” wants one build file, or “-” for standard input"));
      return NAPPE_EXIT_USAGE;
    }
  return answer (&asked, words[0]);
}
