/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/preferences/pump-window.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "catalogue/own-pump.h"
#include "studio/preferences/curve-preview.h"

struct _NappePumpWindow
{
  AdwWindow parent_instance;
  NappePreferences *preferences;
  NappeCurveTable *table;
  NappeCurveFit fit;
  gboolean fits;   /* the fit is one */
  gboolean adding; /* it is being written */
  GtkWidget *name, *power, *outlet, *source, *variable, *flow_unit, *head_unit, *swap, *preview, *note, *error;
};

G_DEFINE_FINAL_TYPE (NappePumpWindow, nappe_pump_window, ADW_TYPE_WINDOW)

static const char *
text_of (GtkWidget *row)
{
  return gtk_editable_get_text (GTK_EDITABLE (row));
}

/* The chosen unit; NULL: none yet. The list begins with a row for that where the table tells none. */
static const char *
chosen_unit (GtkWidget *combo, const char *told)
{
  guint index = adw_combo_row_get_selected (ADW_COMBO_ROW (combo));
  GListModel *units = adw_combo_row_get_model (ADW_COMBO_ROW (combo));

  if (index == GTK_INVALID_LIST_POSITION || (told == NULL && index == 0))
    return NULL;
  return gtk_string_list_get_string (GTK_STRING_LIST (units), index);
}

static void
list_units (GtkWidget *combo, const char *const *units, const char *told)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  gboolean listed = told != NULL && g_strv_contains (units, told);
  guint selected = 0;

  if (!listed)
    /* Translators: in a list of units, while none is chosen. */
    gtk_string_list_append (list, told != NULL ? told : _("Choose"));
  for (guint i = 0; units[i] != NULL; i++)
    {
      gtk_string_list_append (list, units[i]);
      if (listed && g_str_equal (units[i], told))
        selected = i;
    }
  adw_combo_row_set_model (ADW_COMBO_ROW (combo), G_LIST_MODEL (list));
  adw_combo_row_set_selected (ADW_COMBO_ROW (combo), selected);
}

static void
show_text (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* ---- the curve ---- */

static char *
describe_fit (NappePumpWindow *self)
{
  g_autofree char *departure = nappe_quantity_format (NAPPE_QUANTITY_HEAD, self->fit.departure,
                                                      nappe_preferences_get_units (self->preferences), 2);
  guint n = (guint) self->fit.curve.n;

  if (self->fit.left_out == 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u point, and the curve through it",
                                         "%u points, and the curve through them that a study takes", n), n);
  /* Translators: number of points of the curve; number of rows of the table; a height */
  return g_strdup_printf (
      _("%1$u of %2$u rows are points of the curve that a study takes; it departs from the others by up to %3$s"), n,
      self->table->n, departure);
}

static void
show_curve (NappePumpWindow *self, const char *flow_unit, const char *head_unit)
{
  g_autofree double *flow = g_new0 (double, self->table->n), *head = g_new0 (double, self->table->n);
  g_autofree char *note = describe_fit (self);

  for (guint i = 0; i < self->table->n; i++)
    nappe_curve_table_row (self->table, i, flow_unit, head_unit, &flow[i], &head[i], NULL);
  nappe_curve_preview_show (NAPPE_CURVE_PREVIEW (self->preview), &self->fit.curve, flow, head, self->table->n,
                            nappe_preferences_get_units (self->preferences));
  show_text (self->note, note);
  show_text (self->error, NULL);
}

static void
hide_curve (NappePumpWindow *self, const char *note, const char *wrong)
{
  nappe_curve_preview_show (NAPPE_CURVE_PREVIEW (self->preview), NULL, NULL, NULL, 0, NAPPE_UNITS_METRIC);
  show_text (self->note, note);
  show_text (self->error, wrong);
}

/* ---- the pump ---- */

