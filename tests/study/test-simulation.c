/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The time simulation of whole systems: at rest it stays, a power cut ends where geometry says, no litre is made or
 * lost, a siphon starts again, a blocked drain floods, and nothing hangs. */
#include "study-fixture.h"

#include "study/scenario.h"
#include "study/simulation.h"

#include <math.h>
#include <string.h>

static NappeSimulation *
play (const NappeStudy *study, NappeHappening *happenings, guint n, double length, double evaporation)
{
  char name[] = "test";
  NappePlan plan = { .id = name, .title = name, .length = length, .n = n, .happenings = happenings };
  g_autoptr (GError) error = NULL;
  NappeSimulation *result = nappe_simulation_new (study, &plan, evaporation, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (result);
  return result;
}

static NappeSimulation *
play_case (StudyFixture *fixture, const char *id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappePlan) plan = nappe_plan_find (fixture->build, fixture->study, id, &error);

  g_assert_no_error (error);
  NappeSimulation *result = nappe_simulation_new (fixture->study, plan, 0, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (result->end, ==, NAPPE_END_REACHED);
  return result;
}

static gboolean
is_vessel (const NappeNetwork *network, guint node)
{
  return network->nodes[node].kind != NAPPE_NODE_JUNCTION && node != network->floor;
}

static double
end_level (const NappeSimulation *self, guint node)
{
  return self->level[(self->n_frames - 1) * self->network->n_nodes + node];
}

/* The first event of a kind from a time on; NULL: none. */
static const NappeEvent *
find_event (const NappeSimulation *self, NappeEventKind kind, double from)
{
  for (guint e = 0; e < self->n_events; e++)
    if (self->events[e].kind == kind && self->events[e].time >= from)
      return &self->events[e];
  return NULL;
}

/* A flow that jumps when something happens has its old value until then, however long ago the frame before was. */
static void
test_jumps_are_upright (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeSimulation) course = play_case (&fixture, "snail-and-power-cut");
  guint siphon = (guint) nappe_network_find_link (course->network, NAPPE_LINK_DRAIN, "siphon");
  double long_before = nappe_simulation_flow (course, siphon, 1200), before = nappe_simulation_flow (course, siphon, 1499.9);
  double after = nappe_simulation_flow (course, siphon, 1500.1);

  g_assert_cmpfloat (long_before, >, 0);
  g_assert_cmpfloat_with_epsilon (before, long_before, 0.01 * long_before);
  g_assert_cmpfloat (after, >, 2 * before);
  study_fixture_clear (&fixture);
}

/* The steady state is found by other equations, without inertia and with pipes that hold nothing. */
static void
test_steady_state_stays (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      const NappeStudy *study = fixture.study;
      g_autoptr (NappeSimulation) result = play (study, NULL, 0, 600, 0);

      for (guint i = 0; i < study->network->n_nodes; i++)
        if (is_vessel (study->network, i))
          {
            g_assert_cmpfloat_with_epsilon (result->peak[i], study->running.level[i], 1e-4);
            g_assert_cmpfloat_with_epsilon (result->lowest[i], study->running.level[i], 1e-4);
          }
      for (guint i = 0; i < study->network->n_links; i++)
        g_assert_cmpfloat_with_epsilon (nappe_simulation_flow (result, i, 600), study->running.flow[i],
                                        0.01 * study->running.pump_flow);
      g_assert_true (result->returns);
      g_assert_true (result->settles);
      g_assert_false (result->cycles);
      g_assert_cmpfloat (result->spilled, ==, 0);
      g_assert_true (isinf (result->first_drop));
      study_fixture_clear (&fixture);
    }
}

/* Where a siphon breaks, the balance counts in its box no more than what is sure to come over the weir afterwards. */
static void
compare_with_balance (const NappeStudy *study, const NappeSimulation *result, const NappePowerCut *cut)
{
  const NappeNetwork *network = study->network;
  double plan = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    {
      double miss = end_level (result, i) - cut->state.level[i];

      if (network->nodes[i].kind == NAPPE_NODE_BOX)
        {
          g_assert_cmpfloat (miss, >=, -1e-4);
          g_assert_cmpfloat (miss, <=, 1.5e-3);
        }
      else if (is_vessel (network, i))
        g_assert_cmpfloat (fabs (miss), <=, 1e-3);
      if (network->nodes[i].kind == NAPPE_NODE_CHAMBER)
        plan += network->nodes[i].area;
    }
  g_assert_cmpfloat_with_epsilon (result->spilled, cut->state.spilled, 1e-3 * plan);
}

