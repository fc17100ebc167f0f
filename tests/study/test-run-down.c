/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Power cut of what stands above or beside the sump, every litre by geometry worked out beside its test. */
#include "../changed-demo.h"
#include "study/run-down.h"
#include "study-fixture.h"

#include <math.h>

static void
load (StudyFixture *self, const char *demo, const char *const *changes)
{
  g_autoptr (GError) error = NULL;

  *self = (StudyFixture){ .catalogue = nappe_catalogue_load_default (NULL, &error), .build = changed_demo (demo, changes) };
  g_assert_no_error (error);
  study_fixture_again (self);
  g_assert_cmpint (self->study->running.rest, ==, NAPPE_REST_FOUND);
}

static double
lost (const NappePowerCut *cut, NappeLedgerKind kind, const char *id)
{
  double sum = 0;

  for (guint i = 0; i < cut->n_ledger; i++)
    if (cut->ledger[i].kind == kind && g_str_equal (cut->ledger[i].id, id))
      sum += cut->ledger[i].volume;
  return sum;
}

static double
area_of (const NappeStudy *study, const char *id)
{
  gint node = nappe_network_find_node (study->network, id);

  g_assert_cmpint (node, >=, 0);
  return study->network->nodes[node].area;
}

/* What a vessel lost between the running state and the cut, by its plan alone [m3]. */
static double
by_plan (const NappeStudy *study, const NappePowerCut *cut, const char *id)
{
  return area_of (study, id) * (nappe_study_level (study, &study->running, id) - nappe_study_level (study, &cut->state, id));
}

static void
assert_conserved (const NappeStudy *study)
{
  const NappePowerCut *cuts[] = { &study->cut_check_failed, &study->cut_check_holds, &study->cut_break_blocked };
  double before = study_total (&study->running);

  for (guint c = 0; c < G_N_ELEMENTS (cuts); c++)
    {
      double ledger = 0;

      for (guint l = 0; l < cuts[c]->n_ledger; l++)
        ledger += cuts[c]->ledger[l].volume;
      g_assert_true (cuts[c]->known);
      g_assert_cmpfloat (fabs (study_total (&cuts[c]->state) - before), <=, 1e-9 * before);
      g_assert_cmpfloat (fabs (ledger - cuts[c]->state.spilled), <=, 1e-9 * before);
    }
}

/* Display of 1 m2 at 1.02 m; weirs at 1.00 and 1.01 m running 3 to 1 into boxes of 0.1 m2 at 0.6 m, whose drains stop
 * them at 0.5 m and lead into a chamber each. */
