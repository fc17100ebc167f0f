/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of rules and the loop over it. A new rule is one function and one row here. */
#include "rules/rules.h"

#include "rules/judgement.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* In the order in which findings of one severity are listed. */
static const NappeRuleInfo rules[] = {
  { "power-cut-fits", N_ ("A power cut fits in the sump"), N_ ("geometry of the vessels; freeboard from your targets"),
    nappe_rule_power_cut_fits },
  { "check-valve-relied-on", N_ ("A power cut fits without the check valve"), N_ ("common practice"),
    nappe_rule_check_valve_relied_on },
  { "nozzle-siphon", N_ ("Return nozzles siphon little back"), N_ ("geometry of the vessels; depth by common practice"),
    nappe_rule_nozzle_siphon },
  { "siphon-break-relied-on", N_ ("A power cut fits without the siphon-break holes"), N_ ("common practice"),
    nappe_rule_siphon_break_relied_on },
  { "sump-overflows-running", N_ ("No vessel runs over while the pump runs"), N_ ("levels of the running state"),
    nappe_rule_overflows_running },
  { "single-drain", N_ ("More than one drain, or room for all the pump can lift"), N_ ("common practice"),
    nappe_rule_single_drain },
  { "drain-blocked", N_ ("Any drain may block"),
    N_ ("levels computed with the drain blocked; freeboard from your targets"), nappe_rule_drain_blocked },
  { "all-drains-blocked", N_ ("All drains may block"), N_ ("levels computed with every drain blocked"),
    nappe_rule_all_drains_blocked },
  { "weir-blocked", N_ ("Half of the weir may close"),
    N_ ("levels computed with half the weir; freeboard from your targets"), nappe_rule_weir_blocked },
  { "siphon-tubes", N_ ("No siphon over the rim, or room for all the pump can lift"), N_ ("common practice"),
    nappe_rule_siphon_tubes },
  { "sock-clogged", N_ ("Filter socks may clog"),
    N_ ("levels computed with the cloth closed; margin by common practice"), nappe_rule_sock_clogged },
  { "spout-blocked", N_ ("The spout of a vessel may block"), N_ ("levels computed with the spout blocked"),
    nappe_rule_spout_blocked },
  { "top-off-stuck", N_ ("The whole reservoir fits in the sump"),
    N_ ("levels computed with the reservoir’s water in the sump"), nappe_rule_top_off_stuck },
  { "top-off-dilutes", N_ ("The whole reservoir does not make the water too fresh"), N_ ("common practice"),
    nappe_rule_top_off_dilutes },
  { "return-evaporates", N_ ("The return chamber outlasts a day’s evaporation"),
    N_ ("evaporation by published formulas; a day by common practice"), nappe_rule_return_evaporates },
  { "reservoir-short", N_ ("The reservoir lasts while you are away"),
    N_ ("evaporation by published formulas; days from your targets"), nappe_rule_reservoir_short },
  { "no-emergency", N_ ("There is an emergency drain"), N_ ("common practice"), nappe_rule_no_emergency },
  { "emergency-valved", N_ ("No valve stands in the emergency drain"), N_ ("common practice"),
    nappe_rule_emergency_valved },
  { "emergency-misplaced", N_ ("The emergency inlet lies between the running level and the rim"),
    N_ ("common practice"), nappe_rule_emergency_misplaced },
  { "emergency-too-small", N_ ("The emergency drain carries the pump’s flow"),
    N_ ("EPA SWMM Reference Manual II, chapter 6 (inlet); Darcy–Weisbach (full bore)"),
    nappe_rule_emergency_too_small },
  { "emergency-shares-end", N_ ("The emergency drain ends apart from the others"), N_ ("common practice"),
    nappe_rule_emergency_shares_end },
  { "siphon-too-small", N_ ("The siphon carries the pump’s flow"), N_ ("Darcy–Weisbach with Colebrook–White"),
    nappe_rule_siphon_too_small },
  { "siphon-cycles", N_ ("The levels come to rest"),
    N_ ("energy equation of the full pipe; Froude number of priming by Hills 1983"), nappe_rule_siphon_cycles },
  { "siphon-not-full", N_ ("The siphon runs full"),
    N_ ("energy equation of the full pipe; Froude number of priming by Hills 1983"), nappe_rule_siphon_not_full },
  { "valve-opening", N_ ("The siphon’s valve works in its middle range"),
    N_ ("common practice; a throttled valve’s loss is known to a factor of two"), nappe_rule_valve_opening },
  { "valve-coarse", N_ ("The siphon is tuned with a fine valve"), N_ ("common practice"), nappe_rule_valve_coarse },
  { "tuning-window", N_ ("The siphon stays tuned while the pump drifts"),
    N_ ("levels computed at other flows; drift from your targets"), nappe_rule_tuning_window },
  { "siphon-mouth-bare", N_ ("The siphon’s mouth lies deep enough"),
    N_ ("Prosser, The Hydraulic Design of Pump Sumps and Intakes, BHRA 1977 (from memory)"),
    nappe_rule_siphon_mouth_bare },
  { "siphon-outlet-deep", N_ ("The siphon ends just under the water"), N_ ("common practice"),
    nappe_rule_siphon_outlet_deep },
  { "siphon-run-level", N_ ("The siphon’s pipe falls all the way"), N_ ("common practice"),
    nappe_rule_siphon_run_level },
  { "drain-unvented", N_ ("Open drains have an air line"),
    N_ ("Hills, Chemical Engineering, 5 September 1983; Simpson 1968"), nappe_rule_drain_unvented },
  { "open-run-level", N_ ("Sideways pipes of open drains fall"),
    N_ ("International Plumbing Code, table 704.1 (from memory)"), nappe_rule_open_run_level },
  { "outlet-splashes", N_ ("Pipes end in the water"), N_ ("common practice"), nappe_rule_outlet_splashes },
  { "standpipe-quiet", N_ ("Standpipes run quietly"),
    N_ ("Hills, Chemical Engineering, 5 September 1983; Simpson 1968"), nappe_rule_standpipe_quiet },
  { "weir-film", N_ ("The film over the weir skims and is quiet"),
    N_ ("limits by common practice; weir law of Kindsvater and Carter, tested above 30 mm only"),
    nappe_rule_weir_film },
  { "animals-pass-weir", N_ ("The weir keeps the animals in the display"), N_ ("your targets"),
    nappe_rule_animals_pass_weir },
  { "weir-slots", N_ ("The weir’s slots are wide and deep enough"), N_ ("common practice"), nappe_rule_weir_slots },
  { "weir-drop", N_ ("The water does not fall far behind the weir"), N_ ("common practice"), nappe_rule_weir_drop },
  { "pump-cannot-lift", N_ ("The pump lifts the water"), N_ ("pump’s curve; range by common practice"),
    nappe_rule_pump_cannot_lift },
  { "turnover", N_ ("The display’s turnover meets your target"), N_ ("your targets"), nappe_rule_turnover },
  { "pump-inlet-submergence", N_ ("The pump’s inlet is well covered"),
    N_ ("ANSI/HI 9.8, made for large intakes: advice"), nappe_rule_pump_inlet_submergence },
  { "pump-oversized", N_ ("The pump is not too strong for its line"), N_ ("common practice"),
    nappe_rule_pump_oversized },
  { "pump-curve-range", N_ ("The pump works where its curve is known"), N_ ("pump’s curve"),
    nappe_rule_pump_curve_range },
  { "pump-backflow", N_ ("No pump’s water runs back through another"), N_ ("common practice"),
    nappe_rule_pump_backflow },
  { "sump-turnover", N_ ("The sump’s turnover meets your target"), N_ ("your targets"), nappe_rule_sump_turnover },
  { "branch-flow", N_ ("Branches carry what they are wanted to"), N_ ("what you say at the outlet"),
    nappe_rule_branch_flow },
  { "pipe-speed", N_ ("Water runs at a moderate speed"),
    N_ ("common practice; ANSI/HI 9.8 for the pump’s inlet (from memory)"), nappe_rule_pipe_speed },
  { "return-high-spot", N_ ("Return lines climb without a dip"), N_ ("common practice"), nappe_rule_return_high_spot },
  { "skimmer-depth", N_ ("The skimmer stands in the depth it works in"), N_ ("the skimmer’s own range"),
    nappe_rule_skimmer_depth },
  { "panel-tempered", N_ ("Panes that are drilled are not tempered"), N_ ("common practice"),
    nappe_rule_panel_tempered },
  { "metal-in-water", N_ ("No metal that poisons or rusts touches the water"), N_ ("common practice"),
    nappe_rule_metal_in_water },
  { "joints-fit", N_ ("Every piece joins the next"),
    N_ ("ASTM D1785 and ISO 161-1 (pipe); ASME B1.20.1, ISO 7-1 and ISO 228 (threads)"), nappe_rule_joints_fit },
  { "cement-mixed", N_ ("Cement holds on both plastics of a joint"),
    N_ ("ASTM D2564 (PVC), D2235 (ABS), D3138 (transition cement)"), nappe_rule_cement_mixed },
  { "hose-bore", N_ ("Hoses fit what they are pushed on"), N_ ("common practice"), nappe_rule_hose_bore },
  { "push-tube", N_ ("Tubes fit their push fittings"), N_ ("common practice"), nappe_rule_push_tube },
  { "hose-unclamped", N_ ("Clamps hold the hoses"), N_ ("common practice"), nappe_rule_hose_unclamped },
  { "hose-kinks", N_ ("No hose bends too tightly"), N_ ("common practice"), nappe_rule_hose_kinks },
  { "hose-collapses", N_ ("No soft hose lies where a siphon sucks"),
    N_ ("Timoshenko and Gere, Theory of Elastic Stability, chapter 7; stiffness of hose from memory"),
    nappe_rule_hose_collapses },
  { "no-union", N_ ("Pumps, valves and bulkheads can be taken out"), N_ ("common practice"), nappe_rule_no_union },
  { "valve-reach", N_ ("A hand reaches the valves"), N_ ("common practice"), nappe_rule_valve_reach },
  { "hole-near-edge", N_ ("Holes keep away from the edges of the glass"),
    N_ ("EN 12150-1, from memory (twice the thickness); one diameter by common practice"), nappe_rule_hole_near_edge },
  { "holes-near", N_ ("Holes keep away from each other"),
    N_ ("EN 12150-1, from memory (twice the thickness); one diameter by common practice"), nappe_rule_holes_near },
  { "bulkhead-short", N_ ("Bulkheads are long enough for their wall"), N_ ("the bulkhead’s own range"),
    nappe_rule_bulkhead_short },
  { "bulkhead-wide", N_ ("Bulkheads have room in their box"), N_ ("the build’s own sizes"), nappe_rule_bulkhead_wide },
  { "pressure-rating", N_ ("Pipe carries the pump’s pressure"),
    N_ ("ASTM D1785, ISO 1452-2; share in warm water as printed beside them, from memory"),
    nappe_rule_pressure_rating },
  { "cement-cure", N_ ("Cement can cure before water comes"),
    N_ ("tables that go with ASTM D2564 and D2855, from memory; a day by common practice"), nappe_rule_cement_cure },
  { "refugium-before-skimmer", N_ ("No refugium stands before the skimmer"), N_ ("common practice"),
    nappe_rule_refugium_before_skimmer },
  { "return-before-trap", N_ ("The pump’s water comes through the bubble trap"), N_ ("common practice"),
    nappe_rule_return_before_trap },
  { "bubble-trap-fast", N_ ("The bubble trap stops the bubbles you want stopped"),
    N_ ("Schiller and Naumann 1935; bubble size from your targets"), nappe_rule_bubble_trap_fast },
  { "baffle-gap", N_ ("Gaps under baffles are neither too low nor too high"), N_ ("common practice"),
    nappe_rule_baffle_gap },
  { "heater-dry", N_ ("No heater can stand dry"),
    N_ ("levels computed, running and after a power cut; depth from the heater’s maker"), nappe_rule_heater_dry },
  { "probe-dry", N_ ("No probe can stand dry"), N_ ("levels computed, running and after a power cut"),
    nappe_rule_probe_dry },
  { "equipment-outside", N_ ("Everything fits its chamber"), N_ ("the build’s own sizes"),
    nappe_rule_equipment_outside },
  { "equipment-overlaps", N_ ("No two things stand in one place"), N_ ("the build’s own sizes"),
    nappe_rule_equipment_overlaps },
  { "equipment-too-high", N_ ("Everything ends below the stand’s top"), N_ ("the build’s own sizes"),
    nappe_rule_equipment_too_high },
  { "skimmer-cup", N_ ("The skimmer’s cup can be lifted out"), N_ ("common practice"), nappe_rule_skimmer_cup },
  { "refugium-flow", N_ ("The refugium gets water, and not too much"), N_ ("common practice"),
    nappe_rule_refugium_flow },
  { "refugium-valve", N_ ("The refugium’s feed has a valve"), N_ ("common practice"), nappe_rule_refugium_valve },
  { "refugium-light", N_ ("The refugium has a light"), N_ ("common practice"), nappe_rule_refugium_light },
  { "refugium-dries", N_ ("The refugium keeps its water in a power cut"), N_ ("common practice"),
    nappe_rule_refugium_dries },
  { "sump-in-stand", N_ ("The sump fits the stand"), N_ ("the build’s own sizes"), nappe_rule_sump_in_stand },
  { "sump-through-door", N_ ("The sump passes the stand’s door"), N_ ("the build’s own sizes"),
    nappe_rule_sump_through_door },
  { "sump-service", N_ ("There is room to work over the sump"), N_ ("common practice"), nappe_rule_sump_service },
  { "mains-protection", N_ ("Mains is safe beside water"), N_ ("common practice; local codes decide"),
    nappe_rule_mains_protection },
  { "circuit-load", N_ ("The circuit carries everything that is on it"),
    N_ ("NFPA 70 (National Electrical Code), 210.20(A), from memory; local codes decide"), nappe_rule_circuit_load },
  { "heater-power", N_ ("The heaters keep the water warm"), N_ ("heat balance; see the handbook"),
    nappe_rule_heater_power },
  { "heater-alone", N_ ("The water stays warm enough when a heater fails"),
    N_ ("heat balance; limit by common practice"), nappe_rule_heater_alone },
  { "heater-stuck", N_ ("A stuck heater does not overheat the water"), N_ ("heat balance; limit by common practice"),
    nappe_rule_heater_stuck },
  { "water-warm", N_ ("The water does not grow too warm by itself"), N_ ("heat balance; limits by common practice"),
    nappe_rule_water_warm },
  { "floor-load", N_ ("The floor carries the filled system"),
    N_ ("your floor; else EN 1991-1-1, table 6.2, from memory"), nappe_rule_floor_load },
  { "panel-stress", N_ ("The panels hold the water"),
    N_ ("Timoshenko and Woinowsky-Krieger, articles 29 and following; strength by EN 16612, from memory"),
    nappe_rule_panel_stress },
  { "build-incomplete", N_ ("The build is whole"), N_ ("the build itself"), nappe_rule_build_incomplete },
  { "geometry-mismatch", N_ ("Chambers fill the sump"), N_ ("the build’s own sizes"), nappe_rule_geometry_mismatch },
  { "route-mismatch", N_ ("Pipes end in what they lead to"), N_ ("the build’s own sizes"), nappe_rule_route_mismatch },
  { "power-cut-peaks", N_ ("No chamber runs over while the water runs down"),
    N_ ("levels played in time; freeboard from your targets"), nappe_rule_power_cut_peaks, TRUE },
  { "self-restart", N_ ("The system starts again by itself after a power cut"),
    N_ ("power cut and restart played in time; Froude number of priming by Hills 1983"), nappe_rule_self_restart,
    TRUE },
  { "restart-dry", N_ ("The pump does not run dry when the power comes back"),
    N_ ("power cut and restart played in time"), nappe_rule_restart_dry, TRUE },
  { "blocked-peaks", N_ ("The other drains take over in time when one blocks"),
    N_ ("levels played in time; freeboard from your targets"), nappe_rule_blocked_peaks, TRUE },
};