static void
test_power_cut_ends_as_balanced (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      NappeHappening fails[] = { { .at = 1, .kind = NAPPE_HAPPEN_POWER_OFF },
                                 { .at = 1, .kind = NAPPE_HAPPEN_CHECK_STICKS, .change = { .value = 1 } } };
      gboolean has_check = FALSE;

      for (guint i = 0; i < fixture.study->network->n_links; i++)
        has_check |= fixture.study->network->links[i].one_way;
      g_autoptr (NappeSimulation) failed = play (fixture.study, fails, has_check ? 2 : 1, 2400, 0);
      compare_with_balance (fixture.study, failed, &fixture.study->cut_check_failed);
      g_autoptr (NappeSimulation) holds = play (fixture.study, fails, 1, 2400, 0);
      compare_with_balance (fixture.study, holds, &fixture.study->cut_check_holds);
      g_assert_true (holds->settles);
      study_fixture_clear (&fixture);
    }
}

/* With its valve turned, its box widened, or its mouth lowered, a siphon breaks sooner or later, when more or less is still to
 * come: the box then ends no lower than the balance says, and the sump no higher. */
static void
test_refill_is_sure_to_come (void)
{
  static const struct
  {
    const char *demo, *part, *field;
    double value;
    double most; /* that the balance says too much of the return chamber's level [m] */
  } changes[] = {
    { "two-drain", "siphon-valve", "opening", 0.3, 1e-3 },     { "two-drain", "siphon-valve", "opening", 0.36, 1e-3 },
    { "two-drain", "siphon-valve", "opening", 0.4, 1e-3 },     { "two-drain", "box", "width", 0.25, 2e-3 },
    { "three-drain", "siphon-valve", "opening", 0.3, 1e-3 },   { "three-drain", "box", "width", 0.25, 1e-3 },
    { "three-drain", "box", "width", 0.4, 2e-3 },              { "three-drain", "siphon", "mouth_height", 0.35, 2e-3 },
    { "three-drain", "siphon", "mouth_height", 0.3, 4e-3 },    { "three-drain", "siphon", "crest_height", 0.42, 1e-3 },
  };

  for (guint c = 0; c < G_N_ELEMENTS (changes); c++)
    {
      StudyFixture fixture;
      NappeHappening off = { .at = 1, .kind = NAPPE_HAPPEN_POWER_OFF };

      study_fixture_load (&fixture, changes[c].demo);
      study_fixture_set (&fixture, changes[c].part, changes[c].field, changes[c].value);
      study_fixture_again (&fixture);
      const NappeNetwork *network = fixture.study->network;
      const NappePowerCut *cut = &fixture.study->cut_check_holds;
      g_autoptr (NappeSimulation) result = play (fixture.study, &off, 1, 2400, 0);
      gint siphon = nappe_network_find_link (network, NAPPE_LINK_DRAIN, "siphon");
      guint box = network->links[siphon].from, chamber = network->return_chamber;
      double over = cut->state.level[chamber] - end_level (result, chamber);

      g_test_message ("%s %s %g: box %.2f mm lower, chamber %.2f mm higher", changes[c].part, changes[c].field, changes[c].value,
                      (end_level (result, box) - cut->state.level[box]) * 1e3, over * 1e3);
      g_assert_nonnull (find_event (result, NAPPE_EVENT_BREAKS, 0));
      g_assert_cmpfloat (cut->state.level[box], >=, network->links[siphon].inlet.brink - 1e-9);
      g_assert_cmpfloat (cut->state.level[box], <=, end_level (result, box) + 1e-4);
      g_assert_cmpfloat (over, >=, -2e-4);
      g_assert_cmpfloat (over, <=, changes[c].most);
      study_fixture_clear (&fixture);
    }
}

/* What a power cut brings down at its worst moment is no more than it does in the end, but for what swings. */
static void
test_peaks_are_peaks (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeSimulation) result = play_case (&fixture, "power-cut");

  for (guint f = 0; f < result->n_frames; f++)
    {
      g_assert_true (f == 0 || result->time[f] > result->time[f - 1]);
      for (guint i = 0; i < result->network->n_nodes; i++)
        if (is_vessel (result->network, i))
          {
            double level = result->level[f * result->network->n_nodes + i];

            g_assert_cmpfloat (level, <=, result->peak[i] + 1e-12);
            g_assert_cmpfloat (level, >=, result->lowest[i] - 1e-12);
          }
    }
  study_fixture_clear (&fixture);
}

