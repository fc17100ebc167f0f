/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The engine: its table, the order and numbers of findings, and what is said when nothing is wrong. */
#include "rule-fixture.h"

#include "rules/rule-limits.h"

#include <locale.h>
#include <math.h>
#include <string.h>

/* The rules by their ids: a change here is a change for everyone who reads the command's JSON. */
static const char *const known[] = {
  "power-cut-fits", "check-valve-relied-on", "nozzle-siphon", "siphon-break-relied-on", "sump-overflows-running",
  "single-drain", "drain-blocked", "all-drains-blocked", "weir-blocked", "siphon-tubes", "sock-clogged", "spout-blocked",
  "top-off-stuck", "top-off-dilutes", "return-evaporates", "reservoir-short",
  "no-emergency", "emergency-valved", "emergency-misplaced", "emergency-too-small", "emergency-shares-end",
  "siphon-too-small", "siphon-cycles", "siphon-not-full", "valve-opening", "valve-coarse", "tuning-window",
  "siphon-mouth-bare", "siphon-outlet-deep", "siphon-run-level", "drain-unvented", "open-run-level", "outlet-splashes",
  "standpipe-quiet", "weir-film", "animals-pass-weir", "weir-slots", "weir-drop",
  "pump-cannot-lift", "turnover", "pump-inlet-submergence", "pump-oversized", "pump-curve-range", "pump-backflow",
  "sump-turnover", "branch-flow", "pipe-speed", "return-high-spot",
  "skimmer-depth",
  "panel-tempered", "metal-in-water", "joints-fit", "cement-mixed", "hose-bore", "push-tube", "hose-unclamped", "hose-kinks",
  "hose-collapses", "no-union", "valve-reach", "hole-near-edge", "holes-near", "bulkhead-short", "bulkhead-wide",
  "pressure-rating", "cement-cure",
  "refugium-before-skimmer", "return-before-trap", "bubble-trap-fast", "baffle-gap", "heater-dry",
  "probe-dry", "equipment-outside", "equipment-overlaps", "equipment-too-high", "skimmer-cup", "refugium-flow",
  "refugium-valve", "refugium-light", "refugium-dries", "sump-in-stand", "sump-through-door", "sump-service",
  "mains-protection", "circuit-load", "heater-power", "heater-alone", "heater-stuck", "water-warm", "floor-load",
  "panel-stress",
  "build-incomplete", "geometry-mismatch", "route-mismatch",
};

/* Those that have nothing to look at in the sound build. */
static const char *const idle[] = { "single-drain", "siphon-tubes", "sock-clogged", "spout-blocked", "open-run-level",
                                    "outlet-splashes", "animals-pass-weir", "weir-slots", "pump-backflow",
                                    "sump-turnover", "branch-flow", "hose-bore", "push-tube", "hose-unclamped",
                                    "hose-kinks", "hose-collapses", "valve-reach", "holes-near",
                                    "refugium-before-skimmer", "return-before-trap", "bubble-trap-fast", "probe-dry",
                                    "refugium-flow", "refugium-valve", "refugium-light", "refugium-dries",
                                    "sump-through-door", NULL };

/* Those that need the time simulation come last. */
static const char *const timed[] = { "power-cut-peaks", "self-restart", "restart-dry", "blocked-peaks" };

static void
test_table (void)
{
  gsize n;
  const NappeRuleInfo *rules = nappe_rules_list (&n);

  g_assert_cmpuint (n, ==, G_N_ELEMENTS (known) + G_N_ELEMENTS (timed));
  for (gsize i = 0; i < n; i++)
    {
      gboolean in_time = i >= G_N_ELEMENTS (known);
      g_assert_cmpstr (rules[i].id, ==, in_time ? timed[i - G_N_ELEMENTS (known)] : known[i]);
      g_assert_cmpint (rules[i].timed, ==, in_time);
      g_assert_nonnull (rules[i].run);
      g_assert_cmpuint (strlen (rules[i].title), >, 5);
      g_assert_cmpuint (strlen (rules[i].source), >, 5);
      for (gsize j = 0; j < i; j++)
        {
          g_assert_cmpstr (rules[i].id, !=, rules[j].id);
          g_assert_cmpstr (rules[i].title, !=, rules[j].title);
        }
    }
}