const NappeRuleInfo *
nappe_rules_list (gsize *n)
{
  *n = G_N_ELEMENTS (rules);
  return rules;
}

const NappeRuleInfo *
nappe_rules_find (const char *id)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    if (g_str_equal (rules[i].id, id))
      return &rules[i];
  return NULL;
}

static int
compare_severity (gconstpointer a, gconstpointer b)
{
  NappeFinding *first = *(NappeFinding *const *)a, *second = *(NappeFinding *const *)b;
  return (int)nappe_finding_get_severity (second) - (int)nappe_finding_get_severity (first);
}

/* Worst first; within one severity the order of the rules stays (the sort is stable). */
static void
number_findings (NappeVerdict *verdict)
{
  g_ptr_array_sort (verdict->findings, compare_severity);
  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      NappeSeverity severity = nappe_finding_get_severity (finding);
      nappe_finding_set_number (finding, i + 1);
      verdict->n_danger += severity == NAPPE_SEVERITY_DANGER;
      verdict->n_problem += severity == NAPPE_SEVERITY_PROBLEM;
      verdict->n_advice += severity == NAPPE_SEVERITY_ADVICE;
    }
}

NappeVerdict *
nappe_rules_run (NappeBuild *build, const NappeStudy *study, NappeUnitSystem units)
{
  return nappe_rules_run_timed (build, study, NULL, units);
}

