/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between the files of the flow diagram.
 *
 * The diagram has three bands: the display with its overflow boxes and side vessels, the pipes, the
 * sump. Every line that passes between display and sump has a column of its own in the middle band: a
 * vertical with its label to the right of it. Below the labels lie the lanes, in which a line goes
 * sideways to its port in a chamber. A line that stays above goes over the display in a lane of its
 * own. All lengths are pixels, y down. */
#pragma once

#include "picture/label-layout.h"
#include "picture/marks.h"
#include "picture/scene.h"

G_BEGIN_DECLS

#define NAPPE_FLOW_MARGIN 30.0        /* least, left and right of everything */
#define NAPPE_FLOW_COLUMN_GAP 6.0     /* between a label and the next column */
#define NAPPE_FLOW_LABEL_LINES 10     /* most lines of a column's label */

typedef enum
{
  NAPPE_COLUMN_DRAIN,
  NAPPE_COLUMN_DRAIN_BRANCH,  /* from a tee in a drain */
  NAPPE_COLUMN_RETURN,
  NAPPE_COLUMN_RETURN_BRANCH, /* from a tee in a return line into a chamber */
  NAPPE_COLUMN_SPOUT,         /* from a side vessel's spout into a chamber */
} NappeColumnKind;

typedef struct
{
  NappeColumnKind kind;
  guint line;        /* index in the layout's drains or returns; of a spout in its vessels */
  gint outlet;       /* index in the line's outlets; of a drain the one at its end; -1: none */
  gint box;          /* of a drain: index in the layout's boxes; -1: none */
  gint chamber;      /* that it leads into, or that its pump stands in; -1: none */
  gint sock;         /* of that chamber that it leads into; -1: none */
  guint trunk;       /* column of the line that a branch leaves */
  gboolean on_left;  /* of the display */
  double rank;       /* order within its side */
  double x;          /* of the vertical */
  double left, width; /* of the column */
  double pad;         /* beside it, toward the display: room for an inner box or side vessels */
  double label_x;     /* of its label, to the right of the vertical */
  double port;       /* x in the chamber */
  double lane;       /* y at which it goes over to the port */
  char *figure;       /* the flow without its unit, where the label is narrow; or NULL */
  char *lines[NAPPE_FLOW_LABEL_LINES]; /* label: name, value, then what is softer; NULL ends them */
} NappeFlowColumn;

/* Where a finding on a part is pinned, and the point of the part that its leader ends at. */
typedef struct
{
  double x, y, to_x, to_y;
} NappeFlowAnchor;

typedef struct
{
  NappeScene *scene;
  const NappePictureOptions *options;
  NappeBuild *build;
  const NappeLayout *layout;
  const NappeStudy *study;
  const NappeVerdict *verdict; /* NULL: its findings are left out */
  const NappeState *state; /* that is shown; NULL: not known, drawn dry */
  const NappeState *other; /* drawn as dashed levels; NULL: not known */
  gboolean flowing;        /* the shown state has flows */
  gboolean at_moment;      /* `state` is `moment`, of the options' course: what the study reports is not true of it */
  NappeState moment;
  double largest;          /* flow, for the weight of lines [m3/s] */
  GArray *columns;         /* NappeFlowColumn, from left to right */
  GHashTable *anchors;     /* id to NappeFlowAnchor */
  double squeeze;          /* share of their widths that inner boxes and side vessels have: 1 where there is room */
  double left, right;      /* x between which all but the title stands */
  GHashTable *tags;        /* id of equipment to the NappeBox of its tag */
  NappeBox display;        /* inside of the tank */
  NappeBox *boxes;         /* by index in the layout */
  NappeBox *inners;        /* of boxes; of no width: none */
  NappeBox *vessels;       /* side vessels */
  NappeBox *chambers;
  NappeBox *socks;         /* of no width: nothing leads into it */
  gboolean vessels_left;   /* side vessels stand to the left of the display */
  NappeBox sump;           /* all chambers */
  double header;           /* y of the return over the display */
  double label_top;        /* of the labels beside the verticals */
  double tee_y;            /* of branches */
  double join_y;           /* at which lines join another: over the branches */
  double lanes_top, lanes_bottom;
  double names_top, names_bottom; /* of the chambers' names under the sump */
  double text_line;        /* height of a small line of text */
  gboolean *has_mark;      /* by chamber: its level stands at its surface */
  GHashTable *unmarked;    /* ids of side vessels, inner boxes and socks whose level found no room at their surface */
  double title_right;      /* where the title ends: what is found about the whole build stands there */
  double title_y;
} NappeFlow;

/* flow-columns.c */
void nappe_flow_collect_columns (NappeFlow *flow);
void nappe_flow_place_columns (NappeFlow *flow); /* chooses the diagram's width too */
gboolean nappe_flow_is_branch (const NappeFlowColumn *column);
gboolean nappe_flow_box_goes_left (const NappeFlow *flow, gint index); /* to the left of the display */

