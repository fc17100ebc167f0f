/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/time/event-list.h"

#include <glib/gi18n-lib.h>

#include "picture/curves/course-words.h"

struct _NappeEventList
{
  GtkWidget parent_instance;
  NappeOutcome *outcome;
  NappeSimulation *course;
  GtkWidget *pages, *empty, *full;
  GtkLabel *verdict;
  GtkListView *list;
  GtkSingleSelection *selection;
  GtkStringList *texts; /* by event */
  gboolean selecting;   /* not the person's doing */
};

G_DEFINE_FINAL_TYPE (NappeEventList, nappe_event_list, GTK_TYPE_WIDGET)

static guint chosen_signal;

static GtkWidget *
new_label (float align, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), align);
  gtk_widget_set_valign (label, GTK_ALIGN_BASELINE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

/* Number, time, and what happens. */
static void
set_up_row (GtkSignalListItemFactory *factory, GtkListItem *item, NappeEventList *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *number = new_label (1.0f, "numeric"), *time = new_label (1.0f, "numeric"), *text = new_label (0.0f, NULL);

  gtk_widget_add_css_class (number, "event-number");
  gtk_label_set_width_chars (GTK_LABEL (number), 3);
  gtk_widget_add_css_class (time, "dim-label");
  gtk_label_set_wrap (GTK_LABEL (text), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (text), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_box_append (GTK_BOX (row), number);
  gtk_box_append (GTK_BOX (row), time);
  gtk_box_append (GTK_BOX (row), text);
  gtk_list_item_set_child (item, row);
}

static void
bind_row (GtkSignalListItemFactory *factory, GtkListItem *item, NappeEventList *self)
{
  guint index = gtk_list_item_get_position (item);
  GtkWidget *number = gtk_widget_get_first_child (gtk_list_item_get_child (item));
  GtkWidget *time = gtk_widget_get_next_sibling (number), *text = gtk_widget_get_next_sibling (time);
  GtkStringObject *words = gtk_list_item_get_item (item);
  g_autofree char *number_text = nappe_quantity_format (NAPPE_QUANTITY_COUNT, index + 1.0, NAPPE_UNITS_METRIC, 0);
  g_autofree char *clock = NULL;

  if (self->course == NULL || index >= self->course->n_events)
    return;
  clock = nappe_course_clock_text (self->course->events[index].time);
  gtk_label_set_text (GTK_LABEL (number), number_text);
  gtk_label_set_text (GTK_LABEL (time), clock);
  gtk_label_set_text (GTK_LABEL (text), gtk_string_object_get_string (words));
  if (self->course->events[index].kind == NAPPE_EVENT_OVER_RIM)
    gtk_widget_add_css_class (text, "error");
  else
    gtk_widget_remove_css_class (text, "error");
}

static void
selection_changed (NappeEventList *self)
{
  guint index = gtk_single_selection_get_selected (self->selection);

  if (!self->selecting && index != GTK_INVALID_LIST_POSITION)
    g_signal_emit (self, chosen_signal, 0, index);
}

/* Choosing the selected one once more goes back to it. */
static void
row_activated (GtkListView *list, guint index, NappeEventList *self)
{
  g_signal_emit (self, chosen_signal, 0, index);
}

static void
nappe_event_list_dispose (GObject *object)
{
  NappeEventList *self = NAPPE_EVENT_LIST (object);

  g_clear_pointer (&self->pages, gtk_widget_unparent);
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_object (&self->selection);
  g_clear_object (&self->texts);
  G_OBJECT_CLASS (nappe_event_list_parent_class)->dispose (object);
}

static void
nappe_event_list_class_init (NappeEventListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_event_list_dispose;
  chosen_signal = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_UINT);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
make_empty (void)
{
  GtkWidget *label = gtk_label_new (_("Run a case to see what happens when."));

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_widget_set_margin_start (label, 24);
  gtk_widget_set_margin_end (label, 24);
  return label;
}

static GtkWidget *
make_list (NappeEventList *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();

  g_signal_connect_object (factory, "setup", G_CALLBACK (set_up_row), self, 0);
  g_signal_connect_object (factory, "bind", G_CALLBACK (bind_row), self, 0);
  self->list = GTK_LIST_VIEW (gtk_list_view_new (GTK_SELECTION_MODEL (g_object_ref (self->selection)), factory));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Events"), -1);
  g_signal_connect_object (self->list, "activate", G_CALLBACK (row_activated), self, 0);
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "events");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (self->list));
  gtk_widget_set_vexpand (scroller, TRUE);
  return scroller;
}