NappeVerdict *
nappe_rules_run_timed (NappeBuild *build, const NappeStudy *study, const GPtrArray *courses, NappeUnitSystem units)
{
  NappeVerdict *verdict = g_new0 (NappeVerdict, 1);
  verdict->findings = g_ptr_array_new_with_free_func (g_object_unref);
  verdict->fine = g_ptr_array_new_with_free_func (g_object_unref);
  verdict->answered = g_ptr_array_new_with_free_func (g_object_unref);
  NappeRuleContext context = {
    .build = build,
    .study = study,
    .network = study->network,
    .targets = NAPPE_BUILD_TARGETS (build),
    .layout = study->network->catalogue != NULL ? nappe_layout_new (build, study->network->catalogue) : NULL,
    .courses = courses,
    .units = units,
    .verdict = verdict,
    .texts = g_ptr_array_new_with_free_func (g_free),
    .names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    if (!rules[i].timed || courses != NULL)
      {
        guint first_finding = verdict->findings->len, first_fine = verdict->fine->len;
        context.rule = &rules[i];
        memset (context.consulted, 0, sizeof context.consulted);
        rules[i].run (&context);
        nappe_judge_rule (&context, first_finding, first_fine);
      }
  nappe_judge_answers (&context);
  number_findings (verdict);
  g_hash_table_unref (context.names);
  g_ptr_array_unref (context.texts);
  nappe_layout_free (context.layout);
  nappe_heat_free (context.heat);
  g_clear_pointer (&context.joints, g_array_unref);
  return verdict;
}

void
nappe_verdict_free (NappeVerdict *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->findings);
  g_ptr_array_unref (self->fine);
  g_ptr_array_unref (self->answered);
  g_free (self);
}