/* Every limit says what it is, where it comes from and why. */
static void
test_limits (void)
{
  for (guint i = 0; i < NAPPE_LIMIT_N; i++)
    {
      const NappeLimit *limit = nappe_limit (i);
      g_assert_nonnull (limit->name);
      g_assert_cmpfloat (limit->value, >, 0);
      g_assert_cmpfloat (limit->value, ==, nappe_limit_value (i));
      g_assert_cmpuint (strlen (limit->source), >, 5);
      g_assert_true (g_str_has_suffix (limit->reason, "."));
      for (guint j = 0; j < i; j++)
        g_assert_cmpstr (limit->name, !=, nappe_limit (j)->name);
    }
}

/* In the sound build no rule finds anything, and each says what it checked. */
static void
test_sound (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_run (fixture);
  for (guint i = 0; i < fixture->verdict->findings->len; i++)
    {
      NappeFinding *finding = fixture->verdict->findings->pdata[i];
      g_test_message ("%s: %s", nappe_finding_get_rule (finding), nappe_finding_get_text (finding));
    }
  g_assert_cmpuint (fixture->verdict->findings->len, ==, 0);
  g_assert_cmpuint (nappe_verdict_worst (fixture->verdict), ==, NAPPE_SEVERITY_FINE);
  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (g_strv_contains (idle, known[i]))
      fixture_expect_unchecked (fixture, known[i]);
    else
      fixture_expect_fine (fixture, known[i]);
  for (guint i = 0; i < fixture->verdict->fine->len; i++)
    {
      NappeFinding *fine = fixture->verdict->fine->pdata[i];
      g_assert_cmpuint (nappe_finding_get_number (fine), ==, 0);
      g_assert_cmpstr (nappe_finding_get_remedy (fine), ==, "");
      g_assert_true (g_str_has_suffix (nappe_finding_get_text (fine), "."));
    }
}

/* Many things wrong at once, of every severity. */
static Fixture *
make_bad (void)
{
  Fixture *fixture = fixture_new ();

  fixture->study->display_turnover = 12 * PER_HOUR;
  fixture->siphon->opening_wanted = 0.10;
  fixture->pump->submergence = 0;
  fixture->emergency->capacity_full = fixture->emergency->capacity_inlet = 1000 * LITRE_PER_HOUR;
  fixture->study->cut_check_failed.state.spilled = 9.4 * LITRE;
  fixture->study->cut_check_failed.run_back = 31.4 * LITRE;
  fixture->study->cut_check_failed.sump_free = 22.0 * LITRE;
  fixture_run (fixture);
  return fixture;
}

static void
test_order (void)
{
  g_autoptr (Fixture) fixture = make_bad ();
  static const char *const wanted[] = { "power-cut-fits",         "emergency-too-small", "check-valve-relied-on",
                                        "pump-inlet-submergence", "valve-opening",       "turnover" };
  NappeVerdict *verdict = fixture->verdict;

  g_assert_cmpuint (verdict->findings->len, ==, G_N_ELEMENTS (wanted));
  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      g_assert_cmpstr (nappe_finding_get_rule (finding), ==, wanted[i]);
      g_assert_cmpuint (nappe_finding_get_number (finding), ==, i + 1);
    }
  g_assert_cmpuint (verdict->n_danger, ==, 2);
  g_assert_cmpuint (verdict->n_problem, ==, 2);
  g_assert_cmpuint (verdict->n_advice, ==, 2);
  g_assert_cmpuint (nappe_verdict_worst (verdict), ==, NAPPE_SEVERITY_DANGER);
}

/* Every finding is whole: title, text, remedy, source; its properties say the same as its getters. */
static void
test_whole (void)
{
  g_autoptr (Fixture) fixture = make_bad ();

  for (guint i = 0; i < fixture->verdict->findings->len; i++)
    {
      NappeFinding *finding = fixture->verdict->findings->pdata[i];
      g_autofree char *title = NULL, *text = NULL, *remedy = NULL, *source = NULL, *part = NULL, *rule = NULL;
      int severity;
      guint number;
      gboolean checked;

      g_object_get (finding, "title", &title, "text", &text, "remedy", &remedy, "source", &source, "part", &part,
                    "rule", &rule, "severity", &severity, "number", &number, "checked", &checked, NULL);
      g_assert_cmpstr (title, ==, nappe_finding_get_title (finding));
      g_assert_cmpstr (text, ==, nappe_finding_get_text (finding));
      g_assert_cmpstr (remedy, ==, nappe_finding_get_remedy (finding));
      g_assert_cmpstr (source, ==, nappe_finding_get_source (finding));
      g_assert_cmpstr (part, ==, nappe_finding_get_part (finding));
      g_assert_cmpstr (rule, ==, nappe_finding_get_rule (finding));
      g_assert_cmpint (severity, ==, (int)nappe_finding_get_severity (finding));
      g_assert_cmpuint (number, ==, nappe_finding_get_number (finding));
      g_assert_true (checked);
      g_assert_true (g_str_has_suffix (text, "."));
      g_assert_true (g_str_has_suffix (remedy, "."));
      g_assert_cmpstr (title, !=, "");
      g_assert_cmpstr (source, !=, "");
      g_assert_nonnull (nappe_build_find (fixture->build, part));
      g_assert_true (isfinite (nappe_finding_get_value (finding)));
      g_assert_true (isfinite (nappe_finding_get_limit (finding)));
    }
}

