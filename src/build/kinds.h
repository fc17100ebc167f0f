/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kinds of parts. Heights and lengths are inside dimensions in metres. "Over the tank's floor"
 * means above the inside of its bottom panel; x runs to the right as seen from the front, y away
 * from the viewer, z up. */
#pragma once

#include "build/part.h"

G_BEGIN_DECLS

typedef enum { NAPPE_MATERIAL_GLASS, NAPPE_MATERIAL_ACRYLIC, NAPPE_MATERIAL_OTHER } NappeMaterial;
typedef enum { NAPPE_TEMPER_UNKNOWN, NAPPE_TEMPER_ANNEALED, NAPPE_TEMPER_TEMPERED } NappeTemper;
typedef enum
{
  NAPPE_OVERFLOW_INTERNAL,
  NAPPE_OVERFLOW_EXTERNAL,
  NAPPE_OVERFLOW_SLIM,
  NAPPE_OVERFLOW_RIM,
} NappeOverflowStyle;
typedef enum { NAPPE_SIDE_LEFT, NAPPE_SIDE_RIGHT, NAPPE_SIDE_BACK, NAPPE_SIDE_CENTRE } NappeSide;
typedef enum
{
  NAPPE_DRAIN_STANDPIPE,
  NAPPE_DRAIN_SIPHON,
  NAPPE_DRAIN_OPEN_CHANNEL,
  NAPPE_DRAIN_EMERGENCY,
} NappeDrainRole;
typedef enum
{
  NAPPE_INLET_OPEN_END,
  NAPPE_INLET_DOWNTURNED_ELBOW,
  NAPPE_INLET_STRAINER,
  NAPPE_INLET_FLUSH,
} NappeInletShape;
typedef enum
{
  NAPPE_TOWARD_DOWN,
  NAPPE_TOWARD_UP,
  NAPPE_TOWARD_LEFT,
  NAPPE_TOWARD_RIGHT,
  NAPPE_TOWARD_FRONT,
  NAPPE_TOWARD_BACK,
} NappeToward;
typedef enum
{
  NAPPE_CHAMBER_DRAIN,
  NAPPE_CHAMBER_SOCK,
  NAPPE_CHAMBER_SKIMMER,
  NAPPE_CHAMBER_REACTOR,
  NAPPE_CHAMBER_BUBBLE_TRAP,
  NAPPE_CHAMBER_REFUGIUM,
  NAPPE_CHAMBER_RETURN,
  NAPPE_CHAMBER_RESERVOIR,
} NappeChamberRole;
typedef enum
{
  NAPPE_EQUIPMENT_SKIMMER,
  NAPPE_EQUIPMENT_HEATER,
  NAPPE_EQUIPMENT_REACTOR,
  NAPPE_EQUIPMENT_UV,
  NAPPE_EQUIPMENT_CHILLER,
  NAPPE_EQUIPMENT_LIGHT,
  NAPPE_EQUIPMENT_TOP_OFF,
  NAPPE_EQUIPMENT_DOSING,
  NAPPE_EQUIPMENT_PROBE,
  NAPPE_EQUIPMENT_MEDIA,
  NAPPE_EQUIPMENT_SOCK,
  NAPPE_EQUIPMENT_OTHER,
} NappeEquipmentKind;

/* What the planner says of a thing that nobody can see in the drawing. */
typedef enum { NAPPE_STATED_UNKNOWN, NAPPE_STATED_YES, NAPPE_STATED_NO } NappeStated;

/* Of which a piece is made, where the planner knows it better than the catalogue; in the order of the words that
 * nappe_piece_material_word() gives, which are the catalogue's. */
typedef enum
{
  NAPPE_PIECE_AS_CATALOGUE,
  NAPPE_PIECE_PVC,
  NAPPE_PIECE_ABS,
  NAPPE_PIECE_PP,
  NAPPE_PIECE_PE,
  NAPPE_PIECE_BRASS,
  NAPPE_PIECE_COPPER,
  NAPPE_PIECE_ZINC,
  NAPPE_PIECE_STEEL,
  NAPPE_PIECE_STAINLESS,
} NappePieceMaterial;
typedef enum { NAPPE_CEMENT_UNKNOWN, NAPPE_CEMENT_PVC, NAPPE_CEMENT_ABS, NAPPE_CEMENT_TRANSITION } NappeCement;