static void
test_weirs_share_by_their_flows (void)
{
  enum { FLOOR, DISPLAY, BOX_A, BOX_B, CHAMBER_A, CHAMBER_B, N };
  NappeNode node[N] = { { .kind = NAPPE_NODE_FLOOR }, { .kind = NAPPE_NODE_DISPLAY, .area = 1, .rim = 1.1 },
                        { .kind = NAPPE_NODE_BOX, .area = 0.1, .rim = 1.1 }, { .kind = NAPPE_NODE_BOX, .area = 0.1, .rim = 1.1 },
                        { .kind = NAPPE_NODE_CHAMBER, .area = 0.1, .rim = 0.4 },
                        { .kind = NAPPE_NODE_CHAMBER, .area = 0.1, .rim = 0.4 } };
  NappeLink link[] = {
    { .kind = NAPPE_LINK_WEIR, .from = DISPLAY, .to = BOX_A, .sill = 1.00, .weir = { .open_share = 1 }, .drain = -1 },
    { .kind = NAPPE_LINK_WEIR, .from = DISPLAY, .to = BOX_B, .sill = 1.01, .weir = { .open_share = 1 }, .drain = -1 },
    { .kind = NAPPE_LINK_DRAIN, .from = BOX_A, .to = CHAMBER_A, .open_share = 1, .inlet = { .crest = 0.5 }, .drain = -1 },
    { .kind = NAPPE_LINK_DRAIN, .from = BOX_B, .to = CHAMBER_B, .open_share = 1, .inlet = { .crest = 0.5 }, .drain = -1 },
  };
  double level[N] = { 0, 1.02, 0.6, 0.6, 0.1, 0.1 }, flow[] = { 3e-4, 1e-4, 3e-4, 1e-4 }, took[N] = { 0 };
  gboolean primed[4] = { FALSE };
  NappeNetwork network = { .n_nodes = N, .nodes = node, .n_links = G_N_ELEMENTS (link), .links = link, .floor = FLOOR,
                           .display = DISPLAY };
  NappeState running = { .level = level, .flow = flow, .primed = primed };

  for (guint i = 0; i < N; i++)
    {
      node[i].area_low = node[i].area;
      node[i].step = -INFINITY;
    }
  g_autoptr (NappeRunDown) both = nappe_run_down_new (&network, &running, FALSE, TRUE);
  nappe_run_down_settle (both, took);
  /* 10 L above the higher crest 3 to 1, 10 L more over the lower one, 10 L out of each box. */
  g_assert_cmpfloat_with_epsilon (took[CHAMBER_A], 0.0075 + 0.010 + 0.010, 1e-12);
  g_assert_cmpfloat_with_epsilon (took[CHAMBER_B], 0.0025 + 0.010, 1e-12);
  g_assert_cmpfloat_with_epsilon (both->volume[DISPLAY], 1.00, 1e-12);
  /* With the lower weir's only drain blocked, its box keeps its water and all goes over the other. */
  link[2].open_share = took[CHAMBER_A] = took[CHAMBER_B] = 0;
  g_autoptr (NappeRunDown) one = nappe_run_down_new (&network, &running, FALSE, TRUE);
  nappe_run_down_settle (one, took);
  g_assert_cmpfloat (took[CHAMBER_A], ==, 0);
  g_assert_cmpfloat_with_epsilon (took[CHAMBER_B], 0.010 + 0.010, 1e-12);
  g_assert_cmpfloat_with_epsilon (one->volume[BOX_A], 0.06, 1e-12);
}

/* Crest 0.455 m and floor of the outer box 0.280 m over the tank's floor at 0.810 m; the siphon starts 60 mm, the
 * emergency drain 82 mm over the outer floor. A full siphon runs down to half a bore above its mouth at 25 mm. */
static void
check_inner (const char *const *changes, double inner_stop, gboolean joined)
{
  StudyFixture fixture;

  load (&fixture, "two-drain", changes);
  const NappeStudy *study = fixture.study;
  const NappePowerCut *cut = &study->cut_check_holds;
  double outer = nappe_study_level (study, &cut->state, "box");

  assert_conserved (study);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "tank"), 0.810 + 0.455, 1e-9);
  g_assert_cmpfloat (outer, >=, 0.810 + 0.280 + 0.025);
  g_assert_cmpfloat (outer, <=, 0.810 + 0.280 + 0.060 + 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "box/inner"),
                                  joined ? outer : 0.810 + inner_stop, 1e-9);
  g_assert_cmpfloat_with_epsilon (lost (cut, NAPPE_LEDGER_BOX, "box"),
                                  by_plan (study, cut, "box") + by_plan (study, cut, "box/inner"), 1e-9);
  study_fixture_clear (&fixture);
}

static void
test_slim_boxes_part_at_the_bulkhead (void)
{
  /* Inner floor 0.355 m; bulkheads of 40 mm a centimetre above it. */
  const char *const high[] = { "\"style\": \"external\",",
                               "\"style\": \"slim\", \"inner_depth_mm\": 100, \"joint_count\": 3,", NULL };
  /* Lower edge of the bulkheads at 0.295 m, below where the drains stop the outer box. */
  const char *const low[]
      = { "\"style\": \"external\",",
          "\"style\": \"slim\", \"inner_depth_mm\": 180, \"joint_count\": 3, \"joint_height_mm\": 315,", NULL };

  check_inner (high, 0.365, FALSE);
  check_inner (low, 0, TRUE);
}

