/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/add-window.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "study/system-curve.h"

/* Rows that are made at a time: all at once would keep the window from being drawn. A list makes no more than some hundred, and
 * uses those again. */
#define PORTION 20u
#define ALL_ROWS 240u

struct _NappeAddWindow
{
  AdwWindow parent_instance;
  NappeDocument *document;
  char *at;      /* id of the picked part; NULL: none */
  GStrv words;   /* that are searched for, case-folded */
  NappeUnitSystem units;
  GListStore *store;             /* of NappeAddEntry */
  GtkSliceListModel *shown;      /* those that are wanted, as far as they are in the list yet */
  guint filling;                 /* source that shows more; 0: all is shown */
  GtkSingleSelection *selection; /* of them */
  GtkCustomFilter *filter;
  GtkWidget *search, *group, *list, *place, *reason, *source;
};

G_DEFINE_FINAL_TYPE (NappeAddWindow, nappe_add_window, ADW_TYPE_WINDOW)

static guint added_signal;

static gboolean
is_wanted (gpointer item, gpointer user_data)
{
  NappeAddWindow *self = user_data;
  guint group = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->group));

  if (group != NAPPE_ADD_ANY && group != nappe_add_entry_get_group (item))
    return FALSE;
  return self->words == NULL || nappe_add_entry_matches (item, (const char *const *) self->words);
}

static void
search_changed (NappeAddWindow *self)
{
  g_autofree char *text = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);

  g_strfreev (self->words);
  self->words = g_strsplit_set (text, " \t", -1);
  if (self->filter != NULL)
    gtk_filter_changed (GTK_FILTER (self->filter), GTK_FILTER_CHANGE_DIFFERENT);
}

static void
group_chosen (NappeAddWindow *self)
{
  if (self->filter != NULL)
    gtk_filter_changed (GTK_FILTER (self->filter), GTK_FILTER_CHANGE_DIFFERENT);
}

static NappePart *
picked (NappeAddWindow *self, NappeBuild *build)
{
  return self->at != NULL ? nappe_build_find (build, self->at) : NULL;
}

static void
show_reason (NappeAddWindow *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->reason), text);
  gtk_widget_set_visible (self->reason, *text != '\0');
}

static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeAddWindow *self = NAPPE_ADD_WINDOW (widget);
  NappeBuild *build = nappe_document_get_build (self->document);
  NappeAddEntry *entry = gtk_single_selection_get_selected_item (self->selection);
  g_autoptr (GError) error = NULL;
  NappePart *part;

  if (build == NULL || entry == NULL)
    return;
  part = nappe_add_entry_add (entry, build, nappe_document_get_catalogue (self->document), picked (self, build), &error);
  if (part == NULL)
    {
      show_reason (self, error->message);
      return;
    }
  g_signal_emit (self, added_signal, 0, nappe_part_get_id (part));
  gtk_window_close (GTK_WINDOW (self));
}

static void
row_activated (NappeAddWindow *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "add.add", NULL);
}

static void
selection_moved (NappeAddWindow *self)
{
  NappeAddEntry *entry = gtk_single_selection_get_selected_item (self->selection);
  const char *source = entry != NULL ? nappe_add_entry_get_source (entry) : "";
  /* Translators: %s is a source, such as a book or “common practice”. */
  g_autofree char *text = g_strdup_printf (_("Source: %s"), source);

  show_reason (self, "");
  gtk_label_set_text (GTK_LABEL (self->source), *source != '\0' ? text : "");
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "add.add", entry != NULL);
}

static void
close_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

/* ---- rows ---- */

static GtkWidget *
new_label (const char *style)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  if (style != NULL)
    {
      gtk_widget_add_css_class (label, "caption");
      gtk_widget_add_css_class (label, style);
    }
  return label;
}

static void
row_made (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_widget_set_margin_start (box, 12);
  gtk_widget_set_margin_end (box, 12);
  gtk_widget_set_margin_top (box, 6);
  gtk_widget_set_margin_bottom (box, 6);
  gtk_box_append (GTK_BOX (box), new_label (NULL));
  gtk_box_append (GTK_BOX (box), new_label ("dim-label"));
  gtk_list_item_set_child (item, box);
}

