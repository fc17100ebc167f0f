/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/run-list.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "assembly/assembly.h"
#include "studio/parts/line-size-row.h"
#include "studio/parts/run-row.h"
#include "study/head-ledger.h"

struct _NappeRunList
{
  GtkWidget parent_instance;
  NappeDocument *document;
  NappePart *part; /* whose run it is; NULL: none */
  NappeUnitSystem units;
  GtkWidget *box, *title, *summary, *size, *list; /* size: a list with the one row of the whole line */
};

G_DEFINE_FINAL_TYPE (NappeRunList, nappe_run_list, GTK_TYPE_WIDGET)

static GPtrArray *
run_of (NappePart *part)
{
  const NappeSlot *slot = part != NULL ? nappe_part_find_slot (part, "run") : NULL;

  return slot != NULL ? nappe_part_list (part, slot) : NULL;
}

/* ---- the list ---- */

/* The head lost in each piece of the run, in order; NaN where it is not known. Transfer full. */
static double *
lost_heads (NappeRunList *self, GPtrArray *run)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  NappePart *line = nappe_assembly_line_of (self->part);
  double *lost = g_new (double, run->len + 1);
  g_autoptr (NappeHeadLedger) ledger = NULL;

  if (outcome != NULL && line != NULL && nappe_outcome_find (outcome, nappe_part_get_id (line)) != NULL)
    ledger = nappe_head_ledger_new (outcome->study, &outcome->study->running, nappe_part_get_id (line));
  for (guint i = 0; i < run->len; i++)
    {
      const char *id = nappe_part_get_id (run->pdata[i]);
      lost[i] = NAN;
      for (guint k = 0; ledger != NULL && k < ledger->n; k++)
        if (g_str_equal (ledger->lines[k].piece, id))
          lost[i] = (nappe_is_given (lost[i]) ? lost[i] : 0) + ledger->lines[k].head;
    }
  return lost;
}

static void
show_summary (NappeRunList *self, GPtrArray *run, const double *lost)
{
  double length = 0, head = 0;
  gboolean known = FALSE;

  for (guint i = 0; i < run->len; i++)
    {
      length += NAPPE_PIECE (run->pdata[i])->length;
      head += nappe_is_given (lost[i]) ? lost[i] : 0;
      known = known || nappe_is_given (lost[i]);
    }
  g_autofree char *pipe = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, length, self->units, 0);
  g_autofree char *count = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u piece", "%u pieces", run->len), run->len);
  g_autofree char *height = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, head, self->units, 0);
  /* Translators: “9 pieces”, the length of all pipes together, and the head lost in all pieces. */
  g_autofree char *text = known ? g_strdup_printf (_("%s, %s of pipe, %s of head lost"), count, pipe, height)
                                : g_strdup_printf (_("%s, %s of pipe"), count, pipe);
  gtk_label_set_text (GTK_LABEL (self->summary), text);
}

/* The row for the whole line, made anew for another line. */
static void
show_size (NappeRunList *self)
{
  GtkWidget *row = gtk_widget_get_first_child (self->size);

  if (row == NULL)
    {
      row = nappe_line_size_row_new (self->document, self->part, self->units);
      gtk_list_box_append (GTK_LIST_BOX (self->size), row);
    }
  nappe_line_size_row_refresh (NAPPE_LINE_SIZE_ROW (row));
  /* Without a row it would be a bare line. */
  gtk_widget_set_visible (self->size, gtk_widget_get_visible (row));
}

