/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every rule's function, for the table in rules.c. What each checks is said where it is written. */
#pragma once

#include "rules/rule-context.h"

G_BEGIN_DECLS

/* flooding/flooding-rules.c */
void nappe_rule_power_cut_fits (NappeRuleContext *context);
void nappe_rule_check_valve_relied_on (NappeRuleContext *context);
void nappe_rule_overflows_running (NappeRuleContext *context);
/* flooding/nozzle-rules.c */
void nappe_rule_nozzle_siphon (NappeRuleContext *context);
void nappe_rule_siphon_break_relied_on (NappeRuleContext *context);
/* flooding/blockage-rules.c */
void nappe_rule_single_drain (NappeRuleContext *context);
void nappe_rule_drain_blocked (NappeRuleContext *context);
void nappe_rule_all_drains_blocked (NappeRuleContext *context);
void nappe_rule_weir_blocked (NappeRuleContext *context);
/* flooding/passage-rules.c */
void nappe_rule_siphon_tubes (NappeRuleContext *context);
void nappe_rule_sock_clogged (NappeRuleContext *context);
void nappe_rule_spout_blocked (NappeRuleContext *context);
/* flooding/top-off-rules.c */
void nappe_rule_top_off_stuck (NappeRuleContext *context);
void nappe_rule_top_off_dilutes (NappeRuleContext *context);
void nappe_rule_return_evaporates (NappeRuleContext *context);
void nappe_rule_reservoir_short (NappeRuleContext *context);
/* flooding/emergency-rules.c */
void nappe_rule_no_emergency (NappeRuleContext *context);
void nappe_rule_emergency_valved (NappeRuleContext *context);
void nappe_rule_emergency_misplaced (NappeRuleContext *context);
void nappe_rule_emergency_too_small (NappeRuleContext *context);
void nappe_rule_emergency_shares_end (NappeRuleContext *context);
/* drains/siphon-rules.c */
void nappe_rule_siphon_too_small (NappeRuleContext *context);
void nappe_rule_siphon_cycles (NappeRuleContext *context);
void nappe_rule_siphon_not_full (NappeRuleContext *context);
void nappe_rule_valve_opening (NappeRuleContext *context);
void nappe_rule_valve_coarse (NappeRuleContext *context);
void nappe_rule_tuning_window (NappeRuleContext *context);
/* drains/outlet-rules.c */
void nappe_rule_siphon_outlet_deep (NappeRuleContext *context);
void nappe_rule_outlet_splashes (NappeRuleContext *context);
/* drains/run-rules.c */
void nappe_rule_siphon_run_level (NappeRuleContext *context);
void nappe_rule_open_run_level (NappeRuleContext *context);
void nappe_rule_return_high_spot (NappeRuleContext *context);
/* drains/air-rules.c */
void nappe_rule_drain_unvented (NappeRuleContext *context);
void nappe_rule_siphon_mouth_bare (NappeRuleContext *context);
/* drains/slot-rules.c */
void nappe_rule_animals_pass_weir (NappeRuleContext *context);
void nappe_rule_weir_slots (NappeRuleContext *context);
void nappe_rule_weir_drop (NappeRuleContext *context);
/* flows/speed-rules.c */
void nappe_rule_pipe_speed (NappeRuleContext *context);
void nappe_rule_pump_oversized (NappeRuleContext *context);
void nappe_rule_pump_curve_range (NappeRuleContext *context);
/* flows/flow-rules.c */
void nappe_rule_sump_turnover (NappeRuleContext *context);
void nappe_rule_branch_flow (NappeRuleContext *context);
void nappe_rule_pump_backflow (NappeRuleContext *context);
/* drains/weir-rules.c */
void nappe_rule_standpipe_quiet (NappeRuleContext *context);
void nappe_rule_weir_film (NappeRuleContext *context);
/* flows/pump-rules.c */
void nappe_rule_pump_cannot_lift (NappeRuleContext *context);
void nappe_rule_turnover (NappeRuleContext *context);
void nappe_rule_pump_inlet_submergence (NappeRuleContext *context);
/* sump/sump-rules.c */
void nappe_rule_skimmer_depth (NappeRuleContext *context);
/* joints/drilling-rules.c */
void nappe_rule_panel_tempered (NappeRuleContext *context);
void nappe_rule_hole_near_edge (NappeRuleContext *context);
void nappe_rule_holes_near (NappeRuleContext *context);
void nappe_rule_bulkhead_short (NappeRuleContext *context);
void nappe_rule_bulkhead_wide (NappeRuleContext *context);
/* joints/joint-rules.c */
void nappe_rule_joints_fit (NappeRuleContext *context);
void nappe_rule_hose_bore (NappeRuleContext *context);
void nappe_rule_push_tube (NappeRuleContext *context);
void nappe_rule_cement_mixed (NappeRuleContext *context);
/* joints/hose-rules.c */
void nappe_rule_hose_unclamped (NappeRuleContext *context);
void nappe_rule_hose_kinks (NappeRuleContext *context);
void nappe_rule_hose_collapses (NappeRuleContext *context);
/* joints/material-rules.c */
void nappe_rule_metal_in_water (NappeRuleContext *context);
void nappe_rule_pressure_rating (NappeRuleContext *context);
void nappe_rule_cement_cure (NappeRuleContext *context);
/* joints/service-rules.c */
void nappe_rule_no_union (NappeRuleContext *context);
void nappe_rule_valve_reach (NappeRuleContext *context);
/* sump/chamber-rules.c */
void nappe_rule_refugium_before_skimmer (NappeRuleContext *context);
void nappe_rule_return_before_trap (NappeRuleContext *context);
void nappe_rule_bubble_trap_fast (NappeRuleContext *context);
void nappe_rule_baffle_gap (NappeRuleContext *context);
/* flooding/dry-rules.c */
void nappe_rule_heater_dry (NappeRuleContext *context);
void nappe_rule_probe_dry (NappeRuleContext *context);
/* sump/fit-rules.c */
void nappe_rule_equipment_outside (NappeRuleContext *context);
void nappe_rule_equipment_overlaps (NappeRuleContext *context);
void nappe_rule_equipment_too_high (NappeRuleContext *context);
void nappe_rule_skimmer_cup (NappeRuleContext *context);
/* sump/refugium-rules.c */
void nappe_rule_refugium_flow (NappeRuleContext *context);
void nappe_rule_refugium_valve (NappeRuleContext *context);
void nappe_rule_refugium_light (NappeRuleContext *context);
void nappe_rule_refugium_dries (NappeRuleContext *context);
/* sump/stand-rules.c */
void nappe_rule_sump_in_stand (NappeRuleContext *context);
void nappe_rule_sump_through_door (NappeRuleContext *context);
void nappe_rule_sump_service (NappeRuleContext *context);
/* room/mains-rules.c */
void nappe_rule_mains_protection (NappeRuleContext *context);
void nappe_rule_circuit_load (NappeRuleContext *context);
/* room/heat-rules.c */
void nappe_rule_heater_power (NappeRuleContext *context);
void nappe_rule_heater_alone (NappeRuleContext *context);
void nappe_rule_heater_stuck (NappeRuleContext *context);
void nappe_rule_water_warm (NappeRuleContext *context);
/* room/structure-rules.c */
void nappe_rule_floor_load (NappeRuleContext *context);
void nappe_rule_panel_stress (NappeRuleContext *context);
/* build-rules.c */
void nappe_rule_build_incomplete (NappeRuleContext *context);
void nappe_rule_geometry_mismatch (NappeRuleContext *context);
void nappe_rule_route_mismatch (NappeRuleContext *context);
/* flooding/timed-rules.c */
void nappe_rule_power_cut_peaks (NappeRuleContext *context);
void nappe_rule_blocked_peaks (NappeRuleContext *context);
/* flooding/restart-rules.c */
void nappe_rule_self_restart (NappeRuleContext *context);
void nappe_rule_restart_dry (NappeRuleContext *context);

G_END_DECLS
