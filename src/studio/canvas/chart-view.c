/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/chart-view.h"

#include <glib/gi18n-lib.h>

#include "studio/application/keys.h"
#include "studio/parts/choice-labels.h"

struct _NappeChartView
{
  GtkWidget parent_instance;
  GtkWidget *content, *chooser, *canvas;
  NappeOutcome *outcome;
  GPtrArray *choices; /* NappeChartChoice; NULL: none */
  NappeChartKind kind; /* of the chosen chart */
  char *part;          /* id; NULL: none was chosen yet */
  gboolean filling;    /* the chooser changes by the view's own doing */
  gboolean picking;    /* a part is being picked in the chart */
};

G_DEFINE_FINAL_TYPE (NappeChartView, nappe_chart_view, GTK_TYPE_WIDGET)

static guint picked_signal;

static void
choose (NappeChartView *self, guint index)
{
  const NappeChartChoice *choice = g_ptr_array_index (self->choices, index);
  char *part = g_strdup (choice->part);

  g_free (self->part);
  self->part = part;
  self->kind = choice->kind;
  nappe_canvas_set_chart (NAPPE_CANVAS (self->canvas), self->kind, self->part);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL, choice->title, -1);
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->chooser), index);
  self->filling = FALSE;
}

static void
chart_selected (NappeChartView *self)
{
  guint index = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->chooser));

  if (!self->filling && self->choices != NULL && index < self->choices->len)
    choose (self, index);
}

static gboolean
are_same (const GPtrArray *a, const GPtrArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (!g_str_equal (((const NappeChartChoice *) a->pdata[i])->title, ((const NappeChartChoice *) b->pdata[i])->title))
      return FALSE;
  return TRUE;
}

/* A list that is open stays as it is while it tells the same. */
static void
list_choices (NappeChartView *self, GPtrArray *choices)
{
  gboolean same = are_same (self->choices, choices);

  g_clear_pointer (&self->choices, g_ptr_array_unref);
  self->choices = choices;
  if (same)
    return;
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);
  for (guint i = 0; i < choices->len; i++)
    gtk_string_list_append (titles, ((const NappeChartChoice *) choices->pdata[i])->title);
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->chooser), G_LIST_MODEL (titles));
  self->filling = FALSE;
}

void
nappe_chart_view_set_outcome (NappeChartView *self, NappeOutcome *outcome)
{
  gint index;

  if (outcome != NULL)
    nappe_outcome_ref (outcome);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->outcome = outcome;
  if (outcome != NULL)
    {
      list_choices (self, nappe_chart_choices (outcome->build, outcome->study));
      index = self->part != NULL ? nappe_chart_choice_find (self->choices, self->kind, self->part) : -1;
      if (self->choices->len > 0)
        choose (self, (guint) MAX (index, 0));
    }
  gtk_widget_set_sensitive (self->chooser, outcome != NULL);
  nappe_canvas_set_outcome (NAPPE_CANVAS (self->canvas), outcome);
}

void
nappe_chart_view_select (NappeChartView *self, const char *part)
{
  gint index = part != NULL && self->outcome != NULL && !self->picking
                   ? nappe_chart_choice_for (self->choices, self->outcome->build, part) : -1;

  if (index >= 0)
    choose (self, (guint) index);
  nappe_canvas_select (NAPPE_CANVAS (self->canvas), part);
}

NappeCanvas *
nappe_chart_view_get_canvas (NappeChartView *self)
{
  return NAPPE_CANVAS (self->canvas);
}

gboolean
nappe_chart_view_get_chart (NappeChartView *self, NappeChartKind *kind, const char **part)
{
  *kind = self->kind;
  *part = self->part;
  return self->part != NULL;
}

static void
picked_in_canvas (NappeChartView *self, const char *part)
{
  self->picking = TRUE;
  g_signal_emit (self, picked_signal, 0, part);
  self->picking = FALSE;
}

static void
nappe_chart_view_dispose (GObject *object)
{
  NappeChartView *self = NAPPE_CHART_VIEW (object);

  g_clear_pointer (&self->content, gtk_widget_unparent);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_pointer (&self->choices, g_ptr_array_unref);
  g_clear_pointer (&self->part, g_free);
  G_OBJECT_CLASS (nappe_chart_view_parent_class)->dispose (object);
}

static void
nappe_chart_view_class_init (NappeChartViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_chart_view_dispose;
  g_type_ensure (NAPPE_TYPE_CANVAS);
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/chart-view.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeChartView, content);
  gtk_widget_class_bind_template_child (widget_class, NappeChartView, chooser);
  gtk_widget_class_bind_template_child (widget_class, NappeChartView, canvas);
  gtk_widget_class_bind_template_callback (widget_class, chart_selected);
  gtk_widget_class_bind_template_callback (widget_class, picked_in_canvas);
}

static void
nappe_chart_view_init (NappeChartView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  nappe_choice_labels_fit (GTK_DROP_DOWN (self->chooser));
  nappe_keys_add_to_tooltips (GTK_WIDGET (self));
}

GtkWidget *
nappe_chart_view_new (void)
{
  return g_object_new (NAPPE_TYPE_CHART_VIEW, NULL);
}
