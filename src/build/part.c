/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part: identity, the tables of its kind, and its fields. Owned parts are in part-tree.c. */
#include "config.h"

#include "build/part.h"

#include <string.h>

#include <glib/gi18n-lib.h>

#include "build/build.h"
#include "build/part-private.h"

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (NappePart, nappe_part, G_TYPE_OBJECT)

enum { PROPERTY_ID = 1, PROPERTY_NAME, FIRST_FIELD_PROPERTY };

NappePartPrivate *
nappe_part_private (NappePart *self)
{
  return nappe_part_get_instance_private (self);
}

static gpointer
member (NappePart *self, gsize offset)
{
  return G_STRUCT_MEMBER_P (self, offset);
}

void
nappe_part_read (NappePart *self, const NappeField *field, GValue *value)
{
  gpointer place = member (self, field->offset);

  g_value_init (value, nappe_field_value_type (field));
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: g_value_set_double (value, *(double *) place); break;
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: g_value_set_int (value, *(int *) place); break;
    case NAPPE_FIELD_FLAG: g_value_set_boolean (value, *(gboolean *) place); break;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: g_value_set_string (value, *(char **) place); break;
    case NAPPE_FIELD_CURVE: g_value_set_boxed (value, *(NappeCurve **) place); break;
    }
}

static void
write_text (char **place, const char *text)
{
  char *copy = g_strdup (text != NULL ? text : "");

  g_free (*place);
  *place = copy;
}

static void
write_curve (NappeCurve **place, const NappeCurve *curve)
{
  NappeCurve *copy = nappe_curve_copy (curve);

  nappe_curve_free (*place);
  *place = copy;
}

void
nappe_part_write (NappePart *self, const NappeField *field, const GValue *value)
{
  gpointer place = member (self, field->offset);

  g_return_if_fail (G_VALUE_HOLDS (value, nappe_field_value_type (field)));
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: *(double *) place = g_value_get_double (value); break;
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: *(int *) place = g_value_get_int (value); break;
    case NAPPE_FIELD_FLAG: *(gboolean *) place = g_value_get_boolean (value); break;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: write_text (place, g_value_get_string (value)); break;
    case NAPPE_FIELD_CURVE: write_curve (place, g_value_get_boxed (value)); break;
    }
}

double
nappe_part_number (NappePart *self, const NappeField *field)
{
  g_return_val_if_fail (field->type == NAPPE_FIELD_NUMBER, 0);
  return *(double *) member (self, field->offset);
}

const char *
nappe_part_text (NappePart *self, const NappeField *field)
{
  g_return_val_if_fail (field->type == NAPPE_FIELD_TEXT || field->type == NAPPE_FIELD_REFERENCE ||
                        field->type == NAPPE_FIELD_ITEM, "");
  return *(char **) member (self, field->offset);
}

static void
set_initial_field (NappePart *self, const NappeField *field)
{
  gpointer place = member (self, field->offset);

  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: *(double *) place = field->initial; break;
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: *(int *) place = (int) field->initial; break;
    case NAPPE_FIELD_FLAG: *(gboolean *) place = field->initial != 0; break;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: write_text (place, ""); break;
    case NAPPE_FIELD_CURVE: write_curve (place, NULL); break;
    }
}

/* While an instance is made, its class is that of the type whose instance_init runs; the kinds are
 * final, so that here it is the kind's own class with its tables. */
void
nappe_part_set_initial (NappePart *self)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_fields; i++)
    set_initial_field (self, &klass->fields[i]);
  nappe_part_create_slots (self);
}

static void
free_fields (NappePart *self)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      gpointer place = member (self, klass->fields[i].offset);
      if (klass->fields[i].type == NAPPE_FIELD_CURVE)
        nappe_curve_free (*(NappeCurve **) place);
      else if (nappe_field_value_type (&klass->fields[i]) == G_TYPE_STRING)
        g_free (*(char **) place);
    }
}

static void
nappe_part_dispose (GObject *object)
{
  nappe_part_release_slots (NAPPE_PART (object));
  G_OBJECT_CLASS (nappe_part_parent_class)->dispose (object);
}

static void
nappe_part_finalize (GObject *object)
{
  NappePart *self = NAPPE_PART (object);
  NappePartPrivate *priv = nappe_part_private (self);

  free_fields (self);
  nappe_part_free_slots (self);
  nappe_part_set_unknown (self, NULL, NULL, NULL);
  g_free (priv->id);
  g_free (priv->name);
  G_OBJECT_CLASS (nappe_part_parent_class)->finalize (object);
}

