/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts of a study: a pump against its system, where the head of a line goes, what runs down in a power cut, how far a
 * siphon may drift. Pictures like any other: drawn, exported, picked, their items a text twin of what they show. All
 * numbers are the study's; a chart only says where they stand. */
#pragma once

#include "picture/picture.h"
#include "rules/rules.h"
#include "study/spread.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_CHART_PUMP,     /* of a pump: its curve, that of the system, where it runs */
  NAPPE_CHART_RUN_DOWN, /* of the sump: what comes down in each power cut against its room */
  NAPPE_CHART_TUNING,   /* of a siphon: bounds of the flow into its box */
  NAPPE_CHART_HEAD,     /* of a drain or a return line: head lost piece by piece */
  NAPPE_CHART_N         /* number of kinds, not a kind */
} NappeChartKind;

/* "pump", "power-cut", "tuning", "head": static. */
const char *nappe_chart_nick (NappeChartKind kind);
gboolean nappe_chart_from_nick (const char *nick, NappeChartKind *kind); /* FALSE: unknown */

typedef struct
{
  NappeChartKind kind;
  const char *part;          /* id of the pump, line or siphon; the sump's, or NULL, for what runs down */
  NappePaletteKind palette;
  NappeUnitSystem units;
  double width, height;      /* of the paper or canvas [px at 96 dpi] */
  double text_scale;         /* 1 normal */
  gboolean title;            /* what it shows, and its sum in a sentence */
  const char *selected;      /* id of the picked part; NULL: none */
  const NappeVerdict *verdict; /* of the study, read while the chart is made: what is found of the things it shows is marked;
                                  NULL: nothing */
  const NappeSpread *spread; /* of the study, for bands, read while the chart is made; NULL: none are drawn */
} NappeChartOptions;

/* Transfer full; never NULL. What cannot be shown is said in a sentence. */
NappePicture *nappe_chart_new (const NappeChartOptions *options, NappeBuild *build, const NappeStudy *study);

/* A chart that a study has something for. */
typedef struct
{
  NappeChartKind kind;
  char *part;  /* id */
  char *title; /* translated: "Pump curve: Return pump" */
} NappeChartChoice;

/* All of them, NappeChartChoice, in the order of the kinds. Transfer full. */
GPtrArray *nappe_chart_choices (NappeBuild *build, const NappeStudy *study);
/* The one that says most about a part: index, or -1. */
gint nappe_chart_choice_for (const GPtrArray *choices, NappeBuild *build, const char *part);
/* The one of a kind and a part (NULL: the first of the kind): index, or -1. */
gint nappe_chart_choice_find (const GPtrArray *choices, NappeChartKind kind, const char *part);

G_END_DECLS