/* Four letters of any script [bytes]. */
#define NAPPE_CURRENCY_MAX 16

/* The room the system stands in. */
#define NAPPE_TYPE_ROOM (nappe_room_get_type ())
G_DECLARE_FINAL_TYPE (NappeRoom, nappe_room, NAPPE, ROOM, NappePart)
struct _NappeRoom
{
  NappePart parent_instance;
  double temperature;   /* [°C] */
  double humidity;      /* relative, share */
  double mains_voltage; /* [V] */
  double electricity_price; /* of a kWh; NaN: not given */
  char *currency;           /* of that price, as people write it: "EUR", "kr"; "" not told */
  double floor_load;    /* that the room's floor may carry, as its builder says [Pa]; NaN: not known */
  double circuit_amperes; /* rating of the one circuit that all plugs of the system hang on [A]; NaN: not known */
  int residual_current; /* NappeStated: that circuit has a residual-current device (ground-fault interrupter) */
  int drip_loops;       /* NappeStated: every cable hangs lower than its socket on its way there */
  int sockets_clear;    /* NappeStated: no socket is under the tank or in the stand where water can fall or splash on it */
};

#define NAPPE_TYPE_WATER_CONDITION (nappe_water_condition_get_type ())
G_DECLARE_FINAL_TYPE (NappeWaterCondition, nappe_water_condition, NAPPE, WATER_CONDITION, NappePart)
struct _NappeWaterCondition
{
  NappePart parent_instance;
  double temperature; /* [°C] */
  double salinity;    /* [g/kg]; 0 is a fresh-water leak test */
  double total_volume; /* in all vessels and pipes while running [m3]; NaN: follows from the level kept in
                          the return chamber. With it the kept level follows instead */
};

#define NAPPE_TYPE_STAND (nappe_stand_get_type ())
G_DECLARE_FINAL_TYPE (NappeStand, nappe_stand, NAPPE, STAND, NappePart)
struct _NappeStand
{
  NappePart parent_instance;
  double length, width, height;  /* outside [m]; the tank's bottom panel lies at height */
  double wall_thickness;         /* of sides [m] */
  double top_thickness;          /* [m] */
  double door_length, door_height; /* clear opening [m]; NaN: not given */
};

#define NAPPE_TYPE_TANK (nappe_tank_get_type ())
G_DECLARE_FINAL_TYPE (NappeTank, nappe_tank, NAPPE, TANK, NappePart)
struct _NappeTank
{
  NappePart parent_instance;
  double length, width, height;            /* inside [m]; the rim is at height */
  double wall_thickness, bottom_thickness; /* [m] */
  double displaced;                        /* share of the water body taken by rock and sand */
  double cover;                            /* share of the surface under a lid */
  int material;                            /* NappeMaterial */
  int bottom_temper, back_temper, side_temper; /* NappeTemper */
};

/* An overflow box with its weir. */
#define NAPPE_TYPE_OVERFLOW (nappe_overflow_get_type ())
G_DECLARE_FINAL_TYPE (NappeOverflow, nappe_overflow, NAPPE, OVERFLOW, NappePart)
struct _NappeOverflow
{
  NappePart parent_instance;
  int style;             /* NappeOverflowStyle */
  int side;              /* NappeSide: the wall it stands at */
  double x;              /* inside left of the box from the tank's inside left; back and centre [m] */
  double length, width;  /* inside, along x and along y [m] */
  double floor_height;   /* inside floor of the box over the tank's floor; may be negative [m] */
  double rim_height;     /* top of the box over the tank's floor [m] */
  double wall_thickness; /* [m] */
  double weir_length;    /* whole wall length that has a crest or slots [m] */
  double weir_height;    /* crest, or bottom of the slots, over the tank's floor [m] */
  double weir_thickness; /* [m] */
  int slot_count;        /* 0: smooth crest */
  double slot_width;     /* clear width of one slot [m] */
  double slot_depth;     /* height of a slot; the wall's top is that much above the crest [m] */
  /* Slim and rim styles have an inner box behind the weir, in the tank, and joints from it to the box that the drains
     stand in: bulkheads through the wall (slim), or siphon tubes over the rim (rim). */
  double inner_length, inner_width; /* inside, along the wall and away from it [m] */
  double inner_depth;    /* of the inner box's floor under the crest [m] */
  int joint_count;       /* bulkheads or tubes, 0: the boxes are not joined */
  double joint_bore;     /* [m] */
  double joint_height;   /* middle of the bulkheads, or open lower ends of the tubes, over the tank's floor; NaN: half
                            a bore and a centimetre over the inner box's floor [m] */
  double joint_length;   /* of one bulkhead or tube [m] */
};

