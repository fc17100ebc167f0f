/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/run-row.h"

#include <glib/gi18n-lib.h>

#include "build/field-use.h"
#include "studio/parts/field-row.h"

struct _NappeRunRow
{
  AdwExpanderRow parent_instance;
  NappeDocument *document;
  NappePart *piece;
  NappeUnitSystem units;
  GPtrArray *fields;  /* NappeFieldRow, not owned; empty until it is opened */
};

G_DEFINE_FINAL_TYPE (NappeRunRow, nappe_run_row, ADW_TYPE_EXPANDER_ROW)

static void
nappe_run_row_dispose (GObject *object)
{
  NappeRunRow *self = NAPPE_RUN_ROW (object);

  g_clear_object (&self->document);
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

/* The rows of its fields are made when it is first opened: most never are. */
static void
row_opened (NappeRunRow *self)
{
  NappePartClass *klass = NAPPE_PART_GET_CLASS (self->piece);

  if (!adw_expander_row_get_expanded (ADW_EXPANDER_ROW (self)) || self->fields->len > 0)
    return;
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      GtkWidget *row = nappe_field_row_new (nappe_document_get_build (self->document), self->piece, &klass->fields[i],
                                            nappe_document_get_catalogue (self->document), self->units);
      adw_expander_row_add_row (ADW_EXPANDER_ROW (self), row);
      g_ptr_array_add (self->fields, row);
    }
}

static void
append (GMenu *menu, const char *label, const char *action, const char *piece)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);

  g_menu_item_set_action_and_target (item, action, "s", piece);
  g_menu_append_item (menu, item);
}

/* One button for all that can be done with it: four would leave no room for its name. */
static void
add_menu (NappeRunRow *self)
{
  GtkWidget *button = gtk_menu_button_new ();
  g_autoptr (GMenu) menu = g_menu_new ();
  const char *piece = nappe_part_get_id (self->piece);

  append (menu, _("Move Up"), "run.up", piece);
  append (menu, _("Move Down"), "run.down", piece);
  append (menu, _("Add a Piece Here…"), "win.add-at", piece);
  append (menu, _("Take Out"), "run.remove", piece);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "view-more-symbolic");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, _("Change the order of pieces"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Change the order of pieces"), -1);
  adw_expander_row_add_action (ADW_EXPANDER_ROW (self), button);
}

GtkWidget *
nappe_run_row_new (NappeDocument *document, NappePart *piece, NappeUnitSystem units)
{
  NappeRunRow *self = g_object_new (NAPPE_TYPE_RUN_ROW, NULL);

  self->document = g_object_ref (document);
  self->piece = g_object_ref (piece);
  self->units = units;
  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (self), FALSE);
  add_menu (self);
  g_signal_connect (self, "notify::expanded", G_CALLBACK (row_opened), NULL);
  return GTK_WIDGET (self);
}

NappePart *
nappe_run_row_get_piece (NappeRunRow *self)
{
  return self->piece;
}

static void
append_detail (GString *text, const char *detail)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", detail);
}

/* "410 mm, down · 12 mm of head lost" */
static char *
detail_of (const NappeRunRow *self, const NappeItem *item, double lost)
{
  GString *text = g_string_new (NULL);
  const NappePiece *piece = NAPPE_PIECE (self->piece);
  const NappeField *toward = nappe_part_find_field (self->piece, "toward");
  g_autofree char *length = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, piece->length, self->units, 0);
  g_autofree char *head = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, lost, self->units, 0);
  g_autofree char *opening = nappe_quantity_format (NAPPE_QUANTITY_SHARE, piece->opening, self->units, 0);
  /* Translators: length and direction of a pipe: “410 mm, down”. */
  g_autofree char *way = g_strdup_printf (_("%s, %s"), length, _(toward->choices[piece->toward].label));
  g_autofree char *number = g_strdup_printf ("%d ×", piece->count);
  /* Translators: %s is how far a valve is open, in percent. */
  g_autofree char *open = g_strdup_printf (_("%s open"), opening);
  /* Translators: %s is a height of water. */
  g_autofree char *loss = g_strdup_printf (_("%s of head lost"), head);

  if (piece->length > 0)
    append_detail (text, way);
  if (piece->count > 1)
    append_detail (text, number);
  if (item != NULL && nappe_field_is_used (nappe_part_find_field (self->piece, "opening"), self->piece, item))
    append_detail (text, open);
  if (nappe_is_given (lost))
    append_detail (text, loss);
  return g_string_free (text, FALSE);
}

void
nappe_run_row_refresh (NappeRunRow *self, double lost)
{
  const NappeItem *item = nappe_catalogue_find (nappe_document_get_catalogue (self->document), NAPPE_PIECE (self->piece)->item);
  g_autofree char *label = item != NULL ? nappe_item_label (item, self->units) : g_strdup (NAPPE_PIECE (self->piece)->item);
  g_autofree char *detail = detail_of (self, item, lost);
  const char *name = nappe_part_get_name (self->piece);
  /* Translators: the name of a piece, and what it is. */
  g_autofree char *title = *name != '\0' ? g_strdup_printf (_("%s: %s"), name, label) : g_steal_pointer (&label);

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (self), title);
  adw_expander_row_set_subtitle (ADW_EXPANDER_ROW (self), detail);
  for (guint i = 0; i < self->fields->len; i++)
    nappe_field_row_refresh (self->fields->pdata[i]);
}