/* FALSE: what stands there is no such quantity; the row says so. An empty row leaves the value. */
static gboolean
read_quantity (NappePumpWindow *self, GtkWidget *row, NappeQuantity quantity, double *value)
{
  g_autofree char *text = g_strstrip (g_strdup (text_of (row)));
  g_autoptr (GError) error = NULL;
  gboolean good
      = *text == '\0'
        || nappe_quantity_parse (quantity, text, nappe_preferences_get_units (self->preferences), value, &error);

  if (good)
    gtk_widget_remove_css_class (row, "error");
  else
    gtk_widget_add_css_class (row, "error");
  gtk_widget_set_tooltip_text (row, good ? NULL : error->message);
  gtk_accessible_update_state (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_STATE_INVALID,
                               good ? GTK_ACCESSIBLE_INVALID_FALSE : GTK_ACCESSIBLE_INVALID_TRUE, -1);
  return good;
}

/* Whether there is a pump to add. It borrows the texts. */
static gboolean
read_pump (NappePumpWindow *self, NappeOwnPump *pump)
{
  gboolean power, outlet;

  *pump = (NappeOwnPump){ .name = text_of (self->name), .source = text_of (self->source), .curve = self->fit.curve,
                          .variable_speed = gtk_switch_get_active (GTK_SWITCH (self->variable)) };
  power = read_quantity (self, self->power, NAPPE_QUANTITY_POWER, &pump->power);
  outlet = read_quantity (self, self->outlet, NAPPE_QUANTITY_LENGTH, &pump->outlet_bore);
  return power && outlet && self->fits && nappe_own_pump_check (pump) == NULL;
}

static void
pump_changed (NappePumpWindow *self)
{
  NappeOwnPump pump;
  gboolean good = self->table != NULL && read_pump (self, &pump);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "pump.add", good && !self->adding);
}

static void
units_chosen (NappePumpWindow *self)
{
  g_autoptr (GError) error = NULL;
  const char *flow_unit, *head_unit;

  if (self->table == NULL)
    return;
  flow_unit = chosen_unit (self->flow_unit, self->table->flow_unit);
  head_unit = chosen_unit (self->head_unit, self->table->head_unit);
  self->fits = FALSE;
  if (flow_unit == NULL || head_unit == NULL)
    hide_curve (
        self,
        _("The table does not tell in which units it is. Choose them: gallons taken for litres make a pump four times "
           "too weak."),
        NULL);
  else if (nappe_curve_table_fit (self->table, flow_unit, head_unit, &self->fit, &error))
    {
      self->fits = TRUE;
      show_curve (self, flow_unit, head_unit);
    }
  else
    hide_curve (self, NULL, error->message);
  pump_changed (self);
}

static void
columns_swapped (NappePumpWindow *self)
{
  if (self->table == NULL)
    return;
  nappe_curve_table_swap (self->table);
  units_chosen (self);
}

/* ---- adding ---- */

/* What is written, for whom. Owned by its task. */
typedef struct
{
  GWeakRef window; /* it may be closed meanwhile, and the window that it stands before */
  NappePreferences *preferences;
  NappeOwnPump pump;
  char *name, *source;
} AddJob;

static void
add_job_free (gpointer data)
{
  AddJob *job = data;

  g_weak_ref_clear (&job->window);
  g_object_unref (job->preferences);
  g_free (job->name);
  g_free (job->source);
  g_free (job);
}

static void
write_pump (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  AddJob *job = data;
  GError *error = NULL;
  g_autofree char *folder = nappe_catalogue_user_dir (), *id = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);

  if (catalogue != NULL)
    id = nappe_own_pump_add (folder, catalogue, &job->pump, &error);
  if (id != NULL)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