static void
row_filled (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *title = gtk_widget_get_first_child (gtk_list_item_get_child (item));
  NappeAddEntry *entry = gtk_list_item_get_item (item);

  gtk_label_set_text (GTK_LABEL (title), nappe_add_entry_get_title (entry));
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_next_sibling (title)), nappe_add_entry_get_detail (entry));
}

static void
nappe_add_window_dispose (GObject *object)
{
  NappeAddWindow *self = NAPPE_ADD_WINDOW (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  if (self->filter != NULL)
    gtk_custom_filter_set_filter_func (self->filter, NULL, NULL, NULL);
  g_clear_object (&self->document);
  g_clear_handle_id (&self->filling, g_source_remove);
  g_clear_object (&self->selection);
  g_clear_object (&self->shown);
  g_clear_object (&self->store);
  g_clear_object (&self->filter);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_ADD_WINDOW);
  G_OBJECT_CLASS (nappe_add_window_parent_class)->dispose (object);
}

static void
nappe_add_window_finalize (GObject *object)
{
  NappeAddWindow *self = NAPPE_ADD_WINDOW (object);

  g_free (self->at);
  g_strfreev (self->words);
  G_OBJECT_CLASS (nappe_add_window_parent_class)->finalize (object);
}

/* The search entry keeps the Escape that would close the window. */
static void
search_stopped (NappeAddWindow *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

static void
nappe_add_window_class_init (NappeAddWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_add_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_add_window_finalize;
  added_signal = g_signal_new ("added", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                               G_TYPE_STRING);
  gtk_widget_class_install_action (widget_class, "add.add", NULL, add_action);
  gtk_widget_class_install_action (widget_class, "add.close", NULL, close_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "add.close", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/add-window.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeAddWindow, search);
  gtk_widget_class_bind_template_child (widget_class, NappeAddWindow, group);
  gtk_widget_class_bind_template_child (widget_class, NappeAddWindow, list);
  gtk_widget_class_bind_template_child (widget_class, NappeAddWindow, place);
  gtk_widget_class_bind_template_child (widget_class, NappeAddWindow, reason);
  gtk_widget_class_bind_template_child (widget_class, NappeAddWindow, source);
  gtk_widget_class_bind_template_callback (widget_class, search_changed);
  gtk_widget_class_bind_template_callback (widget_class, search_stopped);
  gtk_widget_class_bind_template_callback (widget_class, group_chosen);
  gtk_widget_class_bind_template_callback (widget_class, row_activated);
}

static void
nappe_add_window_init (NappeAddWindow *self)
{
  g_autoptr (GtkStringList) groups = gtk_string_list_new (NULL);

  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint group = 0; group < NAPPE_ADD_GROUP_COUNT; group++)
    gtk_string_list_append (groups, nappe_add_group_label ((NappeAddGroup) group));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->group), G_LIST_MODEL (groups));
}

/* The greatest flow and head of all pumps of the catalogue: so far a system has to be known for each to meet it. */
static void
reach_of_pumps (NappeCatalogue *catalogue, double *flow, double *head)
{
  g_autoptr (GPtrArray) pumps = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_PUMP);

  *flow = *head = 0;
  for (guint i = 0; i < pumps->len; i++)
    {
      const NappeItem *item = pumps->pdata[i];
      *flow = fmax (*flow, item->curve_flow[item->n_curve - 1]);
      *head = fmax (*head, item->curve_head[0]);
    }
}

/* What each pump would move in the place of the picked one. */
static void
tell_flows (NappeAddWindow *self, GPtrArray *entries)
{
  NappePart *part = picked (self, nappe_document_get_build (self->document));
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  NappeCatalogue *catalogue = nappe_document_get_catalogue (self->document);
  double most_flow, most_head;
  guint index = 0;

  if (part == NULL || !NAPPE_IS_PUMP (part) || outcome == NULL)
    return;
  const NappeStudy *study = outcome->study;
  while (index < study->n_pumps && !g_str_equal (study->pumps[index].id, nappe_part_get_id (part)))
    index++;
  reach_of_pumps (catalogue, &most_flow, &most_head);
  g_autoptr (NappeSystemCurve) curve = nappe_system_curve_new (study, index, NAPPE_PUMP (part)->count * most_flow, most_head);
  for (guint i = 0; curve->n > 0 && i < entries->len; i++)
    {
      const char *id = nappe_add_entry_get_item (entries->pdata[i]);
      const NappeItem *item = id != NULL ? nappe_catalogue_find (catalogue, id) : NULL;
      if (item == NULL || item->kind != NAPPE_ITEM_PUMP)
        continue;
      const NappePump *pump = NAPPE_PUMP (part);
      /* As replacing it leaves them. */
      double flow = nappe_system_curve_meet (curve, item, pump->count, item->variable_speed ? pump->speed : 1, pump->head_left);
      g_autofree char *number = nappe_quantity_format (NAPPE_QUANTITY_FLOW, flow, self->units, 0);
      /* Translators: %s is the flow that a pump would move where another one stands. */
      g_autofree char *text = isnan (flow) ? g_strdup (_("does not lift the water here"))
                                           : g_strdup_printf (_("moves about %s here"), number);
      nappe_add_entry_tell (entries->pdata[i], text);
    }
}

