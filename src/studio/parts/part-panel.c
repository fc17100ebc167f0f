/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/part-panel.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "studio/parts/field-row.h"
#include "studio/parts/number-row.h"
#include "studio/parts/run-list.h"

struct _NappePartPanel
{
  GtkWidget parent_instance;
  NappeDocument *document;
  char *id; /* NULL: the whole build */
  NappeUnitSystem units;
  char *currency;          /* of prices that are typed; never NULL */
  NappeCatalogue *catalogue; /* that the rows were made with, not owned */
  NappePart *shown;          /* that the rows stand for; NULL: none */
  NappeRunList *run;
  GtkWidget *run_place, *content, *scroller, *name, *kind, *numbers, *fields, *relatives, *numbers_title, *fields_title,
      *relatives_title, *pumps;
};

G_DEFINE_FINAL_TYPE (NappePartPanel, nappe_part_panel, GTK_TYPE_WIDGET)

static guint picked_signal;

static void
empty_list (GtkWidget *list)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list), child);
}

/* Hides a list that is empty, and its title with it. */
static void
show_if_filled (GtkWidget *list, GtkWidget *title)
{
  gboolean filled = gtk_widget_get_first_child (list) != NULL;

  gtk_widget_set_visible (list, filled);
  gtk_widget_set_visible (title, filled);
}

/* Whether a key is among the numbers from an index on. */
static gboolean
key_follows (const GPtrArray *numbers, guint from, const char *key)
{
  for (guint i = from; i < numbers->len; i++)
    if (g_str_equal (((const NappePartNumber *) g_ptr_array_index (numbers, i))->key, key))
      return TRUE;
  return FALSE;
}

/* Makes the rows those of the numbers. A row whose number is still there stays and shows its new value. */
static void
show_numbers (NappePartPanel *self, const GPtrArray *numbers)
{
  for (guint i = 0; i < numbers->len; i++)
    {
      const NappePartNumber *number = g_ptr_array_index (numbers, i);
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->numbers), (int) i);

      while (row != NULL && !key_follows (numbers, i, nappe_number_row_get_key (NAPPE_NUMBER_ROW (row))))
        {
          gtk_list_box_remove (GTK_LIST_BOX (self->numbers), GTK_WIDGET (row));
          row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->numbers), (int) i);
        }
      if (row != NULL && g_str_equal (nappe_number_row_get_key (NAPPE_NUMBER_ROW (row)), number->key))
        nappe_number_row_show (NAPPE_NUMBER_ROW (row), number);
      else
        gtk_list_box_insert (GTK_LIST_BOX (self->numbers), nappe_number_row_new (number), (int) i);
    }
  for (GtkListBoxRow *row; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->numbers), (int) numbers->len)) != NULL;)
    gtk_list_box_remove (GTK_LIST_BOX (self->numbers), GTK_WIDGET (row));
}

/* Rows of the same part stay, with what is open in them and the keyboard's focus. */
static void
fill_numbers (NappePartPanel *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  if (outcome != NULL)
    {
      g_autoptr (GPtrArray) numbers = nappe_part_numbers (outcome, self->id);

      show_numbers (self, numbers);
    }
  else
    {
      empty_list (self->numbers);
    }
  show_if_filled (self->numbers, self->numbers_title);
}

static void
fill_fields (NappePartPanel *self, NappePart *part)
{
  NappeBuild *build = nappe_document_get_build (self->document);
  NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  empty_list (self->fields);
  self->catalogue = nappe_document_get_catalogue (self->document);
  if (!NAPPE_IS_BUILD (part))
    gtk_list_box_append (GTK_LIST_BOX (self->fields),
                         nappe_field_row_new (build, part, NULL, self->catalogue, self->units));
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      GtkWidget *row = nappe_field_row_new (build, part, &klass->fields[i], self->catalogue, self->units);

      if (g_str_equal (klass->fields[i].name, "electricity_price"))
        nappe_field_row_bring (NAPPE_FIELD_ROW (row), "currency", self->currency);
      gtk_list_box_append (GTK_LIST_BOX (self->fields), row);
    }
  show_if_filled (self->fields, self->fields_title);
}

static void
refresh_fields (NappePartPanel *self)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->fields); row != NULL; row = gtk_widget_get_next_sibling (row))
    nappe_field_row_refresh (NAPPE_FIELD_ROW (row));
}

static void
add_relative (NappePartPanel *self, NappePart *part, const char *relation)
{
  GtkWidget *row = adw_action_row_new (), *arrow = gtk_image_new_from_icon_name ("go-next-symbolic");

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), nappe_part_display_name (part));
  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (row), FALSE);
  adw_action_row_set_subtitle (ADW_ACTION_ROW (row), relation);
  adw_action_row_add_suffix (ADW_ACTION_ROW (row), arrow);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), TRUE);
  g_object_set_data_full (G_OBJECT (row), "part",
                          NAPPE_IS_BUILD (part) ? NULL : g_strdup (nappe_part_get_id (part)), g_free);
  gtk_list_box_append (GTK_LIST_BOX (self->relatives), row);
}

static void
fill_relatives (NappePartPanel *self, NappePart *part)
{
  NappePartClass *klass = NAPPE_PART_GET_CLASS (part);
  NappePart *owner = nappe_part_get_owner (part);

  empty_list (self->relatives);
  if (owner != NULL)
    add_relative (self, owner, _("Belongs to"));
  for (gsize i = 0; i < klass->n_slots; i++)
    {
      const NappeSlot *slot = &klass->slots[i];

      if (slot->single)
        {
          add_relative (self, nappe_part_single (part, slot), NULL);
        }
      /* The pieces of a run have a list of their own. */
      else if (slot->type () != NAPPE_TYPE_PIECE)
        {
          GPtrArray *list = nappe_part_list (part, slot);

          for (guint k = 0; k < list->len; k++)
            add_relative (self, g_ptr_array_index (list, k), NULL);
        }
    }
  show_if_filled (self->relatives, self->relatives_title);
}