/* Every standard case of every demo keeps its water, whatever spills, evaporates or is topped up. */
static void
test_water_is_kept (void)
{
  for (guint d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, demo_names[d]);
      g_autoptr (GPtrArray) plans = nappe_plans_of (fixture.build, fixture.study);

      for (guint p = 0; p < plans->len; p++)
        {
          g_autoptr (GError) error = NULL;
          g_autoptr (NappeSimulation) result
              = nappe_simulation_new (fixture.study, plans->pdata[p], 1e-7, NULL, NULL, NULL, &error);

          g_assert_no_error (error);
          g_test_message ("%s: %s, %ld steps", demo_names[d], result->plan->id, result->steps);
          g_assert_cmpint (result->end, ==, NAPPE_END_REACHED);
          g_assert_cmpfloat (fabs (result->balance_error), <, 1e-9);
          g_assert_cmpfloat_with_epsilon (result->evaporated, 1e-7 * result->end_time, 1e-9 + 1e-8 * result->end_time);
          g_assert_cmpfloat (result->spilled, >=, 0);
          for (guint f = 0; f < result->n_frames; f++)
            for (guint i = 0; i < result->network->n_nodes; i++)
              g_assert_true (!is_vessel (result->network, i)
                             || isfinite (result->level[f * result->network->n_nodes + i]));
        }
      study_fixture_clear (&fixture);
    }
}

/* After the power has come back the siphon of the three-drain demo primes by itself, and all stands as before. */
static void
test_siphon_starts_again (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeSimulation) result = play_case (&fixture, "restart");
  const NappeEvent *off = find_event (result, NAPPE_EVENT_HAPPENING, 0);
  const NappeEvent *breaks = find_event (result, NAPPE_EVENT_BREAKS, 0);
  const NappeEvent *air = find_event (result, NAPPE_EVENT_AIR_IN_RETURN, 0);
  const NappeEvent *on = find_event (result, NAPPE_EVENT_HAPPENING, off->time + 1);
  const NappeEvent *full = find_event (result, NAPPE_EVENT_RETURN_FULL, on->time);
  const NappeEvent *primes = find_event (result, NAPPE_EVENT_PRIMES, on->time);

  g_assert_nonnull (breaks);
  g_assert_nonnull (air);
  g_assert_nonnull (primes);
  g_assert_cmpstr (breaks->part, ==, "siphon");
  g_assert_cmpstr (primes->part, ==, "siphon");
  /* 1.56 L of pipe at about 0.8 L/s take two seconds, and the pump one to speed up. */
  g_assert_cmpfloat (full->time - on->time, >, 1);
  g_assert_cmpfloat (full->time - on->time, <, 5);
  g_assert_cmpfloat (primes->time, >, full->time);
  g_assert_true (result->returns);
  g_assert_cmpfloat (result->spilled, ==, 0);
  gint siphon = nappe_network_find_link (result->network, NAPPE_LINK_DRAIN, "siphon");
  NappeState state = { .level = g_new0 (double, result->network->n_nodes), .flow = g_new0 (double, result->network->n_links),
                       .primed = g_new0 (gboolean, result->network->n_links) };
  nappe_simulation_state (result, 0.5 * (breaks->time + primes->time), &state);
  g_assert_false (state.primed[siphon]);
  nappe_simulation_state (result, result->end_time, &state);
  g_assert_true (state.primed[siphon]);
  g_free (state.level);
  g_free (state.flow);
  g_free (state.primed);
  study_fixture_clear (&fixture);
}

