/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/field-row.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "assembly/assembly.h"
#include "build/coupling.h"
#include "build/field-use.h"
#include "studio/parts/choice-labels.h"
#include "studio/parts/field-choices.h"
#include "studio/parts/field-text.h"

/* A choice of more letters has no room beside its label. */
#define LONG_CHOICE 24

struct _NappeFieldRow
{
  GtkListBoxRow parent_instance;
  NappeBuild *build;
  NappePart *part;
  const NappeField *field; /* NULL: the part's name */
  NappeCatalogue *catalogue; /* NULL: none */
  NappeUnitSystem units;
  GtkWidget *editor;       /* entry, switch, drop-down or label */
  GtkWidget *message;      /* what is wrong */
  GtkWidget *line;         /* label and editor */
  GtkWidget *reset;        /* takes an optional number away; NULL: the row has no such button */
  GStrv values;            /* of a drop-down: what each row stands for */
  char *brought_field, *brought_text; /* what comes with a number; NULL: nothing */
  char *shown;             /* of an entry: the text that stands for the present value */
  gboolean refreshing;     /* the editor is being set, not used */
};

G_DEFINE_FINAL_TYPE (NappeFieldRow, nappe_field_row, GTK_TYPE_LIST_BOX_ROW)

static void
show_error (NappeFieldRow *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->message), text != NULL ? text : "");
  gtk_widget_set_visible (self->message, text != NULL);
  if (text != NULL)
    gtk_widget_add_css_class (self->editor, "error");
  else
    gtk_widget_remove_css_class (self->editor, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_STATE_INVALID,
                               text != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static gboolean
check_text (NappeFieldRow *self, const char *text, GValue *value, GError **error)
{
  if (self->field != NULL)
    return nappe_field_read_text (self->field, text, self->units, value, error);
  if (!nappe_part_check_name (text, error))
    return FALSE;
  g_value_init (value, G_TYPE_STRING);
  g_value_set_string (value, text);
  return TRUE;
}

/* As for a hand that drags it: what belongs to it goes along. */
static gboolean
set_number (NappeFieldRow *self, double value, GError **error)
{
  const NappeField *brought
      = self->brought_field != NULL && nappe_is_given (value) ? nappe_part_find_field (self->part, self->brought_field) : NULL;
  g_autofree char *label = nappe_build_change_label (self->part, self->field);
  gboolean done;

  nappe_build_begin (self->build, label);
  done = nappe_build_set_coupled (self->build, self->part, self->field->name, value, error);
  if (done && brought != NULL && *nappe_part_text (self->part, brought) == '\0')
    done = nappe_build_set_text (self->build, self->part, brought->name, self->brought_text, error);
  nappe_build_commit (self->build);
  return done;
}

static void
set_value (NappeFieldRow *self, const GValue *value)
{
  g_autoptr (GError) error = NULL;
  gboolean done;

  /* The change makes everything refresh, this row among it. */
  g_object_ref (self);
  if (self->field != NULL && self->field->type == NAPPE_FIELD_NUMBER)
    done = set_number (self, g_value_get_double (value), &error);
  else if (self->field != NULL && self->field->type == NAPPE_FIELD_ITEM && self->catalogue != NULL)
    done = nappe_assembly_swap_item (self->build, self->catalogue, self->part, g_value_get_string (value), &error);
  else if (self->field != NULL)
    done = nappe_build_set (self->build, self->part, self->field->name, value, &error);
  else
    done = nappe_build_rename_part (self->build, self->part, g_value_get_string (value), &error);
  /* A list shows again what is; what was typed stays to be mended. */
  if (done || GTK_IS_DROP_DOWN (self->editor))
    nappe_field_row_refresh (self);
  show_error (self, done ? NULL : error->message);
  g_object_unref (self);
}

static void
entry_changed (NappeFieldRow *self)
{
  g_auto (GValue) value = G_VALUE_INIT;
  g_autoptr (GError) error = NULL;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->editor));

  if (self->refreshing)
    return;
  if (strcmp (text, self->shown) == 0 || check_text (self, text, &value, &error))
    show_error (self, NULL);
  else
    show_error (self, error->message);
}