/* One piece of a pipe run, in the direction of the flow. */
#define NAPPE_TYPE_PIECE (nappe_piece_get_type ())
G_DECLARE_FINAL_TYPE (NappePiece, nappe_piece, NAPPE, PIECE, NappePart)
struct _NappePiece
{
  NappePart parent_instance;
  char *item;     /* catalogue id */
  double length;  /* of pipe or hose [m]; 0 for a fitting */
  int toward;     /* NappeToward: where a pipe leads */
  double fall;    /* drop over the length of a pipe that leads sideways [m] */
  double opening; /* of a valve, share of its travel */
  int count;      /* equal fittings in a row, 1.. */
  double bend_radius; /* axis of a hose where it turns into the direction of the next hose; NaN: four times the
                         outside diameter [m] */
  int material;   /* NappePieceMaterial */
  int cement;     /* NappeCement in its solvent joints */
  int clamped;    /* NappeStated: clamps on the ends of a hose */
};
/* "brass": the catalogue's word for a NappePieceMaterial; NULL: as the catalogue says. Static. */
const char *nappe_piece_material_word (int material);

/* Where water leaves a line: the end of its run, or a branch at one of its tees. */
#define NAPPE_TYPE_OUTLET (nappe_outlet_get_type ())
G_DECLARE_FINAL_TYPE (NappeOutlet, nappe_outlet, NAPPE, OUTLET, NappePart)
struct _NappeOutlet
{
  NappePart parent_instance;
  char *tee;                  /* id of the tee piece in the line's run; "" for the end of the run */
  char *into;                 /* id of what it ends in: tank, chamber, overflow, side vessel, filter sock, or the tee
                                 of another return line, which it joins there */
  double siphon_break_height; /* open hole over the tank's floor; NaN: none [m] (returns) */
  double flow_min, flow_max;  /* that what it feeds wants; NaN: no wish [m3/s] */
  GPtrArray *run;             /* NappePiece, after the tee or after the end of the trunk */
};

#define NAPPE_TYPE_DRAIN (nappe_drain_get_type ())
G_DECLARE_FINAL_TYPE (NappeDrain, nappe_drain, NAPPE, DRAIN, NappePart)
struct _NappeDrain
{
  NappePart parent_instance;
  char *overflow;        /* id of its box */
  int role;              /* NappeDrainRole */
  int inlet;             /* NappeInletShape */
  double crest_height;   /* invert: where unprimed water begins to flow, over the box's floor [m] */
  double mouth_height;   /* where air enters a downturned elbow, over the box's floor; NaN: the crest [m] */
  double break_height;   /* level at which a full siphon draws air and breaks, over the box's floor;
                            NaN: half a bore above the mouth [m] */
  gboolean vented;       /* has an air line, so that it cannot prime */
  double growth;         /* thickness of what has grown on the pipe's wall [m] */
  double x;              /* axis of the inlet from the box's inside left [m] */
  GPtrArray *run;        /* NappePiece, from the crest on */
  GPtrArray *outlets;    /* NappeOutlet */
};

#define NAPPE_TYPE_PUMP (nappe_pump_get_type ())
G_DECLARE_FINAL_TYPE (NappePump, nappe_pump, NAPPE, PUMP, NappePart)
struct _NappePump
{
  NappePart parent_instance;
  char *item;           /* catalogue id; "" with an own curve */
  NappeCurve *curve;    /* own curve, or NULL */
  char *chamber;        /* id of the chamber, tank or side vessel it draws from; heights below are over its floor */
  int count;            /* equal pumps side by side into one line, 1.. */
  double x;             /* axis from the chamber's left side [m] */
  double inlet_height;  /* middle of the inlet [m] */
  double outlet_height; /* where the run begins [m] */
  double inlet_bore;    /* [m]; NaN: the catalogue's */
  double speed;         /* share of full speed */
  double head_left;     /* share of the new pump's head that wear has left */
  double power;         /* [W]; NaN: the catalogue's */
};