/* flow-plan.c: where everything goes. */
void nappe_flow_plan (NappeFlow *flow);
NappeFlowColumn *nappe_flow_column (const NappeFlow *flow, guint index);
/* Of a chamber, or of the chamber that a sock stands in; index in the layout, or -1. */
gint nappe_flow_find_chamber (const NappeFlow *flow, const char *id);
gint nappe_flow_find_box (const NappeFlow *flow, const char *id);
/* The line of a column; NULL: of a spout. */
const NappeLineLayout *nappe_flow_line (const NappeFlow *flow, const NappeFlowColumn *column);
gint nappe_flow_find_sock (const NappeFlow *flow, const char *id);   /* indices in the layout, or -1 */
gint nappe_flow_find_vessel (const NappeFlow *flow, const char *id);
/* Whether a return's pump stands in the tank or in a side vessel: it has no way up from the sump. */
gboolean nappe_flow_is_local (const NappeFlow *flow, const NappeLineLayout *line);

/* flow-vessels.c: vessels with their water and names. */
typedef struct
{
  char id[NAPPE_PART_ID_MAX + sizeof NAPPE_INNER_SUFFIX]; /* of its water in the study */
  const char *part;        /* id of the part */
  const NappeBox *box;
  const NappeFrame *frame;
  gint chamber;            /* its index; -1: it is none */
  gint around;             /* chamber that a sock stands in; -1: it is none */
  double clear_from;       /* x from which its level may stand: behind the socks in it */
} NappeFlowVessel;

const char *nappe_flow_id (gpointer part); /* of any part */
/* The n-th of all vessels: display, boxes, inner boxes, side vessels, chambers, socks. One that is not drawn has a
   box of no width. FALSE behind the last. */
gboolean nappe_flow_vessel (const NappeFlow *flow, guint n, NappeFlowVessel *vessel);
double nappe_flow_level (const NappeFlow *flow, const NappeState *state, const char *id); /* z [m]; NaN: not known */
double nappe_flow_y (const NappeBox *box, const NappeFrame *frame, double z); /* of a height in a vessel */
gboolean nappe_flow_box_is_left (const NappeFlow *flow, guint index); /* of the display */
double nappe_flow_weir_x (const NappeFlow *flow, guint index); /* of the wall toward the display */
double nappe_flow_weir_y (const NappeFlow *flow, guint index); /* of the crest */
gboolean nappe_flow_has_baffle (const NappeFlow *flow, guint index);
void nappe_flow_baffle_place (const NappeFlow *flow, guint index, double *x, double *top, double *gap);
void nappe_flow_draw_vessels (NappeFlow *flow);
void nappe_flow_name_chambers (NappeFlow *flow);
void nappe_flow_name_vessels (NappeFlow *flow); /* display and boxes */

/* An open tank: two walls and a floor. */
void nappe_flow_draw_open_tank (NappeFlow *flow, double left, double left_top, double right, double right_top, double bottom);

/* flow-side.c: side vessels, inner boxes and socks: where they stand, their walls and spouts. */
double nappe_flow_inner_width (const NappeFlow *flow, gint box);       /* that an inner box wants; 0: none */
double nappe_flow_side_width (NappeFlow *flow);                        /* that all side vessels want, with gaps */
void nappe_flow_place_inners (NappeFlow *flow);                        /* beside boxes that are placed */
double nappe_flow_place_side_vessels (NappeFlow *flow, double edge);   /* from an edge on; returns where they end */
double nappe_flow_sock_width (const NappeFlow *flow, guint sock);      /* 0: nothing leads into it */
double nappe_flow_place_socks (NappeFlow *flow, guint chamber);        /* returns x behind the last */
void nappe_flow_raise_side (NappeFlow *flow);                          /* gives all of them their heights */
void nappe_flow_draw_side (NappeFlow *flow);
void nappe_flow_draw_joints (NappeFlow *flow);
void nappe_flow_draw_spouts (NappeFlow *flow);
void nappe_flow_name_side (NappeFlow *flow);
void nappe_flow_name_socks (NappeFlow *flow);
double nappe_flow_spout_flow (const NappeFlow *flow, guint vessel);    /* [m3/s]; 0: none, or not known */

/* flow-levels.c: surfaces, and water over weirs and baffles with its flow. */
void nappe_flow_draw_levels (NappeFlow *flow);
void nappe_flow_draw_falls (NappeFlow *flow); /* before the levels, which keep clear of them */
void nappe_flow_say_weirs (NappeFlow *flow);

/* flow-pipes.c: pipes of one flow each, by their corners. */
#define NAPPE_FLOW_POINTS_MAX 8
#define NAPPE_FLOW_PIPES_MAX 40       /* of one line: more outlets than a line may have, twice */
#define NAPPE_FLOW_MARK_OFFSET 22.0   /* how far left of a vertical its findings are pinned */
typedef struct
{
  double x[NAPPE_FLOW_POINTS_MAX], y[NAPPE_FLOW_POINTS_MAX];
  guint n;
  double amount;    /* [m3/s] */
  const char *part; /* picked by it; may be NULL */
} NappeFlowPipe;