static void
entry_committed (NappeFieldRow *self)
{
  g_auto (GValue) value = G_VALUE_INIT;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->editor));

  if (self->refreshing || strcmp (text, self->shown) == 0)
    return;
  if (check_text (self, text, &value, NULL))
    {
      g_free (self->shown);
      self->shown = g_strdup (text);
      set_value (self, &value);
    }
}

/* Escape takes back what was typed. */
static gboolean
entry_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, NappeFieldRow *self)
{
  if (key != GDK_KEY_Escape || strcmp (gtk_editable_get_text (GTK_EDITABLE (self->editor)), self->shown) == 0)
    return FALSE;
  gtk_editable_set_text (GTK_EDITABLE (self->editor), self->shown);
  show_error (self, NULL);
  return TRUE;
}

static void
switch_used (NappeFieldRow *self)
{
  g_auto (GValue) value = G_VALUE_INIT;

  if (self->refreshing)
    return;
  g_value_init (&value, G_TYPE_BOOLEAN);
  g_value_set_boolean (&value, gtk_switch_get_active (GTK_SWITCH (self->editor)));
  set_value (self, &value);
}

static void
choice_made (NappeFieldRow *self)
{
  g_auto (GValue) value = G_VALUE_INIT, present = G_VALUE_INIT;
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->editor));

  if (self->refreshing || selected == GTK_INVALID_LIST_POSITION)
    return;
  g_value_init (&value, nappe_field_value_type (self->field));
  if (self->field->type == NAPPE_FIELD_CHOICE)
    g_value_set_int (&value, (int) selected);
  else
    g_value_set_string (&value, self->values[selected]);
  /* Word of a list that was set back may come late, and must not wipe out why. */
  nappe_part_read (self->part, self->field, &present);
  if (!nappe_field_value_equal (self->field, &value, &present))
    set_value (self, &value);
}

static GtkWidget *
make_entry (NappeFieldRow *self)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new (), *keys = gtk_event_controller_key_new ();

  if (self->field != NULL && self->field->optional)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _("not given"));
  if (self->field != NULL && (self->field->type == NAPPE_FIELD_NUMBER || self->field->type == NAPPE_FIELD_COUNT))
    gtk_editable_set_alignment (GTK_EDITABLE (entry), 1.0f);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 18);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (entry_changed), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (entry_committed), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (entry_committed), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (entry_key), self);
  gtk_widget_add_controller (entry, focus);
  gtk_widget_add_controller (entry, keys);
  return entry;
}

static GtkWidget *
make_drop_down (NappeFieldRow *self)
{
  g_auto (GStrv) labels = NULL;
  GtkWidget *drop_down;

  nappe_field_choices (self->build, self->part, self->field, self->catalogue, self->units, &self->values, &labels);
  drop_down = gtk_drop_down_new (G_LIST_MODEL (gtk_string_list_new ((const char *const *) labels)),
                                 gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (drop_down), g_strv_length (labels) > 12);
  nappe_choice_labels_fit (GTK_DROP_DOWN (drop_down));
  g_signal_connect_swapped (drop_down, "notify::selected", G_CALLBACK (choice_made), self);
  return drop_down;
}

static GtkWidget *
make_editor (NappeFieldRow *self)
{
  GtkWidget *editor;

  switch (self->field != NULL ? self->field->type : NAPPE_FIELD_TEXT)
    {
    case NAPPE_FIELD_FLAG:
      editor = gtk_switch_new ();
      g_signal_connect_swapped (editor, "notify::active", G_CALLBACK (switch_used), self);
      return editor;
    case NAPPE_FIELD_CURVE:
      return gtk_label_new (NULL);
    case NAPPE_FIELD_ITEM:
      return self->catalogue != NULL ? make_drop_down (self) : make_entry (self);
    case NAPPE_FIELD_CHOICE:
    case NAPPE_FIELD_REFERENCE:
      return make_drop_down (self);
    case NAPPE_FIELD_NUMBER:
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_TEXT:
    default:
      return make_entry (self);
    }
}