/* A return line: pump, trunk run and the outlets of its branches. */
#define NAPPE_TYPE_RETURN_LINE (nappe_return_line_get_type ())
G_DECLARE_FINAL_TYPE (NappeReturnLine, nappe_return_line, NAPPE, RETURN_LINE, NappePart)
struct _NappeReturnLine
{
  NappePart parent_instance;
  double growth;      /* thickness of what has grown on the pipe's wall [m] */
  NappePart *pump;    /* NappePump, always there */
  GPtrArray *run;     /* NappePiece, from the pump's outlet on */
  GPtrArray *outlets; /* NappeOutlet */
};

/* A chamber of the sump. They stand side by side from left to right in the order of the list. */
#define NAPPE_TYPE_CHAMBER (nappe_chamber_get_type ())
G_DECLARE_FINAL_TYPE (NappeChamber, nappe_chamber, NAPPE, CHAMBER, NappePart)
struct _NappeChamber
{
  NappePart parent_instance;
  int role;          /* NappeChamberRole */
  double length;     /* clear, along x [m] */
  double displaced;  /* share taken by media, rock, equipment */
  double kept_level; /* water over the sump's floor: of the return chamber (kept by the planner or the
                        top-off) and of a reservoir at the start; NaN: follows from the flow [m] */
};

/* The wall between a chamber and its right neighbour: the list has one less than the chambers. */
#define NAPPE_TYPE_BAFFLE (nappe_baffle_get_type ())
G_DECLARE_FINAL_TYPE (NappeBaffle, nappe_baffle, NAPPE, BAFFLE, NappePart)
struct _NappeBaffle
{
  NappePart parent_instance;
  double top_height;             /* over the sump's floor [m] */
  double gap_height;             /* open gap under it; 0: sealed to the floor [m] */
  double thickness;              /* [m] */
  double lowest_top, highest_top; /* range of an adjustable baffle; NaN: fixed [m] */
};

#define NAPPE_TYPE_SUMP (nappe_sump_get_type ())
G_DECLARE_FINAL_TYPE (NappeSump, nappe_sump, NAPPE, SUMP, NappePart)
struct _NappeSump
{
  NappePart parent_instance;
  double length, width, height;            /* inside [m] */
  double wall_thickness, bottom_thickness; /* [m] */
  double x;                                /* inside left from the stand's outside left [m] */
  double base_height;                      /* underside of its bottom over the room's floor [m] */
  int material;                            /* NappeMaterial */
  GPtrArray *chambers;                     /* NappeChamber, left to right */
  GPtrArray *baffles;                      /* NappeBaffle, left to right */
};

#define NAPPE_TYPE_EQUIPMENT (nappe_equipment_get_type ())
G_DECLARE_FINAL_TYPE (NappeEquipment, nappe_equipment, NAPPE, EQUIPMENT, NappePart)
struct _NappeEquipment
{
  NappePart parent_instance;
  int kind;                     /* NappeEquipmentKind */
  char *item;                   /* catalogue id, or "" */
  char *where;                  /* id of the tank or chamber it stands in, or "" */
  double x;                     /* left side from the chamber's left side [m] */
  double base_height;           /* over the floor of what it stands in [m] */
  double length, width, height; /* footprint and height; NaN: the catalogue's [m] */
  double depth_min, depth_max;  /* water depth it works in; NaN: the catalogue's or none [m] */
  double power;                 /* [W]; NaN: the catalogue's */
  double flow;                  /* its own pump's flow [m3/s]; NaN: the catalogue's or none */
  int count;                    /* equal ones, 1.. */
  double load;                  /* of a sock: share of its cloth that dirt has closed */
  double duty;                  /* share of the day that it runs */
  double heat_share;            /* of its power that ends in the water; NaN: usual for its kind */
};