/* The only drain of the single-drain demo is blocked: display and box rise to the rim, and the litres count up. */
static void
test_blocked_drain_floods (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");
  g_autoptr (NappeSimulation) result = play_case (&fixture, "block-standpipe");
  const NappeEvent *over = find_event (result, NAPPE_EVENT_OVER_RIM, 0);
  guint display = result->network->display;

  g_assert_nonnull (over);
  g_assert_cmpstr (over->part, ==, result->network->nodes[display].id);
  g_assert_cmpfloat (result->first_drop, ==, over->time);
  g_assert_cmpfloat_with_epsilon (nappe_simulation_level (result, display, over->time),
                                  result->network->nodes[display].rim, 1e-4);
  g_assert_cmpfloat (nappe_simulation_on_floor (result, over->time), <=, 1e-5);
  g_assert_cmpfloat (result->spilled, >, 0.001);
  for (guint f = 1; f < result->n_frames; f++)
    g_assert_cmpfloat (result->on_floor[f], >=, result->on_floor[f - 1] - 1e-6);
  /* The time to the rim that goes by free volume over flow is the least; the pump gives less the emptier its chamber. */
  const NappeBlockage *blockage = nappe_study_blockage (fixture.study, "standpipe");
  g_assert_cmpfloat (over->time - 10, >=, blockage->time_to_rim - 0.5);
  g_assert_cmpfloat (result->spilled, <=, blockage->state.spilled + 1e-3);
  g_assert_nonnull (find_event (result, NAPPE_EVENT_PUMP_AIR, 0));
  g_assert_false (result->returns);
  study_fixture_clear (&fixture);
}

/* The water that a blocked drain held comes to the sump in time as in the balance, whether its pump goes on or the power fails
 * later. */
static void
test_blocked_pipe_runs_out (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "two-drain");
  const NappeStudy *study = fixture.study;
  const NappeNetwork *network = study->network;
  guint siphon = (guint) nappe_network_find_link (network, NAPPE_LINK_DRAIN, "siphon");
  g_autoptr (NappeSimulation) result = play_case (&fixture, "block-siphon");
  const NappeBlockage *blockage = nappe_study_blockage (study, "siphon");

  /* Nearly a litre: enough to tell. */
  g_assert_cmpfloat (nappe_link_content (network, &network->links[siphon]), >, 0.8e-3);
  for (guint i = 0; i < network->n_nodes; i++)
    if (is_vessel (network, i))
      g_assert_cmpfloat_with_epsilon (end_level (result, i), blockage->state.level[i], 1e-3);
  NappeNetwork *blocked = nappe_network_copy (network);
  nappe_network_block (blocked, siphon, 0);
  g_autoptr (NappeStudy) then = nappe_study_new (blocked, NULL);
  NappeHappening off = { .at = 1, .kind = NAPPE_HAPPEN_POWER_OFF };
  g_autoptr (NappeSimulation) cut = play (then, &off, 1, 2400, 0);
  compare_with_balance (then, cut, &then->cut_check_holds);
  study_fixture_clear (&fixture);
}

static void
test_same_again (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeSimulation) one = play_case (&fixture, "restart");
  g_autoptr (NappeSimulation) two = play_case (&fixture, "restart");

  g_assert_cmpuint (one->n_frames, ==, two->n_frames);
  g_assert_cmpuint (one->n_events, ==, two->n_events);
  g_assert_cmpmem (one->time, one->n_frames * sizeof (double), two->time, two->n_frames * sizeof (double));
  g_assert_cmpmem (one->flow, one->n_frames * one->network->n_links * sizeof (double), two->flow,
                   two->n_frames * two->network->n_links * sizeof (double));
  for (guint e = 0; e < one->n_events; e++)
    g_assert_cmpfloat (one->events[e].time, ==, two->events[e].time);
  study_fixture_clear (&fixture);
}

/* A valve that closes over an hour ends where one that was closed at once does. */
static void
test_slow_and_sudden_end_alike (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "two-drain");
  NappeHappening turns = { .at = 60, .kind = NAPPE_HAPPEN_CHANGE,
                           .change = { .kind = NAPPE_CHANGE_OPENING, .part = "siphon", .value = 0 } };
  g_autoptr (NappeSimulation) sudden = play (fixture.study, &turns, 1, 7200, 0);
  turns.over = 3600;
  g_autoptr (NappeSimulation) slow = play (fixture.study, &turns, 1, 7200, 0);

  for (guint i = 0; i < slow->network->n_nodes; i++)
    if (is_vessel (slow->network, i))
      g_assert_cmpfloat_with_epsilon (end_level (slow, i), end_level (sudden, i), 5e-4);
  study_fixture_clear (&fixture);
}

static void
cancel_at_half (double share, gpointer data)
{
  if (share > 0.5)
    g_cancellable_cancel (data);
}

