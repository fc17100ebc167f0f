/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part of a build: a GObject with a stable id, a name, fields and owned parts.
 *
 * Members of the structs of every kind are public to read. They are changed only through
 * NappeBuild (build.h), which checks, records and announces every change. */
#pragma once

#include "build/field.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_PART (nappe_part_get_type ())
G_DECLARE_DERIVABLE_TYPE (NappePart, nappe_part, NAPPE, PART, GObject)

/* A part's id: 1..64 of a-z, 0-9, '-', '_', '.', starting with a letter or a digit. */
#define NAPPE_PART_ID_MAX 64
/* Longest name of a part [byte]. */
#define NAPPE_PART_NAME_MAX 200

struct _NappePartClass
{
  GObjectClass parent_class;
  const char *kind;  /* "drain": for messages, ids and the file */
  const char *label; /* "Drain": for people, English, marked N_() */
  const NappeField *fields;
  gsize n_fields;
  const NappeSlot *slots;
  gsize n_slots;
};

/* Called from class_init of each kind: keeps the tables and installs a GObject property for every
 * field (name with '-' for '_'), with the field's type, range and label. */
void nappe_part_class_describe (NappePartClass *klass, const char *kind, const char *label,
                                const NappeField *fields, gsize n_fields, const NappeSlot *slots,
                                gsize n_slots);

/* Called from instance_init of each kind: gives every field its initial value, every list slot an
 * empty list and every single slot a new part. */
void nappe_part_set_initial (NappePart *self);

#define NAPPE_DEFINE_PART(Type, prefix, kind, label, fields, n_fields, slots, n_slots)                                \
  G_DEFINE_FINAL_TYPE (Type, prefix, NAPPE_TYPE_PART)                                                                 \
  static void prefix##_class_init (Type##Class *klass)                                                                \
  {                                                                                                                   \
    nappe_part_class_describe (NAPPE_PART_CLASS (klass), kind, label, fields, n_fields, slots, n_slots);              \
  }                                                                                                                   \
  static void prefix##_init (Type *self)                                                                              \
  {                                                                                                                   \
    nappe_part_set_initial (NAPPE_PART (self));                                                                       \
  }

const char *nappe_part_get_id (NappePart *self);   /* "" for a part that never was in a build */
const char *nappe_part_get_name (NappePart *self); /* the planner's own name, or "" */
const char *nappe_part_get_kind (NappePart *self);
/* What people read: the name, else the translated label of the kind. Owned by the part. */
const char *nappe_part_display_name (NappePart *self);
NappePart *nappe_part_get_owner (NappePart *self); /* the part it stands in; NULL for a root */
NappePart *nappe_part_get_root (NappePart *self);  /* the outermost owner; the part itself for a root */
gboolean nappe_part_id_is_valid (const char *id);
/* Whether a name may be given: UTF-8 of one line within NAPPE_PART_NAME_MAX. Sets NAPPE_BUILD_ERROR_RANGE. */
gboolean nappe_part_check_name (const char *name, GError **error);

const NappeField *nappe_part_find_field (NappePart *self, const char *name);
const NappeSlot *nappe_part_find_slot (NappePart *self, const char *name);

/* Typed reading through the tables. The value is initialised by the call. */
void nappe_part_read (NappePart *self, const NappeField *field, GValue *value);
double nappe_part_number (NappePart *self, const NappeField *field);
const char *nappe_part_text (NappePart *self, const NappeField *field);

/* Parts in a slot. The array of a list, owned by the part; the part of a single. */
GPtrArray *nappe_part_list (NappePart *self, const NappeSlot *slot);
NappePart *nappe_part_single (NappePart *self, const NappeSlot *slot);
/* Where a part stands in its owner: its slot, and its index in a list (0 for a single). */
const NappeSlot *nappe_part_place (NappePart *self, guint *index);

/* The part itself and all below, in the order of the file. */
typedef void (*NappePartVisitor) (NappePart *part, gpointer user_data);
void nappe_part_visit (NappePart *self, NappePartVisitor visitor, gpointer user_data);
/* The part with an id among self and all below, or NULL. "" is nobody's. Not owned. */
NappePart *nappe_part_find (NappePart *self, const char *id);

/* A deep copy with the same ids and no owner. */
NappePart *nappe_part_copy (NappePart *self);
/* Whether two parts of one kind, and all below, hold equal values and ids. */
gboolean nappe_part_equal (NappePart *a, NappePart *b);

/* What the file said of a part beyond what this version knows: kept, never looked into. */
gpointer nappe_part_get_unknown (NappePart *self);
void nappe_part_set_unknown (NappePart *self, gpointer unknown, gpointer (*copy) (gpointer), GDestroyNotify destroy);

/* For parts that stand in no build yet, and for build.c: no check of range, no record, no signal. */
void nappe_part_write (NappePart *self, const NappeField *field, const GValue *value);
void nappe_part_set_id (NappePart *self, const char *id);
void nappe_part_set_name (NappePart *self, const char *name);
/* Puts a child (a reference is taken) into a list before index, or in place of a single. */
void nappe_part_attach (NappePart *self, const NappeSlot *slot, guint index, NappePart *child);
/* Takes a child out of a list; the caller owns it. */
NappePart *nappe_part_detach (NappePart *self, const NappeSlot *slot, guint index);

G_END_DECLS