static void
test_siphon_tubes_stop_at_their_ends (void)
{
  const char *const high[]
      = { "\"style\": \"external\",",
          "\"style\": \"rim\", \"inner_depth_mm\": 150, \"joint_count\": 3, \"joint_height_mm\": 370,", NULL };
  const char *const low[]
      = { "\"style\": \"external\",",
          "\"style\": \"rim\", \"inner_depth_mm\": 180, \"joint_count\": 3, \"joint_height_mm\": 290,", NULL };

  check_inner (high, 0.370, FALSE);
  check_inner (low, 0, TRUE);
}

/* A refugium behind the workshop tank (floor of the tank 0.758 m): floor 1.008 m, spout 1.168 m, plan 0.3 m by 0.1 m less a
 * fifth. A pump in the tank feeds it through a hose whose end hangs 50 mm over its floor. */
#define HUNG(base, into, chamber)                                                                                     \
  "  \"equipment\": [\n",                                                                                             \
    "  \"vessels\": [ { \"id\": \"hung\", \"length_mm\": 300, \"width_mm\": 100, \"height_mm\": 200, \"x_mm\": 50,"   \
    " \"base_height_mm\": " base ", \"displaced_percent\": 20, \"spout_height_mm\": 160, \"spout_width_mm\": 50,"     \
    " \"into\": \"" into "\" } ],\n  \"equipment\": [\n",                                                             \
    "  \"returns\": [\n",                                                                                             \
    "  \"returns\": [\n    { \"id\": \"feed\", \"pump\": { \"id\": \"feed-pump\", \"chamber\": \"" chamber "\", \"x_mm\": 100,"\
    " \"inlet_height_mm\": 20, \"outlet_height_mm\": 40, \"curve\": ["                                                \
    " { \"flow_litres_per_hour\": 0, \"head_metres\": 1.2 }, { \"flow_litres_per_hour\": 400, \"head_metres\": 0.8 },"\
    " { \"flow_litres_per_hour\": 600, \"head_metres\": 0.1 } ] },"

static const char *const hung_on_tank[] = {
  HUNG ("250", "tank", "tank")
  /* From 0.798 m up to 1.198 m and down to 1.058 m. */
  " \"run\": [ { \"id\": \"piece-1\", \"item\": \"hose-vinyl-12\", \"length_mm\": 400, \"toward\": \"up\" },"
  " { \"id\": \"piece-2\", \"item\": \"hose-vinyl-12\", \"length_mm\": 500, \"toward\": \"back\" },"
  " { \"id\": \"piece-3\", \"item\": \"hose-vinyl-12\", \"length_mm\": 140 } ],"
  " \"outlets\": [ { \"id\": \"feed-end\", \"into\": \"hung\" } ] },\n",
  NULL
};

static void
test_vessel_siphons_back_into_the_tank (void)
{
  StudyFixture fixture;

  load (&fixture, "single-drain", hung_on_tank);
  const NappeStudy *study = fixture.study;
  const NappePowerCut *cut = &study->cut_check_failed;

  assert_conserved (study);
  g_assert_cmpfloat (nappe_study_level (study, &study->running, "hung"), >, 1.168);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "hung"), 1.058, 1e-9);
  /* More than 110 mm of 0.024 m2, and the film over the spout. */
  double volume = lost (cut, NAPPE_LEDGER_VESSEL, "hung");
  g_assert_cmpfloat_with_epsilon (volume, 0.024 * (nappe_study_level (study, &study->running, "hung") - 1.058), 1e-9);
  g_assert_cmpfloat (volume, >, 0.00264);
  /* It comes down through the tank, whose own loss is the same as ever: to the nozzle's mouth at 1.015 m. */
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "tank"), 1.015, 1e-9);
  study_fixture_clear (&fixture);
}

/* The same hose with a hole 0.4 m over the tank's floor, 1.158 m, stops the siphon there unless it is blocked. */
static void
test_hole_in_the_feed_stops_the_siphon (void)
{
  StudyFixture fixture;

  load (&fixture, "single-drain", hung_on_tank);
  study_fixture_set (&fixture, "feed-end", "siphon_break_height", 0.4);
  study_fixture_again (&fixture);
  const NappeStudy *study = fixture.study;

  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_failed.state, "hung"), 1.158, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_break_blocked.state, "hung"), 1.058, 1e-9);
  study_fixture_clear (&fixture);
}