static GtkWidget *
make_full (NappeEventList *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *verdict = gtk_label_new (NULL);

  self->verdict = GTK_LABEL (verdict);
  gtk_label_set_xalign (self->verdict, 0.0f);
  gtk_label_set_wrap (self->verdict, TRUE);
  gtk_label_set_selectable (self->verdict, TRUE);
  gtk_widget_set_can_focus (verdict, FALSE);
  gtk_widget_add_css_class (verdict, "course-verdict");
  gtk_box_append (GTK_BOX (box), verdict);
  gtk_box_append (GTK_BOX (box), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  gtk_box_append (GTK_BOX (box), make_list (self));
  return box;
}

static void
nappe_event_list_init (NappeEventList *self)
{
  self->texts = gtk_string_list_new (NULL);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->texts)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_single_selection_set_selected (self->selection, GTK_INVALID_LIST_POSITION);
  g_signal_connect_object (self->selection, "selection-changed", G_CALLBACK (selection_changed), self, G_CONNECT_SWAPPED);
  self->pages = gtk_stack_new ();
  self->empty = make_empty ();
  self->full = make_full (self);
  gtk_stack_add_child (GTK_STACK (self->pages), self->empty);
  gtk_stack_add_child (GTK_STACK (self->pages), self->full);
  gtk_widget_set_parent (self->pages, GTK_WIDGET (self));
}

GtkWidget *
nappe_event_list_new (void)
{
  return g_object_new (NAPPE_TYPE_EVENT_LIST, NULL);
}

static void
fill (NappeEventList *self)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < self->course->n_events; i++)
    {
      g_autofree char *text = nappe_course_event_text (self->outcome->build, self->course, &self->course->events[i],
                                                       self->outcome->units);

      g_ptr_array_add (texts, nappe_text_unbroken (text));
    }
  g_ptr_array_add (texts, NULL);
  gtk_string_list_splice (self->texts, 0, 0, (const char *const *) texts->pdata);
}

void
nappe_event_list_set_course (NappeEventList *self, NappeOutcome *outcome, NappeSimulation *course)
{
  g_autofree char *verdict = NULL, *unbroken = NULL;

  g_return_if_fail ((outcome == NULL) == (course == NULL));
  if (course != NULL)
    {
      nappe_outcome_ref (outcome);
      nappe_simulation_ref (course);
    }
  self->selecting = TRUE;
  gtk_string_list_splice (self->texts, 0, g_list_model_get_n_items (G_LIST_MODEL (self->texts)), NULL);
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->outcome = outcome;
  self->course = course;
  if (course != NULL)
    {
      verdict = nappe_course_verdict_text (outcome->build, course, outcome->units);
      unbroken = nappe_text_unbroken (verdict);
      fill (self);
    }
  gtk_label_set_text (self->verdict, unbroken != NULL ? unbroken : "");
  gtk_stack_set_visible_child (GTK_STACK (self->pages), course != NULL ? self->full : self->empty);
  gtk_single_selection_set_selected (self->selection, GTK_INVALID_LIST_POSITION);
  self->selecting = FALSE;
}

void
nappe_event_list_select (NappeEventList *self, int event)
{
  guint position = event >= 0 ? (guint) event : GTK_INVALID_LIST_POSITION;

  if (gtk_single_selection_get_selected (self->selection) == position)
    return;
  self->selecting = TRUE;
  gtk_single_selection_set_selected (self->selection, position);
  self->selecting = FALSE;
  if (event >= 0 && gtk_widget_get_mapped (GTK_WIDGET (self->list)))
    gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", position);
}

int
nappe_event_list_get_selected (NappeEventList *self)
{
  guint position = gtk_single_selection_get_selected (self->selection);

  return position == GTK_INVALID_LIST_POSITION ? -1 : (int) position;
}
