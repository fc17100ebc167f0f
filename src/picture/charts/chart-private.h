/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the charts share. */
#pragma once

#include "picture/charts/chart.h"
#include "picture/pins.h"

/* Paper around a chart [px]. */
#define NAPPE_CHART_EDGE 14.0

typedef struct
{
  NappeScene *scene;
  const NappeChartOptions *options;
  NappeBuild *build;
  const NappeStudy *study;
  double top; /* under the title [px] */
  GArray *pins; /* NappePin, ids in `words` */
  GStringChunk *words;
} NappeChart;

/* A number with its unit. Transfer full. */
char *nappe_chart_number (const NappeChart *self, NappeQuantity quantity, double value);
/* Heading and a sentence under it; moves `top` down. role: of the sentence. */
void nappe_chart_title (NappeChart *self, const char *title, const char *sentence, NappeRole role);
/* A sentence in the middle instead of a chart; part (may be NULL) is said to be it. */
void nappe_chart_say (NappeChart *self, const char *part, const char *sentence);
/* A finding about the part (id; "": about none that has a pin) may be pinned there, with a line to a point [px]. */
void nappe_chart_pin (NappeChart *self, const char *part, double x, double y, double to_x, double to_y);
/* chart-findings.c: those about what a chart shows. Transfer full. */
GPtrArray *nappe_chart_findings (const NappeChart *self);
/* Their key at the foot of `height` px. Returns its height. */
double nappe_chart_draw_key (NappeChart *self, const GPtrArray *findings, double height);
/* "Pump curve: Return pump". part: id. Transfer full. */
char *nappe_chart_kind_title (NappeBuild *build, NappeChartKind kind, const char *part);

/* chart-rows.c. What a plot shows, and where. */
typedef struct
{
  NappeQuantity quantity;
  double low, high;    /* SI, low < high */
  const char *heading; /* translated */
} NappeChartScale;

double nappe_chart_across (const NappeChartScale *scale, const NappeBox *plot, double value); /* x [px] */
double nappe_chart_up (const NappeChartScale *scale, const NappeBox *plot, double value);     /* y [px] */
/* Lines and numbers of a scale under the plot, its heading to the left of the numbers or, where there is no room, in
 * the plot: so draw what it shows first. */
void nappe_chart_draw_across (NappeChart *self, const NappeChartScale *scale, const NappeBox *plot);
/* The same at the left of the plot, its heading above. */
void nappe_chart_draw_up (NappeChart *self, const NappeChartScale *scale, const NappeBox *plot);
double nappe_chart_across_height (const NappeChart *self); /* that the numbers under a plot take [px] */

/* A named bar. */
typedef struct
{
  char *part;       /* id, picked by the row; "" for none */
  char *name, *value; /* left and right of the bar; "" for none */
  char *words;      /* a sentence about the part; NULL: name and value are all. The first one about a part stays */
  double from, to;  /* of the bar; equal: there is none; infinite: the end of the plot */
  double limit;     /* what lies beyond it is in the colour of danger; INFINITY: none */
  NappeRole fill;
  gboolean strong;  /* text */
  guint rank; /* where not all rows have room the highest rank goes first: from 2 on the whole rank, else its shortest
                 bar */
} NappeChartRow;

/* An upright line through all rows. */
typedef struct
{
  double value;
  char *name;
  NappeRole role;
} NappeChartMark;

typedef struct
{
  NappeChartScale scale; /* low and high are widened to what the rows need */
  GArray *rows;    /* NappeChartRow */
  GArray *dropped; /* NappeChartRow, for which there is no room */
  GArray *marks;   /* NappeChartMark */
} NappeChartRows;

void nappe_chart_rows_init (NappeChartRows *self, NappeQuantity quantity, const char *heading);
void nappe_chart_rows_clear (NappeChartRows *self);
/* Takes name and value. The row may be changed until the next is added. */
NappeChartRow *nappe_chart_rows_add (NappeChartRows *self, const char *part, char *name, char *value, double from, double to,
                                     NappeRole fill);
/* Takes the name. */
void nappe_chart_rows_mark (NappeChartRows *self, double value, char *name, NappeRole role);
void nappe_chart_draw_rows (NappeChart *self, NappeChartRows *rows);

/* The kinds. */
void nappe_chart_pump (NappeChart *self);
void nappe_chart_head (NappeChart *self);
void nappe_chart_run_down (NappeChart *self);
void nappe_chart_tuning (NappeChart *self);