/* A vessel that hangs lower than the tank's water takes it through the stopped pump: floor 0.858 m, end of the hose 0.908 m,
 * spout 1.018 m into the sump. The tank, crest 1.134 m, sinks to the spout, until the end of the hose would be at 0.908 m: it
 * stops where the nozzle of the return line, 1.015 m, stops it before. */
static void
test_tank_siphons_into_a_lower_vessel (void)
{
  StudyFixture fixture;
  const char *const changes[] = {
    HUNG ("100", "skimmer-chamber", "tank")
    " \"run\": [ { \"id\": \"piece-4\", \"item\": \"hose-vinyl-12\", \"length_mm\": 400, \"toward\": \"up\" },"
    " { \"id\": \"piece-5\", \"item\": \"hose-vinyl-12\", \"length_mm\": 500, \"toward\": \"back\" },"
    " { \"id\": \"piece-6\", \"item\": \"hose-vinyl-12\", \"length_mm\": 290 } ],"
    " \"outlets\": [ { \"id\": \"feed-end\", \"into\": \"hung\" } ] },\n",
    /* The return hose ends in air, so that nothing runs back through it. */
    "\"length_mm\": 190 }", "\"length_mm\": 10 }", NULL
  };

  load (&fixture, "single-drain", changes);
  const NappeStudy *study = fixture.study;
  const NappePowerCut *cut = &study->cut_check_failed;

  assert_conserved (study);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "tank"), 1.018, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "hung"), 1.018, 1e-9);
  gint feed = nappe_network_find_link (study->network, NAPPE_LINK_PUMP, "feed-pump");
  g_assert_cmpuint (cut->display_stops_at, ==, (guint) feed);
  study_fixture_clear (&fixture);
}

/* A refugium beside the sump of the workshop (floor of the sump 0.016 m): its floor 0.208 m, spout 0.368 m over the sump's
 * rim at 0.316 m, end of the hose 0.258 m. The sump spills, so both end at its rim. */
static void
test_vessel_beside_the_sump_shares_its_level (void)
{
  StudyFixture fixture;
  const char *const changes[] = {
    HUNG ("-550", "skimmer-chamber", "return-chamber")
    /* From 0.056 m up to 0.456 m and down to 0.258 m. */
    " \"run\": [ { \"id\": \"piece-7\", \"item\": \"hose-vinyl-12\", \"length_mm\": 400, \"toward\": \"up\" },"
    " { \"id\": \"piece-8\", \"item\": \"hose-vinyl-12\", \"length_mm\": 500, \"toward\": \"back\" },"
    " { \"id\": \"piece-9\", \"item\": \"hose-vinyl-12\", \"length_mm\": 198 } ],"
    " \"outlets\": [ { \"id\": \"feed-end\", \"into\": \"hung\" } ] },\n",
    NULL
  };

  load (&fixture, "single-drain", changes);
  const NappeStudy *study = fixture.study;
  const NappePowerCut *cut = &study->cut_check_failed;

  assert_conserved (study);
  g_assert_cmpfloat (cut->state.spilled, >, 0);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "return-chamber"), 0.316, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "hung"), 0.316, 1e-9);
  g_assert_cmpfloat_with_epsilon (lost (cut, NAPPE_LEDGER_VESSEL, "hung"), by_plan (study, cut, "hung"), 1e-9);
  study_fixture_clear (&fixture);
}