typedef enum { NAPPE_VESSEL_REFUGIUM, NAPPE_VESSEL_OTHER } NappeVesselRole;

/* A vessel beside the tank or the sump, such as a refugium that hangs on the back: fed by a pump of its own, it gives
 * its water back over a spout. */
#define NAPPE_TYPE_SIDE_VESSEL (nappe_side_vessel_get_type ())
G_DECLARE_FINAL_TYPE (NappeSideVessel, nappe_side_vessel, NAPPE, SIDE_VESSEL, NappePart)
struct _NappeSideVessel
{
  NappePart parent_instance;
  int role;                     /* NappeVesselRole */
  double length, width, height; /* inside [m] */
  double wall_thickness;        /* [m] */
  double x;                     /* inside left from the tank's inside left [m] */
  double base_height;           /* inside floor over the tank's floor; negative below it [m] */
  double displaced;             /* share taken by rock, sand and weed */
  double spout_height;          /* lower edge of the spout over the vessel's floor [m] */
  double spout_width;           /* [m] */
  char *into;                   /* id of the tank, overflow or chamber that the spout pours into */
};

/* What the planner wants: limits that rules hold the build against. */
#define NAPPE_TYPE_TARGETS (nappe_targets_get_type ())
G_DECLARE_FINAL_TYPE (NappeTargets, nappe_targets, NAPPE, TARGETS, NappePart)
struct _NappeTargets
{
  NappePart parent_instance;
  double turnover_min, turnover_max; /* of the display's volume [1/s] */
  double sump_turnover_min, sump_turnover_max; /* of the water in the sump; NaN: no wish [1/s] */
  double sump_freeboard;             /* that must stay under the sump's rim after a power cut [m] */
  double display_freeboard;          /* that must stay under the tank's rim with the main drain blocked [m] */
  double pump_drift;                 /* share by which the pump's flow may be expected to drift */
  double trickle;                    /* that the open channel should carry beside a tuned siphon [m3/s]; NaN: a
                                        twentieth of the flow, at most half of what the channel carries quietly */
  double bubble_size;                /* diameter of the smallest bubble that the sump should stop [m] */
  int days_away;                     /* that the reservoir must last */
  double smallest_animal;            /* how thick the smallest animal is that must stay in the display; NaN: not told [m] */
};

/* A reviewer's or planner's remark pinned to a part. */
#define NAPPE_TYPE_NOTE (nappe_note_get_type ())
G_DECLARE_FINAL_TYPE (NappeNote, nappe_note, NAPPE, NOTE, NappePart)
struct _NappeNote
{
  NappePart parent_instance;
  char *part; /* id, or "" for the whole build */
  char *text, *author, *date;
};

/* Limits of rules that the planner sets otherwise for this build; NaN: the rule's own (rules/rule-limits.h). */
#define NAPPE_TYPE_LIMITS (nappe_limits_get_type ())
G_DECLARE_FINAL_TYPE (NappeLimits, nappe_limits, NAPPE, LIMITS, NappePart)
struct _NappeLimits
{
  NappePart parent_instance;
  double nozzle_depth, emergency_clear;  /* [m] */
  double froude_quiet;                   /* V/sqrt(g D) */
  double valve_least, valve_most;        /* share of its travel */
  double film_thin, film_thick;          /* [m] */
  double pump_most;                      /* share of the last flow of its curve */
  double pump_cover;                     /* [m] */
  double dilution, dilution_harm;        /* fall of the salinity [g/kg] */
  double dry_time;                       /* [s] */
  double outlet_depth, outlet_drop;      /* [m] */
  double level_run, short_run;           /* [m] */
  double run_fall;                       /* share of its length */
  double mouth_cover;                    /* bores */
  double slot_least, weir_drop;          /* [m] */
  double speed_pressure, speed_suction, speed_drain; /* [m/s] */
  double pump_near_shut;                 /* share of the last flow of its curve */
  double pump_slow;                      /* share of full speed */
  double high_spot;                      /* [m] */
  double hose_bend;                      /* outside diameters */
  double valve_reach;                    /* [m] */
  double hole_clear;                     /* diameters of the hole */
  double hole_glass;                     /* thicknesses of the pane */
  double gap_speed;                      /* [m/s] */
  double gap_share;                      /* share of the depth beside it */
  double probe_cover, cup_clearance, service_height; /* [m] */
  double refugium_turnover;              /* [1/s] */
  double refugium_wet;                   /* share of the running depth */
  double water_cold, water_warm, water_hot; /* [°C] */
  double circuit_share;                  /* share of the circuit's rating */
  double floor_usual;                    /* [Pa] */
  double panel_safety;                   /* strength over stress */
};