static NappePart *
present_part (NappePartPanel *self)
{
  NappeBuild *build = nappe_document_get_build (self->document);
  NappePart *part = build != NULL && self->id != NULL ? nappe_build_find (build, self->id) : NULL;

  return part != NULL || build == NULL ? part : NAPPE_PART (build);
}

static void
show_name (NappePartPanel *self, NappePart *part)
{
  const char *name = NAPPE_IS_BUILD (part) ? NAPPE_BUILD (part)->title : nappe_part_display_name (part);
  const char *kind = _(NAPPE_PART_GET_CLASS (part)->label);

  gtk_label_set_text (GTK_LABEL (self->name), *name != '\0' ? name : kind);
  gtk_label_set_text (GTK_LABEL (self->kind), kind);
  gtk_widget_set_visible (self->pumps, NAPPE_IS_PUMP (part));
  gtk_widget_set_visible (self->kind, g_strcmp0 (name, kind) != 0 && *name != '\0');
}

/* Makes all rows anew. */
static void
rebuild (NappePartPanel *self)
{
  NappePart *part = present_part (self);

  g_set_object (&self->shown, part);
  gtk_widget_set_visible (self->content, part != NULL);
  nappe_run_list_set_part (self->run, part, self->units);
  if (part == NULL)
    {
      empty_list (self->fields);
      return;
    }
  show_name (self, part);
  empty_list (self->numbers);
  fill_numbers (self);
  fill_fields (self, part);
  fill_relatives (self, part);
}

/* The build changed: rows stay, what they show follows. */
static void
build_changed (NappePartPanel *self)
{
  NappePart *part = present_part (self);

  if (part != self->shown || part == NULL)
    {
      rebuild (self);
      return;
    }
  show_name (self, part);
  refresh_fields (self);
  nappe_run_list_refresh (self->run);
  fill_relatives (self, part);
}

static void
computed (NappePartPanel *self)
{
  /* Items can be chosen from lists once the catalogue is there. */
  if (self->catalogue != nappe_document_get_catalogue (self->document) || self->shown == NULL)
    rebuild (self);
  else
    {
      fill_numbers (self);
      nappe_run_list_refresh (self->run);
    }
}

static void
number_activated (GtkListBox *list, GtkListBoxRow *row, NappePartPanel *self)
{
  nappe_number_row_set_open (NAPPE_NUMBER_ROW (row), !nappe_number_row_get_open (NAPPE_NUMBER_ROW (row)));
}

static void
relative_activated (GtkListBox *list, GtkListBoxRow *row, NappePartPanel *self)
{
  g_autofree char *part = g_strdup (g_object_get_data (G_OBJECT (row), "part"));

  g_signal_emit (self, picked_signal, 0, part);
}

static void
nappe_part_panel_dispose (GObject *object)
{
  NappePartPanel *self = NAPPE_PART_PANEL (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_PART_PANEL);
  g_clear_object (&self->document);
  g_clear_object (&self->shown);
  g_clear_pointer (&self->id, g_free);
  g_clear_pointer (&self->currency, g_free);
  G_OBJECT_CLASS (nappe_part_panel_parent_class)->dispose (object);
}

static void
nappe_part_panel_class_init (NappePartPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_part_panel_dispose;
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/part-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, scroller);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, content);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, name);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, kind);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, pumps);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, numbers);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, numbers_title);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, fields);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, fields_title);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, run_place);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, relatives);
  gtk_widget_class_bind_template_child (widget_class, NappePartPanel, relatives_title);
  gtk_widget_class_bind_template_callback (widget_class, number_activated);
  gtk_widget_class_bind_template_callback (widget_class, relative_activated);
}

static void
nappe_part_panel_init (NappePartPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->currency = g_strdup ("");
}

GtkWidget *
nappe_part_panel_new (NappeDocument *document)
{
  NappePartPanel *self = g_object_new (NAPPE_TYPE_PART_PANEL, NULL);

  self->document = g_object_ref (document);
  self->run = NAPPE_RUN_LIST (nappe_run_list_new (document));
  gtk_box_append (GTK_BOX (self->run_place), GTK_WIDGET (self->run));
  g_signal_connect_swapped (document, "replaced", G_CALLBACK (rebuild), self);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (build_changed), self);
  g_signal_connect_swapped (document, "computed", G_CALLBACK (computed), self);
  g_signal_connect_swapped (document, "refined", G_CALLBACK (fill_numbers), self);
  rebuild (self);
  return GTK_WIDGET (self);
}

void
nappe_part_panel_set_part (NappePartPanel *self, const char *part)
{
  if (g_strcmp0 (self->id, part) == 0)
    return;
  g_free (self->id);
  self->id = g_strdup (part);
  rebuild (self);
}

void
nappe_part_panel_set_units (NappePartPanel *self, NappeUnitSystem units)
{
  if (self->units == units)
    return;
  self->units = units;
  rebuild (self);
}

void
nappe_part_panel_set_currency (NappePartPanel *self, const char *currency)
{
  g_free (self->currency);
  self->currency = g_strdup (currency);
  rebuild (self);
}