static void
test_sock_follows_its_chamber (void)
{
  StudyFixture fixture;
  const char *const changes[] = { "\"id\": \"channel-end\", \"into\": \"drain-chamber\"",
                                  "\"id\": \"channel-end\", \"into\": \"sock-front\"", NULL };

  load (&fixture, "three-drain", changes);
  const NappeStudy *study = fixture.study;
  const NappePowerCut *cut = &study->cut_check_failed;

  assert_conserved (study);
  g_assert_cmpfloat (nappe_study_level (study, &study->running, "sock-front"), >,
                     nappe_study_level (study, &study->running, "sock-chamber"));
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &cut->state, "sock-front"),
                                  nappe_study_level (study, &cut->state, "sock-chamber"), 1e-9);
  /* Closed cloth holds the water up to the holder's edge: 390 mm over the sump's floor at 38 mm. */
  study_fixture_set (&fixture, "sock-front", "load", 1);
  study_fixture_again (&fixture);
  study = fixture.study;
  assert_conserved (study);
  g_assert_cmpfloat (nappe_study_level (study, &study->running, "sock-front"), >, 0.038 + 0.390);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_failed.state, "sock-front"), 0.038 + 0.390, 1e-9);
  study_fixture_clear (&fixture);
}

/* A check valve at the pump holds back nothing that leaves by a branch: the nozzles siphon into the refugium through the
 * manifold, down to their holes 480 mm over the tank's floor at 862 mm. */
static void
test_branch_passes_the_check_valve_by (void)
{
  StudyFixture fixture;
  const char *const changes[] = {
    "{ \"id\": \"return-union\", \"item\": \"pvc40-union-1\" },",
    "{ \"id\": \"return-check\", \"item\": \"pvc40-check-valve-1\" }, { \"id\": \"manifold\", \"item\": \"pvc40-tee-1\" },",
    "      \"outlets\": [\n        {\n          \"id\": \"left-nozzle\",",
    "      \"outlets\": [\n        { \"id\": \"to-refugium\", \"tee\": \"manifold\", \"into\": \"refugium\","
    " \"run\": [ { \"id\": \"piece-10\", \"item\": \"pvc40-reducer-1x0.5\" },"
    " { \"id\": \"piece-11\", \"item\": \"pvc40-pipe-0.5\", \"length_mm\": 200, \"toward\": \"left\" } ] },\n"
    "        {\n          \"id\": \"left-nozzle\",",
    NULL
  };

  load (&fixture, "three-drain", changes);
  for (guint i = 0; i < 2; i++)
    study_fixture_set (&fixture, i == 0 ? "left-nozzle" : "right-nozzle", "siphon_break_height", 0.480);
  study_fixture_again (&fixture);
  const NappeStudy *study = fixture.study;

  assert_conserved (study);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_failed.state, "tank"), 0.862 + 0.480, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_study_level (study, &study->cut_check_holds.state, "tank"), 0.862 + 0.480, 1e-9);
  /* Without the branch's water the refugium would take up less. */
  g_assert_cmpfloat (lost (&study->cut_check_holds, NAPPE_LEDGER_CHAMBER, "refugium"), <,
                     lost (&study->cut_check_failed, NAPPE_LEDGER_CHAMBER, "refugium") + 1e-12);
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/run-down/weirs-share-by-their-flows", test_weirs_share_by_their_flows);
  g_test_add_func ("/run-down/slim-boxes-part-at-the-bulkhead", test_slim_boxes_part_at_the_bulkhead);
  g_test_add_func ("/run-down/siphon-tubes-stop-at-their-ends", test_siphon_tubes_stop_at_their_ends);
  g_test_add_func ("/run-down/vessel-siphons-back-into-the-tank", test_vessel_siphons_back_into_the_tank);
  g_test_add_func ("/run-down/hole-in-the-feed-stops-the-siphon", test_hole_in_the_feed_stops_the_siphon);
  g_test_add_func ("/run-down/tank-siphons-into-a-lower-vessel", test_tank_siphons_into_a_lower_vessel);
  g_test_add_func ("/run-down/vessel-beside-the-sump-shares-its-level", test_vessel_beside_the_sump_shares_its_level);
  g_test_add_func ("/run-down/sock-follows-its-chamber", test_sock_follows_its_chamber);
  g_test_add_func ("/run-down/branch-passes-the-check-valve-by", test_branch_passes_the_check_valve_by);
  return g_test_run ();
}