/* Makes the rows those of the run; a row of a piece that is still at its place stays, open or not. */
void
nappe_run_list_refresh (NappeRunList *self)
{
  GPtrArray *run = run_of (self->part);

  gtk_widget_set_visible (GTK_WIDGET (self), run != NULL);
  gtk_widget_set_visible (self->list, run != NULL && run->len > 0);
  for (guint i = 0; run != NULL && i < run->len; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) i);
      if (row != NULL && nappe_run_row_get_piece (NAPPE_RUN_ROW (row)) == run->pdata[i])
        continue;
      gtk_list_box_insert (GTK_LIST_BOX (self->list), nappe_run_row_new (self->document, run->pdata[i], self->units), (int) i);
      if (row != NULL && !g_ptr_array_find (run, nappe_run_row_get_piece (NAPPE_RUN_ROW (row)), NULL))
        gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
    }
  for (GtkListBoxRow *row;
       (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), run != NULL ? (int) run->len : 0)) != NULL;)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  if (run == NULL || nappe_document_get_catalogue (self->document) == NULL)
    return;
  g_autofree double *lost = lost_heads (self, run);
  for (guint i = 0; i < run->len; i++)
    nappe_run_row_refresh (NAPPE_RUN_ROW (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) i)), lost[i]);
  show_size (self);
  show_summary (self, run, lost);
}

static NappePart *
piece_named (NappeRunList *self, GVariant *parameter)
{
  NappePart *piece = self->part != NULL ? nappe_part_find (self->part, g_variant_get_string (parameter, NULL)) : NULL;

  return piece != NULL && NAPPE_IS_PIECE (piece) ? piece : NULL;
}

static void
move_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeRunList *self = NAPPE_RUN_LIST (widget);
  NappePart *piece = piece_named (self, parameter);
  guint index;

  if (piece == NULL)
    return;
  nappe_part_place (piece, &index);
  if (g_str_equal (name, "run.down"))
    index++;
  else if (index > 0)
    index--;
  /* Past the end it stays the last one. */
  nappe_build_move (nappe_document_get_build (self->document), piece, index, NULL);
}

static void
remove_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeRunList *self = NAPPE_RUN_LIST (widget);
  NappePart *piece = piece_named (self, parameter);
  g_autoptr (GError) error = NULL;

  if (piece != NULL
      && !nappe_assembly_remove (nappe_document_get_build (self->document), nappe_document_get_catalogue (self->document), piece,
                                 &error))
    gtk_label_set_text (GTK_LABEL (self->summary), error->message);
}

static void
nappe_run_list_dispose (GObject *object)
{
  NappeRunList *self = NAPPE_RUN_LIST (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->document);
  g_clear_object (&self->part);
  G_OBJECT_CLASS (nappe_run_list_parent_class)->dispose (object);
}

static void
nappe_run_list_class_init (NappeRunListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_run_list_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_install_action (widget_class, "run.up", "s", move_action);
  gtk_widget_class_install_action (widget_class, "run.down", "s", move_action);
  gtk_widget_class_install_action (widget_class, "run.remove", "s", remove_action);
}

static GtkWidget *
new_label (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, style);
  return label;
}

static void
nappe_run_list_init (NappeRunList *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->title = new_label (_("Pieces of the line"), "heading");
  self->summary = new_label ("", "dim-label");
  self->size = gtk_list_box_new ();
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->size), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->size, "boxed-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->size), GTK_ACCESSIBLE_PROPERTY_LABEL, _("The whole line"), -1);
  gtk_widget_set_margin_top (self->title, 12);
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->list, "boxed-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Pieces of the line"), -1);
  gtk_box_append (GTK_BOX (self->box), self->title);
  gtk_box_append (GTK_BOX (self->box), self->summary);
  gtk_box_append (GTK_BOX (self->box), self->size);
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
nappe_run_list_new (NappeDocument *document)
{
  NappeRunList *self = g_object_new (NAPPE_TYPE_RUN_LIST, "visible", FALSE, NULL);

  self->document = g_object_ref (document);
  return GTK_WIDGET (self);
}

void
nappe_run_list_set_part (NappeRunList *self, NappePart *part, NappeUnitSystem units)
{
  GtkWidget *row;

  /* Rows of another line, or of other units, are made anew. */
  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  if ((row = gtk_widget_get_first_child (self->size)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->size), row);
  self->units = units;
  g_set_object (&self->part, part);
  nappe_run_list_refresh (self);
}

const char *
nappe_run_list_get_summary (NappeRunList *self)
{
  return gtk_label_get_text (GTK_LABEL (self->summary));
}
