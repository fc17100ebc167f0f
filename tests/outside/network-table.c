/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Prints the compiled network of a build and its running state as lines "kind,number,…", SI throughout, so that another
 * program can solve the same network by its own laws. With a count as second argument: prints how long one steady
 * state takes, the median of so many from nothing, as "seconds,number" at the end. With "--case" and the name of a case:
 * plays it without evaporation, and prints what the time simulation needs beside that, the plan, all events, every
 * vessel's level once a second, and how long it takes. */

#include "file/file.h"
#include "study/simulation.h"
#include "study/state.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CASE_RUNS 21

static void
print_nodes (const NappeNetwork *network, const NappeState *state)
{
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      printf ("node,%d,%s,%.17g,%.17g,%.17g\n", node->kind, *node->id != '\0' ? node->id : "-", node->floor, node->rim,
              state->level[i]);
    }
}

/* Every link with its ends, open share, sill and flow; then what its law needs. */
static void
print_link (const NappeNetwork *network, const NappeLink *link, const NappeState *state, guint index)
{
  printf ("link,%d,%s,%u,%u,%.17g,%.17g,%d,%d,%.17g\n", link->kind, *link->id != '\0' ? link->id : "-", link->from,
          link->to, link->open_share, link->sill, link->shut, link->one_way, state->flow[index]);
  printf ("weir,%.17g,%.17g,%.17g,%u,%.17g,%.17g,%.17g\n", link->weir.length, link->weir.height, link->weir.thickness,
          link->weir.slot_count, link->weir.slot_width, link->weir.slot_depth, link->weir.open_share);
  printf ("gap,%.17g,%.17g\n", link->gap_area, link->gap_floor);
  printf ("inlet,%d,%d,%.17g,%.17g,%.17g,%.17g\n", link->inlet.role, link->inlet.vented, link->inlet.crest,
          link->inlet.brink, link->inlet.bore, link->inlet.rim_diameter);
  printf ("joint,%u,%.17g,%d\n", link->joint.count, link->joint.bore, link->joint.siphon);
  printf ("sock,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g\n", link->sock.perimeter, link->sock.bottom, link->sock.top,
          link->sock.bottom_area, link->sock.conductance, link->sock.load);
  printf ("pump,%u,%.17g,%.17g,%.17g\n", link->count, link->speed, link->head_left, link->pump_inlet);
  for (gsize i = 0; i < link->curve.n; i++)
    printf ("point,%.17g,%.17g\n", link->curve.flow[i], link->curve.head[i]);
  for (guint i = 0; i < link->n_stretches; i++)
    {
      const NappeStretch *stretch = &network->stretches[link->first_stretch + i];

      printf ("stretch,%.17g,%.17g,%.17g,%.17g,%.17g\n", stretch->bore, stretch->length, stretch->roughness, stretch->k,
              stretch->k1);
    }
}

static int
compare_times (const void *a, const void *b)
{
  const gint64 *one = a, *other = b;

  return (*one > *other) - (*one < *other);
}

/* [s] */
static double
median_time (const NappeNetwork *network, NappeBalance *balance, guint count)
{
  g_autofree gint64 *times = g_new (gint64, count);

  for (guint i = 0; i < count; i++)
    {
      NappeState state;

      nappe_state_init (&state, network);
      times[i] = g_get_monotonic_time ();
      /* A hundred at a time: the clock counts whole microseconds. */
      for (guint j = 0; j < 100; j++)
        nappe_study_run (&state, balance, network);
      times[i] = g_get_monotonic_time () - times[i];
      nappe_state_clear (&state);
    }
  qsort (times, count, sizeof *times, compare_times);
  return (double) times[count / 2] * 1e-8;
}

