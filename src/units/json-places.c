/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/json-places-private.h"

#include <stdlib.h>
#include <string.h>

/* Nodes lie in one array; an open-addressing table of node numbers finds them by parent and name.
 * The hash is seeded at random, so that no text can be written whose names all collide. */

#define NO_NODE G_MAXUINT32
#define IS_ELEMENT G_MAXUINT32 /* as name_offset: the node is an array's element */
#define SHOWN_STEPS 8          /* steps of a path that a message shows */
#define SHOWN_NAME 40          /* [characters] of a name that a message shows */

typedef struct
{
  guint32 parent;
  guint32 line;
  guint32 hash;
  guint32 name_offset;     /* into names, or IS_ELEMENT */
  guint32 length_or_index; /* [bytes] of the name, or the element's index */
} Node;

struct _NappeJsonPlaces
{
  GArray *nodes;  /* of Node */
  GString *names; /* all names, one after another */
  guint32 *slots; /* node numbers, NO_NODE where free */
  gsize slot_count; /* a power of two, at least twice the number of nodes */
  guint64 seed;
};

static const Node *
node_at (const NappeJsonPlaces *places, guint32 node)
{
  return &g_array_index (places->nodes, Node, node);
}

/* FNV-1a from a secret start, then the 64-bit finalizer of MurmurHash3. */
static guint32
hash_key (const NappeJsonPlaces *places, guint32 parent, gboolean element, const void *key, gsize length)
{
  const guint8 *bytes = key;
  guint64 hash = places->seed ^ ((guint64) parent << 1) ^ (guint64) element;

  for (gsize i = 0; i < length; i++)
    hash = (hash ^ bytes[i]) * G_GUINT64_CONSTANT (0x100000001b3);
  hash = (hash ^ (hash >> 33)) * G_GUINT64_CONSTANT (0xff51afd7ed558ccd);
  hash = (hash ^ (hash >> 33)) * G_GUINT64_CONSTANT (0xc4ceb9fe1a85ec53);
  return (guint32) (hash ^ (hash >> 33));
}

static gboolean
node_is (const NappeJsonPlaces *places, const Node *node, guint32 parent, gboolean element, const void *key,
         gsize length)
{
  if (node->parent != parent || (node->name_offset == IS_ELEMENT) != element)
    return FALSE;
  if (element)
    return memcmp (&node->length_or_index, key, sizeof node->length_or_index) == 0;
  return node->length_or_index == length && memcmp (places->names->str + node->name_offset, key, length) == 0;
}

/* The node under this key or NO_NODE; *slot is where it is or would go. */
static guint32
find_slot (const NappeJsonPlaces *places, guint32 hash, guint32 parent, gboolean element, const void *key,
           gsize length, gsize *slot)
{
  gsize at = hash & (places->slot_count - 1);

  while (places->slots[at] != NO_NODE)
    {
      const Node *node = node_at (places, places->slots[at]);

      if (node->hash == hash && node_is (places, node, parent, element, key, length))
        break;
      at = (at + 1) & (places->slot_count - 1);
    }
  *slot = at;
  return places->slots[at];
}

static void
clear_slots (NappeJsonPlaces *places, gsize count)
{
  places->slot_count = count;
  places->slots = g_renew (guint32, places->slots, count);
  memset (places->slots, 0xff, count * sizeof *places->slots);
}

static void
grow_slots (NappeJsonPlaces *places)
{
  clear_slots (places, places->slot_count * 2);
  /* The root has no key and is never looked for. */
  for (guint32 i = 1; i < places->nodes->len; i++)
    {
      gsize at = node_at (places, i)->hash & (places->slot_count - 1);

      while (places->slots[at] != NO_NODE)
        at = (at + 1) & (places->slot_count - 1);
      places->slots[at] = i;
    }
}

static guint32
append_node (NappeJsonPlaces *places, gsize slot, const Node *node)
{
  guint32 number = places->nodes->len;

  g_array_append_val (places->nodes, *node);
  places->slots[slot] = number;
  if (places->nodes->len * 2 > places->slot_count)
    grow_slots (places);
  return number;
}

NappeJsonPlaces *
nappe_json_places_new (guint root_line)
{
  NappeJsonPlaces *places = g_new0 (NappeJsonPlaces, 1);
  Node root = { .parent = NO_NODE, .line = root_line, .name_offset = IS_ELEMENT };

  places->nodes = g_array_new (FALSE, FALSE, sizeof (Node));
  places->names = g_string_new (NULL);
  places->seed = ((guint64) g_random_int () << 32) | g_random_int ();
  clear_slots (places, 64);
  g_array_append_val (places->nodes, root);
  return places;
}

