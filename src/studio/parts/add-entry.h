/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be added to a build: drains, chambers, vessels, outlets, and every item of the catalogue. Needs no display. */
#pragma once

#include "assembly/assembly.h"

G_BEGIN_DECLS

/* How the list is narrowed. */
typedef enum
{
  NAPPE_ADD_ANY,
  NAPPE_ADD_DRAIN,
  NAPPE_ADD_VESSEL,
  NAPPE_ADD_EQUIPMENT,
  NAPPE_ADD_PUMP,
  NAPPE_ADD_PIPE,
  NAPPE_ADD_FITTING,
  NAPPE_ADD_VALVE,
  NAPPE_ADD_BULKHEAD,
} NappeAddGroup;
#define NAPPE_ADD_GROUP_COUNT 9
/* "Pipes and hoses", translated. Static. */
const char *nappe_add_group_label (NappeAddGroup group);

#define NAPPE_TYPE_ADD_ENTRY (nappe_add_entry_get_type ())
G_DECLARE_FINAL_TYPE (NappeAddEntry, nappe_add_entry, NAPPE, ADD_ENTRY, GObject)

/* All there is, drains first. NappeAddEntry; transfer full. units: of the sizes in the texts. */
GPtrArray *nappe_add_entries (NappeCatalogue *catalogue, NappeUnitSystem units);

const char *nappe_add_entry_get_title (NappeAddEntry *self);  /* "90° elbow, 1-1/4 in" */
const char *nappe_add_entry_get_detail (NappeAddEntry *self); /* system and sizes, or where it goes */
/* Puts what is known of it at the place before its sizes. */
void nappe_add_entry_tell (NappeAddEntry *self, const char *text);
const char *nappe_add_entry_get_item (NappeAddEntry *self);   /* catalogue id; NULL: it is none */
const char *nappe_add_entry_get_source (NappeAddEntry *self); /* of its data; "" where it has none */
NappeAddGroup nappe_add_entry_get_group (NappeAddEntry *self);
/* Whether all words of a search are in its title, detail or source. words: case-folded. */
gboolean nappe_add_entry_matches (NappeAddEntry *self, const char *const *words);

/* Adds it to a build, where the picked part says: at (nullable). The new part, owned by the build, or the pump whose item it
 * became; NULL with an error: nothing was changed. */
NappePart *nappe_add_entry_add (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error);

G_END_DECLS
