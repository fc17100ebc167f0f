/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/run-list.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "assembly/assembly.h"
#include "studio/parts/field-row.h"
#include "study/head-ledger.h"

struct _NappeRunList
{
  GtkWidget parent_instance;
  NappeDocument *document;
  NappePart *part; /* whose run it is; NULL: none */
  NappeUnitSystem units;
  GtkWidget *box, *title, *summary, *list;
};

G_DEFINE_FINAL_TYPE (NappeRunList, nappe_run_list, GTK_TYPE_WIDGET)

/* One piece. The rows of its fields are made when it is first opened. */
#define NAPPE_TYPE_RUN_ROW (nappe_run_row_get_type ())
G_DECLARE_FINAL_TYPE (NappeRunRow, nappe_run_row, NAPPE, RUN_ROW, AdwExpanderRow)
struct _NappeRunRow
{
  AdwExpanderRow parent_instance;
  NappeRunList *list; /* not owned */
  NappePart *piece;
  GPtrArray *fields;  /* NappeFieldRow, not owned; empty until it is opened */
};

G_DEFINE_FINAL_TYPE (NappeRunRow, nappe_run_row, ADW_TYPE_EXPANDER_ROW)

static GPtrArray *
run_of (NappePart *part)
{
  const NappeSlot *slot = part != NULL ? nappe_part_find_slot (part, "run") : NULL;

  return slot != NULL ? nappe_part_list (part, slot) : NULL;
}

/* ---- a row ---- */

static void
nappe_run_row_dispose (GObject *object)
{
  NappeRunRow *self = NAPPE_RUN_ROW (object);

  g_clear_object (&self->piece);
  g_clear_pointer (&self->fields, g_ptr_array_unref);
  G_OBJECT_CLASS (nappe_run_row_parent_class)->dispose (object);
}

static void
nappe_run_row_class_init (NappeRunRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = nappe_run_row_dispose;
}

static void
nappe_run_row_init (NappeRunRow *self)
{
  self->fields = g_ptr_array_new ();
}

static void
row_opened (NappeRunRow *self)
{
  const char *const fields[] = { "item", "length", "toward", "fall", "opening", "count" };
  NappeRunList *list = self->list;

  if (!adw_expander_row_get_expanded (ADW_EXPANDER_ROW (self)) || self->fields->len > 0)
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      GtkWidget *row = nappe_field_row_new (nappe_document_get_build (list->document), self->piece,
                                            nappe_part_find_field (self->piece, fields[i]),
                                            nappe_document_get_catalogue (list->document), list->units);
      adw_expander_row_add_row (ADW_EXPANDER_ROW (self), row);
      g_ptr_array_add (self->fields, row);
    }
}

static void
add_button (NappeRunRow *self, const char *icon, const char *action, const char *label)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", nappe_part_get_id (self->piece));
  adw_expander_row_add_action (ADW_EXPANDER_ROW (self), button);
}

static NappeRunRow *
new_row (NappeRunList *list, NappePart *piece)
{
  NappeRunRow *self = g_object_new (NAPPE_TYPE_RUN_ROW, NULL);

  self->list = list;
  self->piece = g_object_ref (piece);
  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (self), FALSE);
  add_button (self, "go-up-symbolic", "run.up", _("Move up"));
  add_button (self, "go-down-symbolic", "run.down", _("Move down"));
  add_button (self, "list-add-symbolic", "win.add-at", _("Add a piece here"));
  add_button (self, "user-trash-symbolic", "run.remove", _("Take out"));
  g_signal_connect (self, "notify::expanded", G_CALLBACK (row_opened), NULL);
  return self;
}