NappeSeverity
nappe_verdict_worst (const NappeVerdict *self)
{
  return self->n_danger > 0    ? NAPPE_SEVERITY_DANGER
         : self->n_problem > 0 ? NAPPE_SEVERITY_PROBLEM
         : self->n_advice > 0  ? NAPPE_SEVERITY_ADVICE
                               : NAPPE_SEVERITY_FINE;
}

guint
nappe_verdict_count_checked (const NappeVerdict *self)
{
  const char *last = "";
  guint n = 0;

  /* What one rule says stands together. */
  for (guint i = 0; i < self->fine->len; i++)
    if (nappe_finding_get_checked (self->fine->pdata[i]) && !g_str_equal (nappe_finding_get_rule (self->fine->pdata[i]), last))
      {
        last = nappe_finding_get_rule (self->fine->pdata[i]);
        n++;
      }
  return n;
}

/* Takes the part. */
static void
append_count (GString *list, guint n, char *part)
{
  /* Translators: between the parts of a list such as “2 dangers, 1 problem”. */
  if (n > 0)
    g_string_append_printf (list, "%s%s", list->len > 0 ? _(", ") : "", part);
  g_free (part);
}

char *
nappe_verdict_counts_text (const NappeVerdict *self)
{
  GString *text = g_string_new (NULL);
  guint n;

  n = self->n_danger;
  append_count (text, n, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u danger", "%u dangers", n), n));
  n = self->n_problem;
  append_count (text, n, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u problem", "%u problems", n), n));
  n = self->n_advice;
  append_count (text, n, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u piece of advice", "%u pieces of advice", n), n));
  return g_string_free (text, FALSE);
}