/* The same numbers in US units: 31.4 L = 8.295 gal, 22 L = 5.812 gal, 9.4 L = 2.483 gal (231 cubic inches,
 * NIST SP 811); 25 mm = 0.98 in. */
static void
test_us_units (void)
{
  g_autoptr (Fixture) fixture = make_bad ();

  fixture_expect_text (fixture_expect (fixture, "power-cut-fits", "sump", NAPPE_SEVERITY_DANGER), "31.4 L run down",
                       "holds 22.0 L", "9.4 L reach the floor", "25 mm", NULL);
  fixture->units = NAPPE_UNITS_US;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "power-cut-fits", "sump", NAPPE_SEVERITY_DANGER), "8.3 gal run down",
                       "holds 5.8 gal", "2.5 gal reach the floor", "1.0 in", NULL);
}

static void
test_working (void)
{
  g_autoptr (Fixture) fixture = make_bad ();
  NappeFinding *finding = fixture_expect (fixture, "power-cut-fits", "sump", NAPPE_SEVERITY_DANGER);
  g_autofree char *text = nappe_finding_working_text (finding, NAPPE_UNITS_METRIC);
  g_autofree char *plain = fixture_plain (text);

  g_assert_cmpstr (plain, ==,
                   "what runs down, against the room above the running levels\n"
                   "out of the display: 15.0 L\n"
                   "out of the overflow box “Box”: 3.0 L\n"
                   "out of the pipes of “Return line”: 2.0 L\n"
                   "runs down into the sump in all: 31.4 L\n"
                   "room in the sump above its running levels: 22.0 L\n"
                   "on the floor: 9.4 L");
  g_assert_cmpuint (nappe_finding_get_working (finding)->inputs->len, ==, 6);
  finding = fixture_expect (fixture, "turnover", "tank", NAPPE_SEVERITY_ADVICE);
  g_autofree char *with_symbols = nappe_finding_working_text (finding, NAPPE_UNITS_METRIC);
  g_autofree char *plain_symbols = fixture_plain (with_symbols);
  g_assert_cmpstr (plain_symbols, ==, "Q / V\nQ, flow into the display: 2 000 L/h\nV, water in the display: 250 L");
}

/* Without a steady state, or without any, nothing that needs one is called fine. */
static void
test_no_state (void)
{
  static const struct
  {
    NappeRest rest;
    const char *said_by; /* rule that reports it */
    const char *unchecked[8];
  } cases[] = {
    { NAPPE_REST_CYCLES,
      "siphon-cycles",
      { "standpipe-quiet", "tuning-window", "emergency-misplaced", "siphon-not-full" } },
    { NAPPE_REST_NOT_FOUND,
      "build-incomplete",
      { "weir-film", "turnover", "pump-cannot-lift", "drain-blocked", "siphon-too-small", "skimmer-depth",
        "nozzle-siphon" } },
    { NAPPE_REST_NOT_RUNNABLE,
      "build-incomplete",
      { "weir-film", "turnover", "pump-cannot-lift", "all-drains-blocked", "no-emergency", "emergency-too-small",
        "sump-overflows-running" } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->study->running.rest = cases[i].rest;
      if (g_str_equal (cases[i].unchecked[4] != NULL ? cases[i].unchecked[4] : "", "no-emergency"))
        fixture_remove (fixture, "emergency");
      fixture_run (fixture);
      g_assert_cmpuint (fixture->verdict->findings->len, ==, 1);
      NappeFinding *only = fixture->verdict->findings->pdata[0];
      g_assert_cmpstr (nappe_finding_get_rule (only), ==, cases[i].said_by);
      g_assert_cmpuint (nappe_finding_get_severity (only), ==, NAPPE_SEVERITY_PROBLEM);
      for (gsize rule = 0; rule < G_N_ELEMENTS (cases[i].unchecked) && cases[i].unchecked[rule] != NULL; rule++)
        fixture_expect_unchecked (fixture, cases[i].unchecked[rule]);
    }
}

/* A pump that gives nothing leaves nothing to check but the pump. */
static void
test_no_flow (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->running.display_flow = fixture->study->running.pump_flow = fixture->pump->flow = 0;
  fixture_run (fixture);
  fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_PROBLEM);
  fixture_expect_unchecked (fixture, "weir-film");
  fixture_expect_unchecked (fixture, "turnover");
  fixture_expect_unchecked (fixture, "tuning-window");
}