/* "410 mm down · 12 mm of head lost" */
static char *
detail_of (const NappeRunList *list, NappePart *piece, double lost)
{
  GString *text = g_string_new (NULL);
  const NappeField *toward = nappe_part_find_field (piece, "toward");
  g_autofree char *length = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, NAPPE_PIECE (piece)->length, list->units, 0);
  g_autofree char *head = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, lost, list->units, 0);

  if (NAPPE_PIECE (piece)->length > 0)
    /* Translators: length and direction of a pipe: “410 mm, down”. */
    g_string_append_printf (text, _("%s, %s"), length, _(toward->choices[NAPPE_PIECE (piece)->toward].label));
  if (NAPPE_PIECE (piece)->count > 1)
    g_string_append_printf (text, "%s%d ×", text->len > 0 ? " · " : "", NAPPE_PIECE (piece)->count);
  if (nappe_is_given (lost))
    {
      g_string_append (text, text->len > 0 ? " · " : "");
      /* Translators: %s is a height of water. */
      g_string_append_printf (text, _("%s of head lost"), head);
    }
  return g_string_free (text, FALSE);
}

static void
show_row (NappeRunList *self, NappeRunRow *row, double lost)
{
  const NappeItem *item = nappe_catalogue_find (nappe_document_get_catalogue (self->document), NAPPE_PIECE (row->piece)->item);
  g_autofree char *label = item != NULL ? nappe_item_label (item, self->units) : g_strdup (NAPPE_PIECE (row->piece)->item);
  g_autofree char *detail = detail_of (self, row->piece, lost);
  const char *name = nappe_part_get_name (row->piece);
  /* Translators: the name of a piece, and what it is. */
  g_autofree char *title = *name != '\0' ? g_strdup_printf (_("%s: %s"), name, label) : g_steal_pointer (&label);

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), title);
  adw_expander_row_set_subtitle (ADW_EXPANDER_ROW (row), detail);
  for (guint i = 0; i < row->fields->len; i++)
    nappe_field_row_refresh (row->fields->pdata[i]);
}

/* ---- the list ---- */

static NappePart *
line_around (NappePart *part)
{
  while (part != NULL && !NAPPE_IS_DRAIN (part) && !NAPPE_IS_RETURN_LINE (part))
    part = nappe_part_get_owner (part);
  return part;
}

/* The head lost in each piece of the run, in order; NaN where it is not known. Transfer full. */
static double *
lost_heads (NappeRunList *self, GPtrArray *run)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  NappePart *line = line_around (self->part);
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

/* Makes the rows those of the run; a row of a piece that is still at its place stays, open or not. */
void
nappe_run_list_refresh (NappeRunList *self)
{
  GPtrArray *run = run_of (self->part);

  gtk_widget_set_visible (GTK_WIDGET (self), run != NULL);
  for (guint i = 0; run != NULL && i < run->len; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) i);
      if (row != NULL && NAPPE_RUN_ROW (row)->piece == run->pdata[i])
        continue;
      gtk_list_box_insert (GTK_LIST_BOX (self->list), GTK_WIDGET (new_row (self, run->pdata[i])), (int) i);
      if (row != NULL && !g_ptr_array_find (run, NAPPE_RUN_ROW (row)->piece, NULL))
        gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
    }
  for (GtkListBoxRow *row;
       (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), run != NULL ? (int) run->len : 0)) != NULL;)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  if (run == NULL || nappe_document_get_catalogue (self->document) == NULL)
    return;
  g_autofree double *lost = lost_heads (self, run);
  for (guint i = 0; i < run->len; i++)
    show_row (self, NAPPE_RUN_ROW (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) i)), lost[i]);
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
  self->list = gtk_list_box_new ();
  gtk_widget_set_margin_top (self->title, 12);
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->list, "boxed-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Pieces of the line"), -1);
  gtk_box_append (GTK_BOX (self->box), self->title);
  gtk_box_append (GTK_BOX (self->box), self->summary);
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
  self->units = units;
  g_set_object (&self->part, part);
  nappe_run_list_refresh (self);
}

const char *
nappe_run_list_get_summary (NappeRunList *self)
{
  return gtk_label_get_text (GTK_LABEL (self->summary));
}
