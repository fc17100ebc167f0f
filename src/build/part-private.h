/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between part.c and part-tree.c alone. */
#pragma once

#include "build/part.h"

typedef struct
{
  char *id;                           /* never NULL, "" before it is given one */
  char *name;                         /* never NULL */
  NappePart *owner;                   /* not owned; NULL for a root */
  const NappeSlot *slot;              /* of the owner, in which the part stands; NULL for a root */
  gpointer unknown;                   /* what the file room keeps here */
  gpointer (*copy_unknown) (gpointer);
  GDestroyNotify destroy_unknown;
} NappePartPrivate;

NappePartPrivate *nappe_part_private (NappePart *self);

void nappe_part_create_slots (NappePart *self);  /* empty lists and new singles */
void nappe_part_release_slots (NappePart *self); /* lets go of all owned parts; may run twice */
void nappe_part_free_slots (NappePart *self);    /* frees the empty lists */
