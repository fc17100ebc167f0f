/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/unknown.h"

#include "build/build.h"

const char *const nappe_point_names[3] = { "flow_litres_per_hour", "head_metres", NULL };

/* What was kept is never changed, so that a copy may share it. */
static gpointer
copy_unknown (gpointer data)
{
  const NappeUnknown *unknown = data;
  NappeUnknown *copy = g_new0 (NappeUnknown, 1);

  copy->members = unknown->members != NULL ? json_object_ref (unknown->members) : NULL;
  copy->points = unknown->points != NULL ? json_array_ref (unknown->points) : NULL;
  return copy;
}

static void
free_unknown (gpointer data)
{
  NappeUnknown *unknown = data;

  g_clear_pointer (&unknown->members, json_object_unref);
  g_clear_pointer (&unknown->points, json_array_unref);
  g_free (unknown);
}

static gboolean
is_known (NappePart *part, const char *name)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  if (g_str_equal (name, "id") || g_str_equal (name, "name"))
    return !NAPPE_IS_BUILD (part);
  for (gsize i = 0; i < klass->n_fields; i++)
    if (g_str_equal (name, nappe_field_key (&klass->fields[i])))
      return TRUE;
  return nappe_part_find_slot (part, name) != NULL;
}

/* The points of a curve, if any of them has more members than it needs. */
static JsonArray *
curious_points (NappePart *part, JsonObject *object)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    if (klass->fields[i].type == NAPPE_FIELD_CURVE && json_object_has_member (object,
        nappe_field_key (&klass->fields[i])))
      {
        JsonArray *points = json_object_get_array_member (object, nappe_field_key (&klass->fields[i]));
        for (guint k = 0; k < json_array_get_length (points); k++)
          if (json_object_get_size (json_array_get_object_element (points, k)) > G_N_ELEMENTS (nappe_point_names) - 1)
            return points;
      }
  return NULL;
}

void
nappe_unknown_keep (NappePart *part, JsonObject *object, const char *const *known)
{
  g_autoptr (GList) names = json_object_get_members (object);
  JsonArray *points = curious_points (part, object);
  JsonObject *members = NULL;
  NappeUnknown *unknown;

  for (GList *name = names; name != NULL; name = name->next)
    {
      if (is_known (part, name->data) || (known != NULL && g_strv_contains (known, name->data)))
        continue;
      if (members == NULL)
        members = json_object_new ();
      json_object_set_member (members, name->data, json_node_copy (json_object_get_member (object, name->data)));
    }
  if (members == NULL && points == NULL)
    return;
  unknown = g_new0 (NappeUnknown, 1);
  unknown->members = members;
  unknown->points = points != NULL ? json_array_ref (points) : NULL;
  nappe_part_set_unknown (part, unknown, copy_unknown, free_unknown);
}

const NappeUnknown *
nappe_unknown_of (NappePart *part)
{
  return nappe_part_get_unknown (part);
}

void
nappe_unknown_add (JsonObject *from, const char *const *names, JsonObject *to)
{
  g_autoptr (GList) members = json_object_get_members (from);

  for (GList *name = members; name != NULL; name = name->next)
    if (!g_strv_contains (names, name->data))
      json_object_set_member (to, name->data, json_node_copy (json_object_get_member (from, name->data)));
}