void
nappe_json_places_free (NappeJsonPlaces *places)
{
  if (places == NULL)
    return;
  g_array_unref (places->nodes);
  g_string_free (places->names, TRUE);
  g_free (places->slots);
  g_free (places);
}

guint
nappe_json_places_count (const NappeJsonPlaces *places)
{
  return places->nodes->len;
}

gboolean
nappe_json_places_add_member (NappeJsonPlaces *places, guint32 parent, const char *name, gsize length,
                              guint line, guint32 *node)
{
  gsize slot;
  guint32 hash = hash_key (places, parent, FALSE, name, length);
  Node added = { parent, line, hash, (guint32) places->names->len, (guint32) length };

  *node = find_slot (places, hash, parent, FALSE, name, length, &slot);
  if (*node != NO_NODE)
    return FALSE;
  g_string_append_len (places->names, name, (gssize) length);
  *node = append_node (places, slot, &added);
  return TRUE;
}

guint32
nappe_json_places_add_element (NappeJsonPlaces *places, guint32 parent, guint32 index, guint line)
{
  gsize slot;
  guint32 hash = hash_key (places, parent, TRUE, &index, sizeof index);
  Node added = { parent, line, hash, IS_ELEMENT, index };

  find_slot (places, hash, parent, TRUE, &index, sizeof index, &slot);
  return append_node (places, slot, &added);
}

/* A name as a message can show it: short, and without control characters. */
static void
append_shown_name (GString *path, const char *name, gsize length)
{
  const char *end = name + length;

  for (guint shown = 0; name < end; name = g_utf8_next_char (name), shown++)
    {
      gunichar character = g_utf8_get_char (name);

      if (shown == SHOWN_NAME)
        {
          g_string_append (path, "…");
          return;
        }
      g_string_append_unichar (path, g_unichar_isprint (character) ? character : 0xfffd);
    }
}

char *
nappe_json_places_path (const NappeJsonPlaces *places, guint32 node)
{
  GString *path = g_string_new (NULL);
  guint32 steps[SHOWN_STEPS];
  guint count = 0;

  for (; node != NAPPE_JSON_ROOT && count < SHOWN_STEPS; node = node_at (places, node)->parent)
    steps[count++] = node;
  if (node != NAPPE_JSON_ROOT)
    g_string_append (path, "…");
  while (count > 0)
    {
      const Node *step = node_at (places, steps[--count]);

      if (step->name_offset == IS_ELEMENT)
        {
          g_string_append_printf (path, "[%u]", step->length_or_index);
          continue;
        }
      if (path->len > 0)
        g_string_append_c (path, '.');
      append_shown_name (path, places->names->str + step->name_offset, step->length_or_index);
    }
  return g_string_free (path, FALSE);
}

/* Takes one step of a path from `node`, and moves *path behind it. NO_NODE if there is none. */
static guint32
follow_step (const NappeJsonPlaces *places, guint32 node, const char **path)
{
  const char *at = *path;
  gsize slot, length;

  if (*at == '[')
    {
      char *end = NULL;
      guint64 index = g_ascii_isdigit (at[1]) ? g_ascii_strtoull (at + 1, &end, 10) : 0;
      guint32 key = (guint32) index;

      if (end == NULL || *end != ']' || index > G_MAXUINT32)
        return NO_NODE;
      *path = end + 1;
      return find_slot (places, hash_key (places, node, TRUE, &key, sizeof key), node, TRUE, &key, sizeof key,
                        &slot);
    }
  if (*at == '.')
    at++;
  length = strcspn (at, ".[");
  *path = at + length;
  return find_slot (places, hash_key (places, node, FALSE, at, length), node, FALSE, at, length, &slot);
}

guint
nappe_json_places_line (const NappeJsonPlaces *places, const char *path)
{
  guint32 node = NAPPE_JSON_ROOT;

  g_return_val_if_fail (places != NULL && path != NULL, 0);
  while (*path != '\0' && node != NO_NODE)
    node = follow_step (places, node, &path);
  return node == NO_NODE ? 0 : node_at (places, node)->line;
}

guint
nappe_json_places_nearest_line (const NappeJsonPlaces *places, const char *path)
{
  guint32 node = NAPPE_JSON_ROOT;

  g_return_val_if_fail (places != NULL && path != NULL, 1);
  while (*path != '\0')
    {
      guint32 next = follow_step (places, node, &path);

      if (next == NO_NODE)
        break;
      node = next;
    }
  return node_at (places, node)->line;
}
