/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a picture is made of: for its exports and for tests. */
#pragma once

#include "picture/scene.h"

struct _NappePicture
{
  NappeScene *scene;
  double width, height; /* [px] */
  char *title;          /* of the build */
};