void nappe_flow_go (NappeFlowPipe *pipe, double x, double y); /* the next corner */
/* Walls of all pipes of a line first, then their insides, so that a tee is open and a crossing is not. */
void nappe_flow_draw_pipes (NappeFlow *flow, const NappeFlowPipe *pipes, guint n);
/* Valves of a run, one below the other on the column's vertical. */
void nappe_flow_draw_valves (NappeFlow *flow, const NappeFlowColumn *column, const NappeRoute *route, gboolean upward);

/* flow-lines.c: drains, and what drains and returns have in common. */
void nappe_flow_draw_lines (NappeFlow *flow);
void nappe_flow_draw_top_off (NappeFlow *flow);
void nappe_flow_draw_column_labels (NappeFlow *flow);
void nappe_flow_anchor_column (NappeFlow *flow, const NappeFlowColumn *column);
/* From the column down to its lane, over to its port and into the chamber, to a height z [m]. */
void nappe_flow_go_to_chamber (const NappeFlow *flow, NappeFlowPipe *pipe, const NappeFlowColumn *column, double z);
double nappe_flow_exit_z (const NappeLineLayout *line, gint outlet); /* [m] */
/* The next column from `from` on that branches off a trunk's; NULL: no more. */
NappeFlowColumn *nappe_flow_next_branch (const NappeFlow *flow, guint trunk, guint *from);

/* flow-returns.c */
void nappe_flow_draw_return (NappeFlow *flow, guint index);
void nappe_flow_draw_local_return (NappeFlow *flow, guint line); /* index in the layout */
/* Flows of nozzles, counts of pumps, and what pumps without a column do: when all pipes are drawn. */
void nappe_flow_label_returns (NappeFlow *flow);
void nappe_flow_draw_pump (NappeFlow *flow, const NappeLineLayout *line, double x, double y);
/* The return line that an outlet joins at a tee, index in the layout; -1: it joins none. */
gint nappe_flow_joined_line (const NappeFlow *flow, const NappeOutletLayout *outlet);
#define NAPPE_FLOW_PUMP_RADIUS 12.0 /* [px] */
#define NAPPE_FLOW_OVER_PITCH 10.0  /* between lines over the display [px] */

/* flow-words.c: what is said of each part. Texts are owned by the caller. */
void nappe_flow_column_words (NappeFlow *flow, NappeFlowColumn *column);
void nappe_flow_clear_words (NappeFlowColumn *column);
char *nappe_flow_describe_vessel (const NappeFlow *flow, const char *id);
char *nappe_flow_describe_column (const NappeFlow *flow, const NappeFlowColumn *column);
char *nappe_flow_describe_equipment (const NappeFlow *flow, NappeEquipment *equipment);
char *nappe_flow_run_back_words (const NappeFlow *flow, const char *id); /* "gives back 1.4 L"; NULL: not in the ledger */
double nappe_flow_trunk_flow (const NappeFlow *flow, const NappeFlowColumn *column); /* [m3/s], 0 when none is known */
double nappe_flow_outlet_flow (const NappeFlow *flow, const NappeLineLayout *line, gint outlet, double trunk);
const char *nappe_flow_column_part (const NappeFlow *flow, const NappeFlowColumn *column); /* id */
/* The legs of a run that are valves, in its order; returns how many of at most n. */
guint nappe_flow_valves (const NappeRoute *route, const NappeLeg **legs, guint n);

/* flow-notes.c: title, tags, findings, legend, items. */
double nappe_flow_title_height (const NappeFlow *flow); /* of title and subtitle, from the paper's edge */
void nappe_flow_draw_title (NappeFlow *flow);
void nappe_flow_draw_equipment (NappeFlow *flow);
void nappe_flow_draw_findings (NappeFlow *flow);
gboolean nappe_flow_has_legend (const NappeFlow *flow); /* a low picture has none */
void nappe_flow_draw_legend (NappeFlow *flow);
void nappe_flow_add_items (NappeFlow *flow);
void nappe_flow_anchor (NappeFlow *flow, const char *id, double x, double y, double to_x, double to_y);

/* flow-text.c: small text, wrapped, and where it may stand. */
/* Whether a label may stand there and no water line passes behind it. */
gboolean nappe_flow_is_clear (const NappeFlow *flow, const NappeBox *box, double gap);
/* A text at the first of n places that is clear, else at the first that is free. FALSE: at none. */
gboolean nappe_flow_place_text (NappeFlow *flow, NappeLayer layer, const char *text, const NappeTextStyle *styles, guint n,
                                NappeBox *taken);
/* Lines of a text that fit a width, the last with an ellipsis when it does not end there. */
GPtrArray *nappe_flow_wrap (NappeFlow *flow, const char *text, NappeTextWeight weight, double width, guint max_lines);
/* The text itself when it fits, else as many of its characters as do, and an ellipsis. */
char *nappe_flow_shorten (NappeFlow *flow, const char *text, NappeTextSize size, NappeTextWeight weight, double width);
double nappe_flow_text_width (NappeFlow *flow, const char *text, NappeTextWeight weight);
double nappe_flow_longest_word (NappeFlow *flow, const char *text, NappeTextWeight weight);

G_END_DECLS
