/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Priming, and the siphon that finds no rest: against filling and emptying the box in small steps of time. */
#include "study-fixture.h"

#include "physics/drop-inlet.h"

#include <math.h>

#define STEP 0.002 /* s */

/* What a drain carries with its box at a level, and the head at its end: where a tee follows, by halving the head at it. */
static double
drain_flow (const NappeStudy *study, guint index, double level, gboolean primed, double *head_to)
{
  const NappeNetwork *network = study->network;
  const NappeLink *link = &network->links[index];
  NappeLinkMode mode = { primed, 0 };
  NappeLinkFlow result;

  *head_to = study->running.level[link->to];
  if (network->nodes[link->to].kind == NAPPE_NODE_JUNCTION)
    {
      double low = 0, high = level;

      for (guint i = 0; i < 60; i++)
        {
          double gain;

          *head_to = 0.5 * (low + high);
          nappe_link_law (network, link, &mode, level, *head_to, &result);
          gain = result.flow;
          for (guint l = 0; l < network->n_links; l++)
            if (network->links[l].from == link->to)
              {
                NappeLinkMode pipe = { FALSE, 0 };
                nappe_link_law (network, &network->links[l], &pipe, *head_to,
                                study->running.level[network->links[l].to], &result);
                gain -= result.flow;
              }
          if (gain > 0)
            low = *head_to;
          else
            high = *head_to;
        }
    }
  nappe_link_law (network, link, &mode, level, *head_to, &result);
  return result.flow;
}

static double
box_gain (const NappeStudy *study, const NappeDrainReport *siphon, double inflow, double level, gboolean primed)
{
  double gain = inflow, head;

  for (guint i = 0; i < study->n_drains; i++)
    gain -= drain_flow (study, study->drains[i].link, level, primed && &study->drains[i] == siphon, &head);
  return gain;
}

static double
urge (const NappeStudy *study, guint index, double level)
{
  const NappeLink *link = &study->network->links[index];
  double head, flow = drain_flow (study, index, level, FALSE, &head);
  double full = nappe_drain_full_flow (study->network, link, level, head, 0, NULL);

  return fmax (nappe_full_bore_froude (flow, link->inlet.bore) / NAPPE_FROUDE_PRIME,
               nappe_drain_inlet_flow (link, level, NULL) / full);
}

/* Time until the level has gone from one to the other, by the midpoint rule in small steps. */
static double
passage (const NappeStudy *study, const NappeDrainReport *siphon, double inflow, double from, double to, gboolean primed)
{
  double area = study->network->nodes[study->network->links[siphon->link].from].area, level = from, time = 0;

  while (primed ? level > to : level < to)
    {
      double middle = level + 0.5 * STEP * box_gain (study, siphon, inflow, level, primed) / area;
      double step = STEP * box_gain (study, siphon, inflow, middle, primed) / area;

      if (time > 600)
        return INFINITY;
      if (primed ? level + step < to : level + step > to)
        return time + STEP * (to - level) / step;
      level += step;
      time += STEP;
    }
  return time;
}

static void
load_oversize (StudyFixture *fixture, double speed)
{
  study_fixture_load (fixture, "three-drain");
  study_fixture_set (fixture, "siphon-valve", "opening", 1.0);
  study_fixture_set (fixture, "return-pump", "speed", speed);
  study_fixture_again (fixture);
}

static void
test_period_agrees_with_steps_of_time (void)
{
  for (double speed = 0.74; speed < 0.77; speed += 0.01)
    {
      StudyFixture fixture;
      load_oversize (&fixture, speed);
      const NappeStudy *study = fixture.study;
      const NappeDrainReport *siphon = nappe_study_drain (study, "siphon");
      const NappeSiphonCycle *cycle = &siphon->cycle;
      double inflow = study->weirs[0].flow;

      g_assert_cmpint (study->running.rest, ==, NAPPE_REST_CYCLES);
      g_assert_true (cycle->cycles);
      g_assert_cmpfloat (cycle->breaks_at, ==, study->network->links[siphon->link].inlet.brink);
      g_assert_cmpfloat_with_epsilon (urge (study, siphon->link, cycle->primes_at), 1, 1e-5);
      g_assert_cmpfloat (cycle->swing, ==, cycle->primes_at - cycle->breaks_at);
      double up = passage (study, siphon, inflow, cycle->breaks_at, cycle->primes_at, FALSE);
      double down = passage (study, siphon, inflow, cycle->primes_at, cycle->breaks_at, TRUE);
      g_test_message ("speed %.2f: primes at %.4f m, breaks at %.4f m, period %.3f s, in steps %.3f + %.3f s", speed,
                      cycle->primes_at, cycle->breaks_at, cycle->period, up, down);
      g_assert_cmpfloat_with_epsilon (cycle->period, up + down, 0.002 * (up + down));
      /* Emptying the box from one level to the other takes the siphon's flow less what runs in. */
      g_assert_cmpfloat (cycle->flow_full, >, inflow);
      g_assert_cmpfloat (cycle->flow_full, <=, siphon->capacity_full);
      study_fixture_clear (&fixture);
    }
}