/* How much a finding weighs for the planner; in the order of NappeSeverity of the rules, without "fine". */
typedef enum { NAPPE_WEIGHT_ADVICE, NAPPE_WEIGHT_PROBLEM, NAPPE_WEIGHT_DANGER } NappeWeight;

/* What a rule finds weighs more or less in this build. A danger stays one whatever is said here. */
#define NAPPE_TYPE_WEIGHING (nappe_weighing_get_type ())
G_DECLARE_FINAL_TYPE (NappeWeighing, nappe_weighing, NAPPE, WEIGHING, NappePart)
struct _NappeWeighing
{
  NappePart parent_instance;
  char *rule; /* id of the rule; one that no rule has is kept and does nothing */
  int weight; /* NappeWeight */
};

typedef enum { NAPPE_ANSWERER_PLANNER, NAPPE_ANSWERER_REVIEWER } NappeAnswerer;

/* Somebody's reason why a finding may stand. It holds for one rule and part, and while the finding weighs no more than
 * when it was answered. */
#define NAPPE_TYPE_ANSWER (nappe_answer_get_type ())
G_DECLARE_FINAL_TYPE (NappeAnswer, nappe_answer, NAPPE, ANSWER, NappePart)
struct _NappeAnswer
{
  NappePart parent_instance;
  char *rule; /* id of the rule */
  char *part; /* id of the part the finding is about, "" for the whole build; one that no part has is kept */
  int weight; /* NappeWeight of the finding when it was answered */
  char *reason;
  int answerer; /* NappeAnswerer */
  char *author, *date;
};

/* What a happening of a trial does. */
typedef enum
{
  NAPPE_WHAT_POWER_OFF,
  NAPPE_WHAT_POWER_ON,
  NAPPE_WHAT_BLOCK,
  NAPPE_WHAT_BLOCK_JOINT,
  NAPPE_WHAT_OPENING,
  NAPPE_WHAT_SPEED,
  NAPPE_WHAT_WEAR,
  NAPPE_WHAT_LOAD,
  NAPPE_WHAT_BLOCK_HOLE,
  NAPPE_WHAT_CHECK_STICKS,
  NAPPE_WHAT_TOP_OFF_STICKS,
  NAPPE_WHAT_NO_TOP_OFF,
  NAPPE_WHAT_LEAK,
} NappeWhat;

/* One thing that befalls the running system in a trial; its kind is "happening". */
#define NAPPE_TYPE_TRIAL_STEP (nappe_trial_step_get_type ())
G_DECLARE_FINAL_TYPE (NappeTrialStep, nappe_trial_step, NAPPE, TRIAL_STEP, NappePart)
struct _NappeTrialStep
{
  NappePart parent_instance;
  int what;      /* NappeWhat */
  double at;     /* from the start of the trial [s] */
  double over;   /* it takes so long, evenly; 0: at once [s] */
  char *part;    /* id of what it befalls; "" for all that it can befall, or where nothing needs naming */
  double value;  /* share: blocked, open, of full speed, of the new pump's head, closed cloth; of what is stuck or blocked:
                    1 it is, 0 it is well again */
  double bore;   /* of a leak's round hole [m] */
  double height; /* of a leak's middle over the vessel's floor [m] */
};

/* A chain of happenings that the planner wants to see in time. */
#define NAPPE_TYPE_TRIAL (nappe_trial_get_type ())
G_DECLARE_FINAL_TYPE (NappeTrial, nappe_trial, NAPPE, TRIAL, NappePart)
struct _NappeTrial
{
  NappePart parent_instance;
  double length;         /* simulated time [s] */
  GPtrArray *happenings; /* NappeTrialStep, in any order */
};

G_END_DECLS