/* What holds water, and how much by height; and where backflow draws air. */
static void
print_contents (const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_nodes; i++)
    printf ("vessel,%u,%.17g,%.17g,%.17g\n", i, network->nodes[i].area, network->nodes[i].area_low, network->nodes[i].step);
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      printf ("air,%u,%.17g\n", i, link->siphon_break);
      for (guint c = link->first_content; c < link->first_content + link->n_contents; c++)
        printf ("content,%u,%.17g,%.17g,%.17g\n", i, network->contents[c].low, network->contents[c].high,
                network->contents[c].volume);
    }
}

static void
print_course (const NappeSimulation *course)
{
  printf ("length,%.17g\n", course->plan->length);
  for (guint i = 0; i < course->plan->n; i++)
    {
      const NappeHappening *happening = &course->plan->happenings[i];

      printf ("happening,%.17g,%d,%s,%.17g\n", happening->at, happening->kind, happening->change.part, happening->change.value);
    }
  for (guint i = 0; i < course->n_events; i++)
    printf ("event,%.17g,%s,%u\n", course->events[i].time, nappe_event_nick (course->events[i].kind), course->events[i].index);
  for (double t = 0; t <= course->end_time; t++)
    {
      printf ("moment,%g,%.17g", t, nappe_simulation_on_floor (course, t));
      for (guint i = 0; i < course->network->n_nodes; i++)
        printf (",%.17g", nappe_simulation_level (course, i, t));
      printf ("\n");
    }
}

/* Plays a case of the build and prints it. FALSE with error when there is no such case. */
static gboolean
play_case (NappeBuild *build, NappeCatalogue *catalogue, const char *id, GError **error)
{
  g_autoptr (NappeStudy) study = nappe_study_build (build, catalogue);
  g_autoptr (NappePlan) plan = nappe_plan_find (build, study, id, error);
  gint64 times[CASE_RUNS];

  if (plan == NULL)
    return FALSE;
  for (guint i = 0; i < CASE_RUNS; i++)
    {
      gint64 begin = g_get_monotonic_time ();
      g_autoptr (NappeSimulation) course = nappe_simulation_new (study, plan, 0, NULL, NULL, NULL, error);

      if (course == NULL)
        return FALSE;
      times[i] = g_get_monotonic_time () - begin;
      if (i == 0)
        print_course (course);
    }
  qsort (times, CASE_RUNS, sizeof *times, compare_times);
  printf ("seconds,%.9g\n", (double) times[CASE_RUNS / 2] * 1e-6);
  return TRUE;
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  setlocale (LC_ALL, "C");
  if (argc < 2)
    return 64;
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (argv[1]);
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);
  g_autoptr (NappeBuild) build = catalogue != NULL ? nappe_file_read (file, NULL, &error) : NULL;

  if (build == NULL)
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  g_autoptr (NappeNetwork) network = nappe_network_compile (build, layout, catalogue);
  g_autoptr (NappeBalance) balance = nappe_balance_new (network->n_nodes, network->n_links);
  NappeState state;

  nappe_state_init (&state, network);
  nappe_study_run (&state, balance, network);
  printf ("water,%.17g\nreturn,%u\nfloor,%u\ndisplay,%u\nkept,%.17g\nrest,%d\nreservoir,%u\ntop_off,%.17g\n",
          network->water.kinematic, network->return_chamber, network->floor, network->display, network->kept_level, state.rest,
          network->reservoir, network->top_off_flow);
  print_nodes (network, &state);
  for (guint i = 0; i < network->n_links; i++)
    print_link (network, &network->links[i], &state, i);
  gboolean plays = argc > 3 && strcmp (argv[2], "--case") == 0, played = TRUE;
  if (plays)
    {
      print_contents (network);
      played = play_case (build, catalogue, argv[3], &error);
    }
  else if (argc > 2)
    printf ("seconds,%.9g\n", median_time (network, balance, (guint) MAX (atoi (argv[2]), 1)));
  nappe_state_clear (&state);
  if (!played)
    fprintf (stderr, "%s\n", error->message);
  return played ? 0 : 1;
}