static void
test_only_a_siphon_without_rest_cycles (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[i]);

      for (guint d = 0; d < fixture.study->n_drains; d++)
        g_assert_false (fixture.study->drains[d].cycle.cycles);
      study_fixture_clear (&fixture);
    }
}

/* At the level reported the urge is 1 and below it less; a vented drain has none. */
static void
test_prime_level_is_where_it_primes (void)
{
  StudyFixture fixture;
  guint primed = 0;

  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];

      g_test_message ("%s: crest %.4f m, primes at %.4f m, margin %.3f", report->id,
                      study->network->links[report->link].inlet.crest, report->prime_level, report->prime_margin);
      if (study->network->links[report->link].inlet.vented)
        g_assert_true (isnan (report->prime_level));
      if (isnan (report->prime_level))
        continue;
      primed++;
      g_assert_cmpfloat_with_epsilon (urge (study, report->link, report->prime_level), 1, 1e-5);
      g_assert_cmpfloat (urge (study, report->link, report->prime_level - 1e-4), <, 1);
    }
  g_assert_cmpuint (primed, >=, 1);
  g_assert_true (isnan (nappe_study_drain (study, "channel")->prime_margin));
  study_fixture_clear (&fixture);
}

/* The margin is the urge where the unprimed drains carry what runs into the box, which no level on the way exceeds. */
static void
test_margin_is_the_greatest_while_filling (void)
{
  StudyFixture fixture;
  double greatest = 0;

  study_fixture_load (&fixture, "three-drain");
  const NappeStudy *study = fixture.study;
  const NappeDrainReport *siphon = nappe_study_drain (study, "siphon");
  double level = study->network->links[siphon->link].inlet.crest;
  double top = study->network->nodes[study->network->display].rim;
  while (level < top && box_gain (study, siphon, study->weirs[0].flow, level, FALSE) > 0)
    {
      greatest = fmax (greatest, urge (study, siphon->link, level));
      level += 1e-4;
    }
  g_assert_cmpfloat_with_epsilon (siphon->prime_margin, greatest, 0.01 * greatest);
  g_assert_cmpint (siphon->prime_margin > 1, ==, siphon->prime_level < level);
  study_fixture_clear (&fixture);
}

/* More flow brings priming nearer. */
static void
test_margin_rises_with_flow (void)
{
  StudyFixture fixture;
  double margin = 0;

  study_fixture_load (&fixture, "three-drain");
  for (double speed = 0.70; speed <= 1.0; speed += 0.05)
    {
      study_fixture_set (&fixture, "return-pump", "speed", speed);
      study_fixture_again (&fixture);
      double now = nappe_study_drain (fixture.study, "siphon")->prime_margin;
      g_assert_cmpfloat (now, >=, margin - 1e-5);
      margin = now;
    }
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/cycle/period-agrees-with-steps-of-time", test_period_agrees_with_steps_of_time);
  g_test_add_func ("/cycle/only-a-siphon-without-rest-cycles", test_only_a_siphon_without_rest_cycles);
  g_test_add_func ("/cycle/prime-level-is-where-it-primes", test_prime_level_is_where_it_primes);
  g_test_add_func ("/cycle/margin-is-the-greatest-while-filling", test_margin_is_the_greatest_while_filling);
  g_test_add_func ("/cycle/margin-rises-with-flow", test_margin_rises_with_flow);
  return g_test_run ();
}
