/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "catalogue/catalogue.h"

/* The members that rows of a catalogue file may have, each one line of a table. A member's name in
 * the file ends in the unit of its quantity: `bore` is written "bore_mm". The members id, kind,
 * source and note stand apart and are not in the table. */

G_BEGIN_DECLS

typedef enum
{
  NAPPE_MEMBER_TEXT,
  NAPPE_MEMBER_NUMBER,
  NAPPE_MEMBER_BOOLEAN,
  NAPPE_MEMBER_LIST /* of numbers */
} NappeItemMemberType;

/* The lists of numbers a row may have. */
typedef enum
{
  NAPPE_LIST_OPENING,
  NAPPE_LIST_K,
  NAPPE_LIST_FLOW,
  NAPPE_LIST_HEAD,
  NAPPE_LIST_COUNT
} NappeItemList;

typedef struct
{
  const char *name; /* without the unit */
  NappeItemMemberType type;
  gsize offset;            /* into NappeItem; of a list its NappeItemList */
  guint kinds;             /* bits 1 << NappeItemKind of the kinds that may have it */
  guint needed;            /* bits of the kinds that must */
  NappeQuantity quantity;  /* of numbers */
  double least, most;      /* of numbers, SI, both allowed */
  const char *const *only; /* of texts: the words allowed; NULL: any text */
} NappeItemMember;

extern const NappeItemMember nappe_item_members[];
extern const guint nappe_item_member_count; /* at most 64 */

/* The words for the kinds, in the order of NappeItemKind, then NULL. */
extern const char *const nappe_item_kind_words[];

/* The words for the ends of an item, in the order of NappeEndMethod (item-ends.h) after "unknown", then NULL. */
extern const char *const nappe_item_end_words[];

/* The name that the member has in a file. Transfer full. */
char *nappe_item_member_file_name (const NappeItemMember *member);

/* Whether `name` is that name. */
gboolean nappe_item_member_is_named (const NappeItemMember *member, const char *name);

G_END_DECLS
