/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/preferences/curve-preview.h"

#include "picture/charts/chart-curve.h"
#include "studio/canvas/screen.h"

#define HEIGHT 240

struct _NappeCurvePreview
{
  GtkWidget parent_instance;
  NappePumpCurve curve;
  double *flow, *head;
  guint n;
  NappeUnitSystem units;
  gboolean shows;
};

G_DEFINE_FINAL_TYPE (NappeCurvePreview, nappe_curve_preview, GTK_TYPE_WIDGET)

static NappePicture *
compose (NappeCurvePreview *self, int width, int height)
{
  const NappeChartOptions options = {
    .palette = nappe_screen_palette (),
    .units = self->units,
    .width = width,
    .height = height,
    .text_scale = nappe_screen_text_scale (),
  };

  return nappe_chart_curve_new (&options, &self->curve, self->flow, self->head, self->n);
}

static void
nappe_curve_preview_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  NappeCurvePreview *self = NAPPE_CURVE_PREVIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  g_autoptr (NappePicture) picture = NULL;
  cairo_t *cr;

  if (!self->shows)
    return;
  picture = compose (self, width, height);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  nappe_picture_draw (picture, cr);
  cairo_destroy (cr);
}

static void
nappe_curve_preview_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                             int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 0;
}

static void
nappe_curve_preview_finalize (GObject *object)
{
  NappeCurvePreview *self = NAPPE_CURVE_PREVIEW (object);

  g_free (self->flow);
  g_free (self->head);
  G_OBJECT_CLASS (nappe_curve_preview_parent_class)->finalize (object);
}

static void
nappe_curve_preview_class_init (NappeCurvePreviewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = nappe_curve_preview_finalize;
  widget_class->snapshot = nappe_curve_preview_snapshot;
  widget_class->measure = nappe_curve_preview_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
nappe_curve_preview_init (NappeCurvePreview *self)
{
  nappe_screen_watch (G_OBJECT (self), G_CALLBACK (gtk_widget_queue_draw));
}

/* What the chart says of itself is its text for those who do not see it. */
static void
tell (NappeCurvePreview *self)
{
  g_autoptr (NappePicture) picture = compose (self, HEIGHT, HEIGHT);
  guint n;
  const NappePictureItem *items = nappe_picture_items (picture, &n);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, items[0].label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, items[0].description, -1);
}

void
nappe_curve_preview_show (NappeCurvePreview *self, const NappePumpCurve *curve, const double *flow, const double *head, guint n,
                          NappeUnitSystem units)
{
  g_clear_pointer (&self->flow, g_free);
  g_clear_pointer (&self->head, g_free);
  self->shows = curve != NULL;
  if (curve != NULL)
    {
      self->curve = *curve;
      self->flow = g_memdup2 (flow, n * sizeof *flow);
      self->head = g_memdup2 (head, n * sizeof *head);
      self->n = n;
      self->units = units;
      tell (self);
    }
  gtk_widget_set_visible (GTK_WIDGET (self), self->shows);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
