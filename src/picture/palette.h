/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colours of the pictures by what they are for, in five palettes. Nothing else in the room names a colour. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_ROLE_NONE, /* not painted */
  NAPPE_ROLE_PAPER,
  NAPPE_ROLE_INK,  /* outlines and first text */
  NAPPE_ROLE_SOFT, /* dimensions, leaders, second text */
  NAPPE_ROLE_HAIR, /* hatching and frames; never text */
  NAPPE_ROLE_PLATE, /* ground of label boxes and of texts that stand on something */
  NAPPE_ROLE_WATER_TOP, /* body of still water, from its surface ... */
  NAPPE_ROLE_WATER_DEEP, /* ... to its floor */
  NAPPE_ROLE_SURFACE,   /* free surface and its level mark, text too */
  NAPPE_ROLE_MOVING,    /* water in full pipes, falling sheet */
  NAPPE_ROLE_TRICKLE,   /* water in partly full pipes */
  NAPPE_ROLE_AIR,       /* inside of a dry pipe */
  NAPPE_ROLE_ARROW,     /* arrows on moving water */
  NAPPE_ROLE_GLASS,
  NAPPE_ROLE_ACRYLIC,
  NAPPE_ROLE_PVC,
  NAPPE_ROLE_STAND,        /* its cut panels */
  NAPPE_ROLE_STAND_INSIDE, /* its open inside */
  NAPPE_ROLE_ROCK,         /* translucent, over water */
  NAPPE_ROLE_EQUIPMENT,    /* fill of equipment and pumps */
  NAPPE_ROLE_OTHER_STATE,  /* dashed levels of the state that is not shown */
  NAPPE_ROLE_OTHER_TEXT,   /* text beside them */
  NAPPE_ROLE_DANGER,       /* marks of findings; also text about water on the floor */
  NAPPE_ROLE_PROBLEM,
  NAPPE_ROLE_ADVICE,
  NAPPE_ROLE_ON_DANGER,    /* the numbers on them */
  NAPPE_ROLE_ON_PROBLEM,
  NAPPE_ROLE_ON_ADVICE,
  NAPPE_ROLE_SELECTED,     /* halo of the picked part, translucent */
  NAPPE_ROLE_N             /* number of roles, not a role */
} NappeRole;

typedef struct
{
  double red, green, blue, alpha; /* 0..1, sRGB, alpha not multiplied in */
} NappeColour;

NappeColour nappe_palette_colour (NappePaletteKind palette, NappeRole role);

/* Contrast of two opaque colours after WCAG 2.1 [1..21]. */
double nappe_colour_contrast (NappeColour a, NappeColour b);

/* Mark and number colour of a severity; fine has none and gives SOFT and PAPER. */
NappeRole nappe_severity_role (NappeSeverity severity);
NappeRole nappe_severity_text_role (NappeSeverity severity);

G_END_DECLS