static gboolean
show_more (gpointer data)
{
  NappeAddWindow *self = data;
  guint size = gtk_slice_list_model_get_size (self->shown) + PORTION;
  gboolean all = size >= MIN (nappe_add_window_get_n_shown (self), ALL_ROWS);

  gtk_slice_list_model_set_size (self->shown, all ? G_MAXUINT : size);
  self->filling = all ? 0 : self->filling;
  return all ? G_SOURCE_REMOVE : G_SOURCE_CONTINUE;
}

/* Also when the catalogue has become another one. */
static void
list_entries (NappeAddWindow *self)
{
  g_autoptr (GPtrArray) entries = nappe_add_entries (nappe_document_get_catalogue (self->document), self->units);

  tell_flows (self, entries);
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), entries->pdata, entries->len);
}

static void
fill (NappeAddWindow *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkFilterListModel *wanted;

  self->store = g_list_store_new (NAPPE_TYPE_ADD_ENTRY);
  list_entries (self);
  self->filter = gtk_custom_filter_new (is_wanted, self, NULL);
  wanted = gtk_filter_list_model_new (G_LIST_MODEL (g_object_ref (self->store)), GTK_FILTER (g_object_ref (self->filter)));
  self->shown = gtk_slice_list_model_new (G_LIST_MODEL (wanted), 0, PORTION);
  self->filling = g_idle_add (show_more, self);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->shown)));
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (selection_moved), self);
  g_signal_connect (factory, "setup", G_CALLBACK (row_made), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (row_filled), NULL);
  gtk_list_view_set_factory (GTK_LIST_VIEW (self->list), factory);
  gtk_list_view_set_model (GTK_LIST_VIEW (self->list), GTK_SELECTION_MODEL (self->selection));
  g_object_unref (factory);
}

GtkWindow *
nappe_add_window_new (GtkWindow *parent, NappeDocument *document, NappeUnitSystem units, const char *at)
{
  NappeAddWindow *self = g_object_new (NAPPE_TYPE_ADD_WINDOW, "transient-for", parent, NULL);
  NappePart *part;
  g_autofree char *place = NULL;

  self->document = g_object_ref (document);
  self->at = g_strdup (at);
  self->units = units;
  fill (self);
  part = picked (self, nappe_document_get_build (document));
  /* Translators: %s is the name of the part that is picked. */
  place = part != NULL ? g_strdup_printf (_("At “%s”, or where it fits"), nappe_part_display_name (part))
                       : g_strdup (_("Where it fits; pick a part first to say where"));
  /* Nothing else goes into the place of a pump. */
  if (part != NULL && NAPPE_IS_PUMP (part))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->group), NAPPE_ADD_PUMP);
  gtk_label_set_text (GTK_LABEL (self->place), place);
  selection_moved (self);
  gtk_widget_grab_focus (self->search);
  g_signal_connect_swapped (document, "catalogue-changed", G_CALLBACK (list_entries), self);
  g_signal_connect_swapped (document, "replaced", G_CALLBACK (gtk_window_close), self);
  return GTK_WINDOW (self);
}

void
nappe_add_window_search (NappeAddWindow *self, const char *text, NappeAddGroup group)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), text);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->group), group);
  search_changed (self);
}

guint
nappe_add_window_get_n_shown (NappeAddWindow *self)
{
  return g_list_model_get_n_items (gtk_slice_list_model_get_model (self->shown));
}