pump_written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  AddJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (NappePumpWindow) self = g_weak_ref_get (&job->window);
  g_autoptr (GError) error = NULL;
  gboolean good = g_task_propagate_boolean (G_TASK (result), &error);

  g_application_release (g_application_get_default ());
  if (good)
    nappe_preferences_own_parts_changed (job->preferences);
  if (self == NULL || self->table == NULL)
    return;
  self->adding = FALSE;
  pump_changed (self);
  show_text (self->error, good ? NULL : error->message);
  if (good)
    gtk_window_close (GTK_WINDOW (self));
}

static void
add_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappePumpWindow *self = NAPPE_PUMP_WINDOW (widget);
  g_autoptr (GTask) task = NULL;
  NappeOwnPump pump;
  AddJob *job;

  if (self->adding || !read_pump (self, &pump))
    return;
  job = g_new0 (AddJob, 1);
  g_weak_ref_init (&job->window, self);
  job->preferences = g_object_ref (self->preferences);
  job->pump = pump;
  job->pump.name = job->name = g_strdup (pump.name);
  job->pump.source = job->source = g_strdup (pump.source);
  self->adding = TRUE;
  pump_changed (self);
  /* The program must not end before the file is whole. */
  g_application_hold (g_application_get_default ());
  task = g_task_new (NULL, NULL, pump_written, NULL);
  g_task_set_source_tag (task, add_action);
  g_task_set_task_data (task, job, add_job_free);
  g_task_run_in_thread (task, write_pump);
}

static void
cancel_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
nappe_pump_window_dispose (GObject *object)
{
  NappePumpWindow *self = NAPPE_PUMP_WINDOW (object);

  /* What the template's widgets tell while they go is of no interest. */
  g_clear_pointer (&self->table, nappe_curve_table_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_PUMP_WINDOW);
  G_OBJECT_CLASS (nappe_pump_window_parent_class)->dispose (object);
}

static void
nappe_pump_window_finalize (GObject *object)
{
  g_clear_object (&NAPPE_PUMP_WINDOW (object)->preferences);
  G_OBJECT_CLASS (nappe_pump_window_parent_class)->finalize (object);
}

static void
nappe_pump_window_class_init (NappePumpWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_pump_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_pump_window_finalize;
  g_type_ensure (NAPPE_TYPE_CURVE_PREVIEW);
  gtk_widget_class_install_action (widget_class, "pump.add", NULL, add_action);
  gtk_widget_class_install_action (widget_class, "pump.cancel", NULL, cancel_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "pump.cancel", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/pump-window.ui");
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, name);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, power);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, outlet);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, source);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, variable);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, flow_unit);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, head_unit);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, swap);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, preview);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, note);
  gtk_widget_class_bind_template_child (widget_class, NappePumpWindow, error);
  gtk_widget_class_bind_template_callback (widget_class, pump_changed);
  gtk_widget_class_bind_template_callback (widget_class, units_chosen);
  gtk_widget_class_bind_template_callback (widget_class, columns_swapped);
}

static void
nappe_pump_window_init (NappePumpWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWindow *
nappe_pump_window_new (GtkWindow *parent, NappePreferences *preferences, NappeCurveTable *table)
{
  NappePumpWindow *self = g_object_new (NAPPE_TYPE_PUMP_WINDOW, "transient-for", parent, NULL);
  /* Translators: %s is the name of a file with a pump's curve. */
  g_autofree char *source = g_strdup_printf (_("Points of “%s”"), table->name), *name = g_strdup (table->name);
  char *dot = strrchr (name, '.');

  if (dot != NULL && dot != name)
    *dot = '\0';
  self->preferences = g_object_ref (preferences);
  list_units (self->flow_unit, nappe_curve_flow_units, table->flow_unit);
  list_units (self->head_unit, nappe_curve_head_units, table->head_unit);
  gtk_widget_set_visible (self->swap, !table->told);
  gtk_editable_set_text (GTK_EDITABLE (self->name), name);
  gtk_editable_set_text (GTK_EDITABLE (self->source), source);
  self->table = table;
  units_chosen (self);
  return GTK_WINDOW (self);
}
