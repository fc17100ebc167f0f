/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a scene is made of: shared by building (scene.c) and drawing (scene-draw.c). */
#pragma once

#include "picture/handles.h"
#include "picture/scene.h"

typedef enum { NAPPE_STEP_MOVE, NAPPE_STEP_LINE, NAPPE_STEP_CURVE, NAPPE_STEP_ARC, NAPPE_STEP_CLOSE } NappeStepKind;

typedef struct
{
  NappeStepKind kind;
  double at[6];
} NappeStep;

/* A shape, or a text when `text` is set. */
typedef struct
{
  NappeLayer layer;
  NappeStyle style;
  guint first, n;  /* steps */
  NappeBox box;    /* of all its points */
  gint clip;       /* index in clips; -1: none */
  const NappeText *text; /* owned by the scene's store of texts */
  gboolean upright;
} NappeShape;

typedef struct
{
  char *part;
  NappeBox box;
} NappeHit;

struct _NappeScene
{
  NappePaletteKind palette;
  double width, height;
  NappeTextShaper *shaper;
  GHashTable *texts; /* size, weight and string to NappeText: measuring and drawing shape once */
  GArray *steps;     /* NappeStep */
  GArray *shapes;    /* NappeShape */
  GArray *clips;     /* NappeBox */
  gint clip;
  guint path_start;  /* first step of the path being built */
  GArray *hits;      /* NappeHit */
  GArray *items;     /* NappePictureItem with own strings */
  GArray *labels;    /* NappePictureLabel, texts owned by the store */
  GArray *lost;      /* NappeLostText, words in `words` */
  GArray *blocks;    /* NappeBlock */
  GPtrArray *streams; /* NappeStream */
  GArray *handles;    /* NappeHandle, words in `words` */
  GArray *guides;     /* NappeGuide */
  GStringChunk *words;
  NappeGround ground, held; /* scale 0: none */
  GHashTable *places;  /* part to NappeLabelPlace, of labels that stand */
  GHashTable *earlier; /* the same of another scene; NULL: none */
};
