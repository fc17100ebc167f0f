/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/line-size-row.h"

#include <glib/gi18n-lib.h>

#include "assembly/assembly.h"
#include "studio/parts/choice-labels.h"

struct _NappeLineSizeRow
{
  GtkListBoxRow parent_instance;
  NappeDocument *document;
  NappePart *part;
  NappeCatalogue *catalogue; /* whose items these are */
  const NappeItem *pipe; /* that the line had when it was last looked at */
  GPtrArray *items; /* const NappeItem *, as in the list */
  GtkWidget *choice, *reason;
  gboolean refreshing; /* the list is being set, not used */
};

G_DEFINE_FINAL_TYPE (NappeLineSizeRow, nappe_line_size_row, GTK_TYPE_LIST_BOX_ROW)

static void
show_reason (NappeLineSizeRow *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->reason), text);
  gtk_widget_set_visible (self->reason, *text != '\0');
}

static void
chosen (NappeLineSizeRow *self)
{
  guint index = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));
  g_autoptr (GError) error = NULL;

  /* Word of a list that was set back may come late. */
  if (self->refreshing || index >= self->items->len || self->items->pdata[index] == self->pipe)
    return;
  g_object_ref (self);
  const NappeItem *item = self->items->pdata[index];
  gboolean done
      = nappe_assembly_resize_line (nappe_document_get_build (self->document),
                                    nappe_document_get_catalogue (self->document), self->part, item->id, &error);
  nappe_line_size_row_refresh (self);
  show_reason (self, done ? "" : error->message);
  g_object_unref (self);
}

void
nappe_line_size_row_refresh (NappeLineSizeRow *self)
{
  const NappeItem *pipe = nappe_assembly_line_pipe (nappe_document_get_catalogue (self->document), self->part);
  guint index = GTK_INVALID_LIST_POSITION;

  self->refreshing = TRUE;
  if (pipe == NULL || !g_ptr_array_find (self->items, pipe, &index))
    index = GTK_INVALID_LIST_POSITION;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), index);
  gtk_widget_set_visible (GTK_WIDGET (self), pipe != NULL);
  if (pipe != self->pipe)
    show_reason (self, "");
  self->pipe = pipe;
  self->refreshing = FALSE;
}

void
nappe_line_size_row_choose (NappeLineSizeRow *self, const char *pipe)
{
  for (guint i = 0; i < self->items->len; i++)
    if (g_str_equal (((const NappeItem *) self->items->pdata[i])->id, pipe))
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), i);
}

const char *
nappe_line_size_row_get_reason (NappeLineSizeRow *self)
{
  return gtk_label_get_text (GTK_LABEL (self->reason));
}

static void
nappe_line_size_row_dispose (GObject *object)
{
  NappeLineSizeRow *self = NAPPE_LINE_SIZE_ROW (object);

  self->refreshing = TRUE;
  g_clear_object (&self->document);
  g_clear_object (&self->part);
  G_OBJECT_CLASS (nappe_line_size_row_parent_class)->dispose (object);
}

static void
nappe_line_size_row_finalize (GObject *object)
{
  NappeLineSizeRow *self = NAPPE_LINE_SIZE_ROW (object);

  g_ptr_array_unref (self->items);
  nappe_catalogue_unref (self->catalogue);
  G_OBJECT_CLASS (nappe_line_size_row_parent_class)->finalize (object);
}

static void
nappe_line_size_row_class_init (NappeLineSizeRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = nappe_line_size_row_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_line_size_row_finalize;
}

static GtkWidget *
new_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  return label;
}

static void
nappe_line_size_row_init (NappeLineSizeRow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  self->items = g_ptr_array_new ();
  self->choice = gtk_drop_down_new (NULL, gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));
  nappe_choice_labels_fit (GTK_DROP_DOWN (self->choice));
  self->reason = new_label (NULL);
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (self->choice), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Pipe of the whole line"), -1);
  gtk_widget_add_css_class (box, "field");
  gtk_widget_set_visible (self->reason, FALSE);
  gtk_widget_add_css_class (self->reason, "error");
  gtk_widget_add_css_class (self->reason, "caption");
  gtk_box_append (GTK_BOX (box), new_label (_("Pipe of the whole line")));
  gtk_box_append (GTK_BOX (box), self->choice);
  gtk_box_append (GTK_BOX (box), self->reason);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE);
  gtk_widget_set_focusable (GTK_WIDGET (self), FALSE);
}

static void
fill (NappeLineSizeRow *self, NappeUnitSystem units)
{
  const NappeItemKind kinds[] = { NAPPE_ITEM_PIPE, NAPPE_ITEM_HOSE };
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);

  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (self->catalogue, kinds[k]);
      for (guint i = 0; i < items->len; i++)
        {
          g_autofree char *label = nappe_item_full_label (items->pdata[i], units);
          gtk_string_list_append (labels, label);
          g_ptr_array_add (self->items, items->pdata[i]);
        }
    }
  self->refreshing = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->choice), G_LIST_MODEL (labels));
  self->refreshing = FALSE;
}

GtkWidget *
nappe_line_size_row_new (NappeDocument *document, NappePart *part, NappeUnitSystem units)
{
  NappeLineSizeRow *self = g_object_new (NAPPE_TYPE_LINE_SIZE_ROW, NULL);

  self->document = g_object_ref (document);
  self->part = g_object_ref (part);
  self->catalogue = nappe_catalogue_ref (nappe_document_get_catalogue (document));
  fill (self, units);
  nappe_line_size_row_refresh (self);
  g_signal_connect_swapped (self->choice, "notify::selected", G_CALLBACK (chosen), self);
  return GTK_WIDGET (self);
}