static void
nappe_part_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  NappePart *self = NAPPE_PART (object);
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);
  g_auto (GValue) current = G_VALUE_INIT;

  if (id == PROPERTY_ID)
    g_value_set_string (value, nappe_part_get_id (self));
  else if (id == PROPERTY_NAME)
    g_value_set_string (value, nappe_part_get_name (self));
  else if (id - FIRST_FIELD_PROPERTY < klass->n_fields)
    {
      nappe_part_read (self, &klass->fields[id - FIRST_FIELD_PROPERTY], &current);
      g_value_copy (&current, value);
    }
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
nappe_part_class_init (NappePartClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->dispose = nappe_part_dispose;
  object_class->finalize = nappe_part_finalize;
  object_class->get_property = nappe_part_get_property;
  g_object_class_install_property (object_class, PROPERTY_ID, g_param_spec_string ("id", NULL, NULL, "", flags));
  g_object_class_install_property (object_class, PROPERTY_NAME, g_param_spec_string ("name", NULL, NULL, "", flags));
}

static void
nappe_part_init (NappePart *self)
{
  NappePartPrivate *priv = nappe_part_private (self);

  priv->id = g_strdup ("");
  priv->name = g_strdup ("");
}

static GParamSpec *
property_of (const NappeField *field)
{
  /* Readable only: whoever changes a part goes through NappeBuild. */
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  g_autofree char *dashed = g_strdelimit (g_strdup (field->name), "_", '-');
  const char *name = g_intern_string (dashed);

  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER:
      return g_param_spec_double (name, field->label, NULL, field->minimum, field->maximum,
                                  nappe_is_given (field->initial) ? field->initial : field->minimum, flags);
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE:
      return g_param_spec_int (name, field->label, NULL, (int) field->minimum, (int) field->maximum,
                               (int) field->initial, flags);
    case NAPPE_FIELD_FLAG:
      return g_param_spec_boolean (name, field->label, NULL, field->initial != 0, flags);
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM:
      return g_param_spec_string (name, field->label, NULL, "", flags);
    case NAPPE_FIELD_CURVE:
      return g_param_spec_boxed (name, field->label, NULL, NAPPE_TYPE_CURVE, flags);
    }
  g_return_val_if_reached (NULL);
}

void
nappe_part_class_describe (NappePartClass *klass, const char *kind, const char *label, const NappeField *fields,
                           gsize n_fields, const NappeSlot *slots, gsize n_slots)
{
  klass->kind = kind;
  klass->label = label;
  klass->fields = fields;
  klass->n_fields = n_fields;
  klass->slots = slots;
  klass->n_slots = n_slots;
  G_OBJECT_CLASS (klass)->get_property = nappe_part_get_property;
  for (gsize i = 0; i < n_fields; i++)
    g_object_class_install_property (G_OBJECT_CLASS (klass), FIRST_FIELD_PROPERTY + (guint) i,
                                     property_of (&fields[i]));
}

const char *
nappe_part_get_id (NappePart *self)
{
  return nappe_part_private (self)->id;
}

void
nappe_part_set_id (NappePart *self, const char *id)
{
  write_text (&nappe_part_private (self)->id, id);
}

const char *
nappe_part_get_name (NappePart *self)
{
  return nappe_part_private (self)->name;
}

void
nappe_part_set_name (NappePart *self, const char *name)
{
  write_text (&nappe_part_private (self)->name, name);
}

const char *
nappe_part_get_kind (NappePart *self)
{
  return NAPPE_PART_GET_CLASS (self)->kind;
}

const char *
nappe_part_display_name (NappePart *self)
{
  const char *name = nappe_part_get_name (self);

  return *name != '\0' ? name : _ (NAPPE_PART_GET_CLASS (self)->label);
}

gboolean
nappe_part_id_is_valid (const char *id)
{
  gsize length = strlen (id);

  if (length == 0 || length > NAPPE_PART_ID_MAX || !(g_ascii_islower (id[0]) || g_ascii_isdigit (id[0])))
    return FALSE;
  return strspn (id, "abcdefghijklmnopqrstuvwxyz0123456789-_.") == length;
}

gboolean
nappe_part_check_name (const char *name, GError **error)
{
  gboolean plain = name != NULL && strlen (name) <= NAPPE_PART_NAME_MAX && g_utf8_validate (name, -1, NULL);

  for (const char *c = name; plain && *c != '\0'; c = g_utf8_next_char (c))
    plain = !g_unichar_iscntrl (g_utf8_get_char (c));
  if (!plain)
    g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                 _ ("A name must be one line of text of at most %d bytes"), NAPPE_PART_NAME_MAX);
  return plain;
}

const NappeField *
nappe_part_find_field (NappePart *self, const char *name)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (self);

  for (gsize i = 0; i < klass->n_fields; i++)
    if (strcmp (klass->fields[i].name, name) == 0)
      return &klass->fields[i];
  return NULL;
}

gpointer
nappe_part_get_unknown (NappePart *self)
{
  return nappe_part_private (self)->unknown;
}

void
nappe_part_set_unknown (NappePart *self, gpointer unknown, gpointer (*copy) (gpointer), GDestroyNotify destroy)
{
  NappePartPrivate *priv = nappe_part_private (self);

  if (priv->unknown != NULL && priv->destroy_unknown != NULL)
    priv->destroy_unknown (priv->unknown);
  priv->unknown = unknown;
  priv->copy_unknown = copy;
  priv->destroy_unknown = destroy;
}