static void
test_cancel (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (NappePlan) plan = nappe_plan_find (fixture.build, fixture.study, "restart", NULL);
  g_autoptr (NappeSimulation) result
      = nappe_simulation_new (fixture.study, plan, 0, cancel_at_half, cancellable, cancellable, NULL);

  g_assert_cmpint (result->end, ==, NAPPE_END_CANCELLED);
  g_assert_cmpfloat (result->end_time, <, plan->length);
  g_assert_cmpuint (result->n_frames, >, 1);
  g_assert_cmpfloat (fabs (result->balance_error), <, 1e-9);
  study_fixture_clear (&fixture);
}

/* No running state, no such part, an absurd number: an error that says so. */
static void
test_refusals (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "single-drain");
  char name[] = "test";
  NappeHappening bad = { .kind = NAPPE_HAPPEN_LEAK, .change = { .part = "nobody", .value = 1 }, .bore = 0.01 };
  NappePlan plan = { .id = name, .title = name, .length = 60, .n = 1, .happenings = &bad };
  g_autoptr (GError) error = NULL;

  g_assert_null (nappe_simulation_new (fixture.study, &plan, 0, NULL, NULL, NULL, &error));
  g_assert_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_PART);
  g_clear_error (&error);
  plan.n = 0;
  plan.length = INFINITY;
  g_assert_null (nappe_simulation_new (fixture.study, &plan, 0, NULL, NULL, NULL, &error));
  g_assert_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_RANGE);
  g_clear_error (&error);
  plan.length = 60;
  NappeStudy nowhere = *fixture.study;
  nowhere.running.rest = NAPPE_REST_NOT_FOUND;
  g_assert_null (nappe_simulation_new (&nowhere, &plan, 0, NULL, NULL, NULL, &error));
  g_assert_nonnull (error);
  study_fixture_clear (&fixture);
}

/* A thousand happenings, power on and off: the work has an end, and so has the memory. */
static void
test_much_happens (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  g_autofree NappeHappening *flicker = g_new0 (NappeHappening, NAPPE_PLAN_HAPPENINGS_MAX);

  for (guint i = 0; i < NAPPE_PLAN_HAPPENINGS_MAX; i++)
    flicker[i] = (NappeHappening){ .at = 3.0 * i, .kind = i % 2 ? NAPPE_HAPPEN_POWER_ON : NAPPE_HAPPEN_POWER_OFF };
  g_autoptr (NappeSimulation) result = play (fixture.study, flicker, NAPPE_PLAN_HAPPENINGS_MAX, 3600, 0);
  g_assert_cmpint (result->end, !=, NAPPE_END_FAILED);
  g_assert_cmpuint (result->n_frames, <=, NAPPE_SIMULATION_FRAMES_MAX);
  g_assert_cmpuint (result->n_events, <=, NAPPE_SIMULATION_EVENTS_MAX);
  g_assert_cmpfloat (fabs (result->balance_error), <, 1e-9);
  study_fixture_clear (&fixture);
}

/* A siphon that is too big for what its pump brings makes and breaks: the period is found, and a month of it has an end. */
static void
test_cycling_siphon (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "three-drain");
  /* Its valve opened wide lets the siphon empty the box. */
  NappeHappening opens = { .at = 10, .kind = NAPPE_HAPPEN_CHANGE,
                           .change = { .kind = NAPPE_CHANGE_OPENING, .part = "siphon", .value = 1 } };
  g_autoptr (NappeSimulation) result = play (fixture.study, &opens, 1, 1800, 0);

  g_assert_cmpint (result->end, ==, NAPPE_END_REACHED);
  g_assert_true (result->cycles);
  g_assert_false (result->settles);
  g_assert_cmpfloat (result->period, >, 1);
  g_assert_cmpfloat (result->period, <, 600);
  g_assert_cmpfloat (result->swing, >, 0.005);
  g_autoptr (NappeSimulation) hours = play (fixture.study, &opens, 1, 6 * 3600, 0);
  g_assert_cmpint (hours->end, ==, NAPPE_END_REACHED);
  g_assert_true (hours->cycles);
  g_assert_cmpfloat_with_epsilon (hours->period, result->period, 0.01 * result->period);
  g_autoptr (NappeSimulation) month = play (fixture.study, &opens, 1, NAPPE_PLAN_LONGEST, 0);
  g_assert_cmpint (month->end, ==, NAPPE_END_TOO_MUCH);
  g_assert_true (month->cycles);
  g_assert_cmpuint (month->n_frames, <=, NAPPE_SIMULATION_FRAMES_MAX);
  g_assert_cmpfloat (fabs (month->balance_error), <, 1e-9);
  study_fixture_clear (&fixture);
}