static char *
present_text (NappeFieldRow *self)
{
  return self->field != NULL ? nappe_field_text (self->part, self->field, self->units)
                             : g_strdup (nappe_part_get_name (self->part));
}

static void
refresh_entry (NappeFieldRow *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->editor));

  if (self->shown != NULL && strcmp (text, self->shown) != 0)
    return;
  g_free (self->shown);
  self->shown = present_text (self);
  if (strcmp (text, self->shown) != 0)
    gtk_editable_set_text (GTK_EDITABLE (self->editor), self->shown);
  show_error (self, NULL);
}

static void
refresh_drop_down (NappeFieldRow *self)
{
  g_auto (GValue) value = G_VALUE_INIT;
  guint selected = GTK_INVALID_LIST_POSITION;

  nappe_part_read (self->part, self->field, &value);
  if (self->field->type == NAPPE_FIELD_CHOICE)
    selected = (guint) g_value_get_int (&value);
  else
    for (guint i = 0; self->values[i] != NULL; i++)
      if (strcmp (self->values[i], g_value_get_string (&value)) == 0)
        selected = i;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->editor), selected);
}

/* A field that means nothing for what the part is now is not shown. */
static gboolean
is_used (NappeFieldRow *self)
{
  const NappeField *field = self->field, *item = nappe_part_find_field (self->part, "item");
  const char *id = item != NULL ? nappe_part_text (self->part, item) : NULL;

  return field == NULL
         || nappe_field_is_used (field, self->part, self->catalogue != NULL ? nappe_catalogue_find (self->catalogue, id) : NULL);
}

static gboolean
is_own (NappeFieldRow *self)
{
  return nappe_is_given (nappe_part_number (self->part, self->field));
}

void
nappe_field_row_refresh (NappeFieldRow *self)
{
  self->refreshing = TRUE;
  gtk_widget_set_visible (GTK_WIDGET (self), is_used (self));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "field.reset", self->reset != NULL && is_own (self));
  if (GTK_IS_ENTRY (self->editor))
    {
      refresh_entry (self);
    }
  else if (GTK_IS_DROP_DOWN (self->editor))
    {
      refresh_drop_down (self);
    }
  else
    {
      g_autofree char *text = present_text (self);
      g_auto (GValue) value = G_VALUE_INIT;

      nappe_part_read (self->part, self->field, &value);
      if (GTK_IS_SWITCH (self->editor))
        gtk_switch_set_active (GTK_SWITCH (self->editor), g_value_get_boolean (&value));
      else
        gtk_label_set_text (GTK_LABEL (self->editor), *text != '\0' ? text : _("none"));
    }
  self->refreshing = FALSE;
}

gboolean
nappe_field_row_has_error (NappeFieldRow *self)
{
  return gtk_widget_get_visible (self->message);
}

static void
nappe_field_row_dispose (GObject *object)
{
  NappeFieldRow *self = NAPPE_FIELD_ROW (object);

  /* An editor that loses the focus while it goes must not write to the build. */
  self->refreshing = TRUE;
  G_OBJECT_CLASS (nappe_field_row_parent_class)->dispose (object);
}

static void
nappe_field_row_finalize (GObject *object)
{
  NappeFieldRow *self = NAPPE_FIELD_ROW (object);

  g_clear_object (&self->part);
  g_clear_object (&self->build);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_strfreev (self->values);
  g_free (self->shown);
  g_free (self->brought_field);
  g_free (self->brought_text);
  G_OBJECT_CLASS (nappe_field_row_parent_class)->finalize (object);
}

static void
apply_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeFieldRow *self = NAPPE_FIELD_ROW (widget);

  if (GTK_IS_ENTRY (self->editor))
    entry_committed (self);
}

static void
reset_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeFieldRow *self = NAPPE_FIELD_ROW (widget);
  g_auto (GValue) value = G_VALUE_INIT;

  /* What is being typed goes, too. */
  gtk_editable_set_text (GTK_EDITABLE (self->editor), self->shown);
  g_value_init (&value, G_TYPE_DOUBLE);
  g_value_set_double (&value, NAN);
  set_value (self, &value);
}

