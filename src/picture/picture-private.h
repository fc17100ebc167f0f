/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a picture is made of: for its exports and for tests. */
#pragma once

#include "picture/scene.h"

/* Where curves stand in a picture of curves. */
typedef struct
{
  double left, right, top, bottom; /* of the panels [px] */
  double first, length;            /* time at the left, and from left to right [s] */
} NappePlot;

struct _NappePicture
{
  NappeScene *scene;
  double width, height; /* [px] */
  char *title;          /* of the build */
  NappePlot plot;       /* of curves; of other pictures all zero */
};

/* A side of the paper that can be drawn on [px], and a scale of texts that can be read. */
double nappe_picture_side (double wanted);
double nappe_picture_text_scale (double wanted);
/* Marks the picked part, or the nearest thing that it belongs to and that the picture shows. id may be NULL. */
void nappe_picture_select (NappePicture *self, NappeBuild *build, const char *id);