/* Lengths of one pipe with which levels near to rest once swung in steps of a millisecond, so that a restart was followed for
 * four minutes only. */
static void
test_rest_takes_few_steps (void)
{
  static const struct
  {
    double length;
    const char *plan;
  } rows[] = { { 0.7088594710149955, "restart" }, { 0.640, "pumps-half-speed" }, { 0.440, "restart" } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      StudyFixture fixture;
      study_fixture_load (&fixture, "three-drain");
      study_fixture_set (&fixture, "return-pipe-2", "length", rows[i].length);
      study_fixture_again (&fixture);
      g_autoptr (NappeSimulation) result = play_case (&fixture, rows[i].plan);

      g_assert_cmpint (result->steps, <, 2000); /* it was 200 000 */
      study_fixture_clear (&fixture);
    }
}

/* A nozzle so high that the pump lifts water over the tank's level and not out of it: the check valve once opened for the
 * water and shut for the nozzle, four thousand times a second. */
static void
test_check_valve_waits_for_its_mouth (void)
{
  static const char *const cases[] = { "pumps-worn", "pumps-half-speed", "restart" };
  StudyFixture fixture;
  study_fixture_load (&fixture, "two-drain");
  study_fixture_set (&fixture, "return-pipe-4", "length", 5.373);
  study_fixture_again (&fixture);

  for (guint c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      g_autoptr (NappeSimulation) result = play_case (&fixture, cases[c]);

      g_assert_cmpint (result->steps, <, 2000); /* it was 200 000 */
      g_assert_cmpfloat (nappe_simulation_flow (result,
                                                (guint) nappe_network_find_link (result->network, NAPPE_LINK_PIPE,
                                                                                 "nozzle"),
                                                result->end_time),
                         <, 1e-7);
    }
  study_fixture_clear (&fixture);
}

/* Pipes that meet, but for the last digit of their heights, with no water between that a level could be told from: it was
 * taken as infinite, and the line filled and drew air without time going on. */
static void
test_heights_a_digit_apart (void)
{
  StudyFixture fixture;
  study_fixture_load (&fixture, "two-drain");
  study_fixture_set (&fixture, "return-pipe-1", "length", 0.595);
  study_fixture_set (&fixture, "return-pipe-4", "length", 0.623);
  study_fixture_set (&fixture, "return-pipe-5", "length", 0);
  study_fixture_again (&fixture);
  g_autoptr (NappeSimulation) result = play_case (&fixture, "restart");

  g_assert_cmpuint (result->n_events, <, 30); /* it was 62, and the end */
  study_fixture_clear (&fixture);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/simulation/jumps-are-upright", test_jumps_are_upright);
  g_test_add_func ("/simulation/steady-state-stays", test_steady_state_stays);
  g_test_add_func ("/simulation/power-cut-ends-as-balanced", test_power_cut_ends_as_balanced);
  g_test_add_func ("/simulation/refill-is-sure-to-come", test_refill_is_sure_to_come);
  g_test_add_func ("/simulation/blocked-pipe-runs-out", test_blocked_pipe_runs_out);
  g_test_add_func ("/simulation/peaks-are-peaks", test_peaks_are_peaks);
  g_test_add_func ("/simulation/water-is-kept", test_water_is_kept);
  g_test_add_func ("/simulation/siphon-starts-again", test_siphon_starts_again);
  g_test_add_func ("/simulation/blocked-drain-floods", test_blocked_drain_floods);
  g_test_add_func ("/simulation/same-again", test_same_again);
  g_test_add_func ("/simulation/slow-and-sudden-end-alike", test_slow_and_sudden_end_alike);
  g_test_add_func ("/simulation/cancel", test_cancel);
  g_test_add_func ("/simulation/refusals", test_refusals);
  g_test_add_func ("/simulation/much-happens", test_much_happens);
  g_test_add_func ("/simulation/cycling-siphon", test_cycling_siphon);
  g_test_add_func ("/simulation/rest-takes-few-steps", test_rest_takes_few_steps);
  g_test_add_func ("/simulation/check-valve-waits-for-its-mouth", test_check_valve_waits_for_its_mouth);
  g_test_add_func ("/simulation/heights-a-digit-apart", test_heights_a_digit_apart);
  return g_test_run ();
}