/* A number that is not known is never taken for a good one. */
static void
test_unknown_numbers (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->cut_check_failed.state.spilled = NAN;
  fixture_blockage (fixture, "channel", NULL)->freeboard = NAN;
  fixture->emergency->capacity_full = NAN;
  fixture->siphon->flow_valve_open = fixture->siphon->capacity_full = NAN;
  fixture->study->display_turnover = NAN;
  fixture->pump->submergence = NAN;
  fixture->pump->flow = NAN;
  fixture->weir->film = NAN;
  *fixture_level (fixture, &fixture->study->running, "skimmer-chamber") = NAN;
  fixture_run (fixture);
  fixture_expect (fixture, "power-cut-fits", NULL, NAPPE_SEVERITY_DANGER);
  fixture_expect (fixture, "drain-blocked", "channel", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (fixture, "emergency-too-small", "emergency", NAPPE_SEVERITY_DANGER);
  fixture_expect (fixture, "siphon-too-small", "siphon", NAPPE_SEVERITY_ADVICE);
  fixture_expect (fixture, "turnover", "tank", NAPPE_SEVERITY_ADVICE);
  fixture_expect (fixture, "pump-inlet-submergence", "pump", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (fixture, "weir-film", "box", NAPPE_SEVERITY_PROBLEM);
  fixture_expect (fixture, "skimmer-depth", "skimmer", NAPPE_SEVERITY_PROBLEM);
}

/* Parts without a name are called by kind and id. */
static void
test_nameless (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  g_autoptr (GError) error = NULL;

  nappe_build_rename_part (fixture->build, fixture_part (fixture, "siphon"), "", &error);
  g_assert_no_error (error);
  fixture->siphon->opening_wanted = 0.10;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "valve-opening", "siphon", NAPPE_SEVERITY_ADVICE), "Drain “siphon”",
                       NULL);
}

/* Rules that looked, each once, whatever they say of how many parts. */
static void
test_count_checked (void)
{
  g_autoptr (Fixture) self = fixture_new ();
  g_autoptr (GHashTable) rules = g_hash_table_new (g_str_hash, g_str_equal);

  fixture_run (self);
  for (guint i = 0; i < self->verdict->fine->len; i++)
    if (nappe_finding_get_checked (self->verdict->fine->pdata[i]))
      g_hash_table_add (rules, (gpointer)nappe_finding_get_rule (self->verdict->fine->pdata[i]));
  g_assert_cmpuint (nappe_verdict_count_checked (self->verdict), ==, g_hash_table_size (rules));
  g_assert_cmpuint (g_hash_table_size (rules), <, self->verdict->fine->len);
}

int
main (int argc, char *argv[])
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/engine/table", test_table);
  g_test_add_func ("/rules/engine/limits", test_limits);
  g_test_add_func ("/rules/engine/sound", test_sound);
  g_test_add_func ("/rules/engine/order", test_order);
  g_test_add_func ("/rules/engine/whole", test_whole);
  g_test_add_func ("/rules/engine/us-units", test_us_units);
  g_test_add_func ("/rules/engine/working", test_working);
  g_test_add_func ("/rules/engine/no-state", test_no_state);
  g_test_add_func ("/rules/engine/no-flow", test_no_flow);
  g_test_add_func ("/rules/engine/unknown-numbers", test_unknown_numbers);
  g_test_add_func ("/rules/engine/nameless", test_nameless);
  g_test_add_func ("/rules/engine/count-checked", test_count_checked);
  return g_test_run ();
}
