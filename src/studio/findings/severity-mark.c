/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/severity-mark.h"

#include "picture/palette.h"
#include "studio/canvas/screen.h"

/* Width and height with letters as large as usual [px]. */
#define SIZE 24

struct _NappeSeverityMark
{
  GtkWidget parent_instance;
  NappeSeverity severity;
  guint number;
  PangoLayout *layout;
};

G_DEFINE_FINAL_TYPE (NappeSeverityMark, nappe_severity_mark, GTK_TYPE_WIDGET)

static void
trace_shape (cairo_t *cr, NappeSeverity severity)
{
  const double middle = SIZE / 2.0, far = SIZE - 1.0;

  cairo_new_path (cr);
  switch (severity)
    {
    case NAPPE_SEVERITY_DANGER:
      cairo_move_to (cr, middle, 1.0);
      cairo_line_to (cr, far, far - 1.0);
      cairo_line_to (cr, 1.0, far - 1.0);
      break;
    case NAPPE_SEVERITY_PROBLEM:
      cairo_move_to (cr, middle, 0.5);
      cairo_line_to (cr, far + 0.5, middle);
      cairo_line_to (cr, middle, far + 0.5);
      cairo_line_to (cr, 0.5, middle);
      break;
    case NAPPE_SEVERITY_ADVICE:
    case NAPPE_SEVERITY_FINE:
    default:
      cairo_arc (cr, middle, middle, middle - 2.0, 0.0, 2.0 * G_PI);
    }
  cairo_close_path (cr);
}

/* The colours of the marks in the pictures. */
static void
set_colour (cairo_t *cr, NappeRole role)
{
  NappeColour colour = nappe_palette_colour (nappe_screen_palette (), role);

  cairo_set_source_rgba (cr, colour.red, colour.green, colour.blue, colour.alpha);
}

static void
draw_number (NappeSeverityMark *self, cairo_t *cr)
{
  g_autofree char *text = g_strdup_printf ("%u", self->number);
  PangoRectangle ink;
  /* The middle of a triangle's area lies below the middle of its height. */
  double size = gtk_widget_get_width (GTK_WIDGET (self)), lower = self->severity == NAPPE_SEVERITY_DANGER ? size / 8.0 : 0.0;

  if (self->layout == NULL)
    self->layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), NULL);
  pango_layout_set_text (self->layout, text, -1);
  pango_layout_get_pixel_extents (self->layout, &ink, NULL);
  cairo_move_to (cr, (size - ink.width) / 2.0 - ink.x, (size - ink.height) / 2.0 - ink.y + lower);
  pango_cairo_show_layout (cr, self->layout);
}

static void
nappe_severity_mark_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  NappeSeverityMark *self = NAPPE_SEVERITY_MARK (widget);
  float size = (float) gtk_widget_get_width (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, size, size));

  cairo_save (cr);
  cairo_scale (cr, (double) size / SIZE, (double) size / SIZE);
  trace_shape (cr, self->severity);
  set_colour (cr, nappe_severity_role (self->severity));
  if (self->severity == NAPPE_SEVERITY_FINE)
    {
      cairo_set_line_width (cr, 2.0);
      cairo_stroke (cr);
    }
  else
    {
      cairo_fill (cr);
    }
  cairo_restore (cr);
  if (self->number > 0)
    {
      set_colour (cr, nappe_severity_text_role (self->severity));
      draw_number (self, cr);
    }
  cairo_destroy (cr);
}

static void
nappe_severity_mark_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                             int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = (int) (SIZE * nappe_screen_text_scale ());
}

static void
nappe_severity_mark_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (nappe_severity_mark_parent_class)->css_changed (widget, change);
  g_clear_object (&NAPPE_SEVERITY_MARK (widget)->layout);
  gtk_widget_queue_resize (widget);
}

static void
nappe_severity_mark_dispose (GObject *object)
{
  g_clear_object (&NAPPE_SEVERITY_MARK (object)->layout);
  G_OBJECT_CLASS (nappe_severity_mark_parent_class)->dispose (object);
}

static void
nappe_severity_mark_class_init (NappeSeverityMarkClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_severity_mark_dispose;
  widget_class->snapshot = nappe_severity_mark_snapshot;
  widget_class->measure = nappe_severity_mark_measure;
  widget_class->css_changed = nappe_severity_mark_css_changed;
  gtk_widget_class_set_css_name (widget_class, "severitymark");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
nappe_severity_mark_init (NappeSeverityMark *self)
{
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
}

GtkWidget *
nappe_severity_mark_new (void)
{
  return g_object_new (NAPPE_TYPE_SEVERITY_MARK, NULL);
}

void
nappe_severity_mark_set (NappeSeverityMark *self, NappeSeverity severity, guint number)
{
  self->severity = severity;
  self->number = number;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  nappe_severity_label (severity), -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
