/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document: the root part, the only door to changing anything, undo and redo, one signal.
 *
 * Signals: `changed` (NappeBuild *), emitted once after every committed change, undo or redo, when
 * the build is whole again. Not thread-safe: change and read it on one thread; hand other threads a
 * copy (nappe_build_copy) or a compiled network. */
#pragma once

#include "build/kinds.h"

G_BEGIN_DECLS

#define NAPPE_BUILD_ERROR (nappe_build_error_quark ())
GQuark nappe_build_error_quark (void);
typedef enum
{
  NAPPE_BUILD_ERROR_TYPE,      /* the value is of another type, or the choice is unknown */
  NAPPE_BUILD_ERROR_RANGE,     /* not finite, or outside what the field accepts */
  NAPPE_BUILD_ERROR_ID,        /* a malformed id, or one that another part has */
  NAPPE_BUILD_ERROR_PLACE,     /* no such slot, or it is full or would fall below its least count */
} NappeBuildError;

#define NAPPE_TYPE_BUILD (nappe_build_get_type ())
G_DECLARE_FINAL_TYPE (NappeBuild, nappe_build, NAPPE, BUILD, NappePart)
struct _NappeBuild
{
  NappePart parent_instance;
  char *title, *summary, *customer, *shop, *author, *date, *revision;
  int units; /* NappeUnitSystem the author thinks in */
  NappePart *room, *water, *stand, *tank, *sump, *targets, *limits; /* of their kinds, always there */
  GPtrArray *overflows; /* NappeOverflow */
  GPtrArray *drains;    /* NappeDrain */
  GPtrArray *returns;   /* NappeReturnLine */
  GPtrArray *vessels;   /* NappeSideVessel */
  GPtrArray *equipment; /* NappeEquipment */
  GPtrArray *trials;    /* NappeTrial */
  GPtrArray *weighings; /* NappeWeighing */
  GPtrArray *answers;   /* NappeAnswer */
  GPtrArray *notes;     /* NappeNote */
  struct _NappeHistory *history;
};

/* The singles, cast. */
#define NAPPE_BUILD_ROOM(build) (NAPPE_ROOM ((build)->room))
#define NAPPE_BUILD_WATER(build) (NAPPE_WATER_CONDITION ((build)->water))
#define NAPPE_BUILD_STAND(build) (NAPPE_STAND ((build)->stand))
#define NAPPE_BUILD_TANK(build) (NAPPE_TANK ((build)->tank))
#define NAPPE_BUILD_SUMP(build) (NAPPE_SUMP ((build)->sump))
#define NAPPE_BUILD_TARGETS(build) (NAPPE_TARGETS ((build)->targets))

NappeBuild *nappe_build_new (void); /* empty lists, initial values, ids of the singles set */
NappeBuild *nappe_build_copy (NappeBuild *self); /* without history */

/* The part with an id, or NULL. Not owned. */
NappePart *nappe_build_find (NappeBuild *self, const char *id);
/* A free id that begins with the given kind's name, "drain-2". */
char *nappe_build_free_id (NappeBuild *self, const char *kind);

/* Changes. Each is one undoable step of its own, or part of the open transaction. Values are
 * snapped to what the file can hold exactly. FALSE and an error: nothing changed. A value equal to
 * the present one makes no step.
 * Kept by them: ids are unique, references are empty or name a part of a right kind, lists stay
 * within their limits. Not kept, since one call cannot: a sump has one baffle less than chambers;
 * add or take away both in one transaction. */
gboolean nappe_build_set (NappeBuild *self, NappePart *part, const char *field, const GValue *value, GError **error);
/* Numbers, counts, flags (0 or 1) and choices by their index. */
gboolean nappe_build_set_number (NappeBuild *self, NappePart *part, const char *field, double value, GError **error);
/* Texts, references, items, and choices by their nick. */
gboolean nappe_build_set_text (NappeBuild *self, NappePart *part, const char *field, const char *value, GError **error);
gboolean nappe_build_rename_part (NappeBuild *self, NappePart *part, const char *name, GError **error);
/* Adds child (transfer none; a reference is taken) before index, at the end with G_MAXUINT. Parts in
 * it that have no id get a free one. */
gboolean nappe_build_insert (NappeBuild *self, NappePart *owner, const char *slot, guint index, NappePart *child,
                             GError **error);
/* Takes a part out of its list. References of others to it and to parts below it are emptied. */
gboolean nappe_build_remove (NappeBuild *self, NappePart *part, GError **error);
gboolean nappe_build_move (NappeBuild *self, NappePart *part, guint index, GError **error);

/* The label of such a step: translated, transfer full. */
char *nappe_build_change_label (NappePart *part, const NappeField *field);

/* Transactions nest; only the outermost makes a step. Label: for people, translated. After an inner
 * roll-back the outer transactions stay open, but what is done in them is taken back at the end too.
 * Nothing can be undone or redone while one is open. */
void nappe_build_begin (NappeBuild *self, const char *label);
void nappe_build_commit (NappeBuild *self);
void nappe_build_roll_back (NappeBuild *self); /* takes back all since the outermost begin */

gboolean nappe_build_can_undo (NappeBuild *self);
gboolean nappe_build_can_redo (NappeBuild *self);
const char *nappe_build_undo_label (NappeBuild *self); /* NULL when there is none */
const char *nappe_build_redo_label (NappeBuild *self);
void nappe_build_undo (NappeBuild *self);
void nappe_build_redo (NappeBuild *self);
void nappe_build_mark_saved (NappeBuild *self);
gboolean nappe_build_is_modified (NappeBuild *self); /* differs in history from the last mark */

G_END_DECLS