static void
nappe_field_row_class_init (NappeFieldRowClass *klass)
{
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "field.reset", NULL, reset_action);
  /* For assistive technology, which can type into an entry but not press Return in it. */
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "field.apply", NULL, apply_action);
  G_OBJECT_CLASS (klass)->dispose = nappe_field_row_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_field_row_finalize;
}

static void
nappe_field_row_init (NappeFieldRow *self)
{
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE);
  gtk_list_box_row_set_selectable (GTK_LIST_BOX_ROW (self), FALSE);
  gtk_widget_set_focusable (GTK_WIDGET (self), FALSE);
}

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

static gboolean
has_long_choice (const NappeField *field)
{
  for (const NappeChoice *choice = field->choices; choice != NULL && choice->nick != NULL; choice++)
    if (g_utf8_strlen (_(choice->label), -1) > LONG_CHOICE)
      return TRUE;
  return FALSE;
}

/* Texts, long choices and names of parts and items stand below their label, where they have the whole width. */
static gboolean
needs_width (const NappeField *field)
{
  return field == NULL || field->type == NAPPE_FIELD_TEXT || field->type == NAPPE_FIELD_REFERENCE
         || field->type == NAPPE_FIELD_ITEM || has_long_choice (field);
}

GtkWidget *
nappe_field_row_new (NappeBuild *build, NappePart *part, const NappeField *field, NappeCatalogue *catalogue,
                     NappeUnitSystem units)
{
  NappeFieldRow *self = g_object_new (NAPPE_TYPE_FIELD_ROW, NULL);
  GtkWidget *outer = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gboolean wide = needs_width (field);
  GtkWidget *line = wide ? gtk_box_new (GTK_ORIENTATION_VERTICAL, 4) : gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  const char *text = field != NULL ? _(field->label) : _("Name");
  GtkWidget *label = make_label (text);

  self->build = g_object_ref (build);
  self->part = g_object_ref (part);
  self->field = field;
  self->catalogue = catalogue != NULL ? nappe_catalogue_ref (catalogue) : NULL;
  self->units = units;
  self->line = line;
  self->message = make_label (NULL);
  self->editor = make_editor (self);
  gtk_widget_set_valign (self->editor, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (outer, "field");
  gtk_widget_add_css_class (self->message, "error");
  gtk_widget_add_css_class (self->message, "caption");
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), self->editor);
  gtk_box_append (GTK_BOX (outer), line);
  gtk_box_append (GTK_BOX (outer), self->message);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), outer);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_RELATION_DESCRIBED_BY, self->message,
                                  NULL, -1);
  gtk_widget_set_visible (self->message, FALSE);
  nappe_field_row_refresh (self);
  return GTK_WIDGET (self);
}

void
nappe_field_row_bring (NappeFieldRow *self, const char *field, const char *text)
{
  g_free (self->brought_field);
  g_free (self->brought_text);
  self->brought_field = g_strdup (field);
  self->brought_text = g_strdup (text);
}

void
nappe_field_row_explain (NappeFieldRow *self, const char *usual, const char *reason)
{
  GtkWidget *note = make_label (reason);

  gtk_entry_set_placeholder_text (GTK_ENTRY (self->editor), usual);
  self->reset = gtk_button_new_from_icon_name ("edit-clear-symbolic");
  gtk_widget_set_valign (self->reset, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (self->reset, "flat");
  gtk_widget_set_tooltip_text (self->reset, _("Back to the usual value"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->reset), "field.reset");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->reset), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Back to the usual value"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->editor), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, reason, -1);
  gtk_box_append (GTK_BOX (self->line), self->reset);
  gtk_widget_add_css_class (note, "caption");
  gtk_widget_add_css_class (note, "dim-label");
  gtk_box_append (GTK_BOX (gtk_widget_get_parent (self->line)), note);
  nappe_field_row_refresh (self);
}
