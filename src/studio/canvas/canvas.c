/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/canvas.h"

#include "studio/canvas/camera.h"
#include "studio/canvas/canvas-items.h"
#include "studio/canvas/canvas-handles.h"
#include "studio/canvas/canvas-input.h"
#include "studio/canvas/picture-node.h"
#include "studio/canvas/screen.h"

struct _NappeCanvas
{
  GtkWidget parent_instance;
  NappePictureKind kind;
  NappeShownState shown;
  NappeSimulation *course; /* of NAPPE_SHOW_MOMENT; else NULL */
  double moment;           /* [s] */
  NappeOutcome *outcome;
  NappeChartKind chart;
  char *chart_part;      /* id; NULL: it shows no chart */
  char *selected;
  NappeCamera camera;
  NappePicture *picture;
  NappeMotion *motion;   /* its arrows; none unless something moves */
  GskRenderNode *node;   /* the picture as the camera sees it; NULL: to be drawn */
  NappeDocument *document;     /* NULL: nothing can be changed here */
  NappeCanvasHandles *handles; /* NULL without a document */
  NappeCanvasItems *items;
  gboolean stale;        /* the picture is to be composed */
  guint compose_tick;    /* looks at `stale` at the start of frames; 0: none does */
  gboolean reveal_selected; /* when it has been composed */
};

G_DEFINE_FINAL_TYPE (NappeCanvas, nappe_canvas, GTK_TYPE_WIDGET)

enum
{
  PROP_KIND = 1,
};

static guint picked_signal;

static void
forget_view (NappeCanvas *self)
{
  g_clear_pointer (&self->node, gsk_render_node_unref);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Some people get sick of things that move, and say so in their settings. */
static gboolean
wants_motion (NappeCanvas *self)
{
  gboolean wanted;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-enable-animations", &wanted, NULL);
  return wanted;
}

/* Something is being dragged in it. */
static gboolean
holds (NappeCanvas *self)
{
  return self->handles != NULL && nappe_canvas_handles_are_held (self->handles);
}

/* It shows the document's build, and not what is only looked at, such as a cure or a moment. */
static gboolean
is_editable (NappeCanvas *self)
{
  return self->outcome != NULL && self->shown != NAPPE_SHOW_MOMENT
         && self->outcome == nappe_document_get_shown_outcome (self->document);
}

static NappePicture *
compose_chart (NappeCanvas *self)
{
  const NappeChartOptions options = {
    .kind = self->chart, .part = self->chart_part, .palette = nappe_screen_palette (), .units = self->outcome->units,
    .width = self->camera.picture_width, .height = self->camera.picture_height, .title = TRUE,
    .text_scale = self->camera.text_scale, .selected = self->selected,
    .verdict = self->outcome->verdict, .spread = self->outcome->spread,
  };

  return nappe_chart_new (&options, self->outcome->build, self->outcome->study);
}

static NappePicture *
compose (NappeCanvas *self, const NappePicture *earlier)
{
  const NappeOutcome *outcome = self->outcome;
  const NappePictureOptions options = {
    .kind = self->kind,
    .palette = nappe_screen_palette (),
    .shown = self->shown,
    .course = self->course,
    .moment = self->moment,
    .units = outcome->units,
    .width = self->camera.picture_width,
    .height = self->camera.picture_height,
    .text_scale = self->camera.text_scale,
    .selected = self->selected,
    .earlier = self->shown == NAPPE_SHOW_MOMENT || holds (self) ? earlier : NULL,
    .hold = holds (self),
    .motion = self->shown == NAPPE_SHOW_MOMENT && wants_motion (self),
    .title = TRUE,
  };

  if (self->chart_part != NULL)
    return compose_chart (self);
  return nappe_picture_new (&options, outcome->build, outcome->layout, outcome->study, outcome->verdict);
}

static void
item_picked (GtkWidget *widget, const char *part)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  /* Once more on what is picked: on to its handles. */
  if (g_strcmp0 (part, self->selected) == 0 && self->handles != NULL && nappe_canvas_handles_focus (self->handles))
    return;
  g_signal_emit (widget, picked_signal, 0, part);
}

static void
item_focused (GtkWidget *widget, const graphene_rect_t *place)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  if (nappe_camera_reveal (&self->camera, place->origin.x, place->origin.y, place->size.width, place->size.height))
    forget_view (self);
}

static void
reveal_selected (NappeCanvas *self)
{
  NappeCanvasItem *item = nappe_canvas_items_find (self->items, self->selected);
  const graphene_rect_t *place = item != NULL ? nappe_canvas_item_get_place (item) : NULL;

  self->reveal_selected = FALSE;
  if (place != NULL)
    nappe_camera_reveal (&self->camera, place->origin.x, place->origin.y, place->size.width, place->size.height);
}

static gboolean
compose_now (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  g_autoptr (NappePicture) earlier = NULL;

  if (!self->stale)
    {
      self->compose_tick = 0;
      return G_SOURCE_REMOVE;
    }
  self->stale = FALSE;
  earlier = g_steal_pointer (&self->picture);
  if (self->outcome != NULL && self->camera.picture_width >= 1.0)
    self->picture = compose (self, earlier);
  nappe_canvas_items_match (self->items, self->picture);
  if (self->handles != NULL)
    nappe_canvas_handles_match (self->handles, self->picture, is_editable (self) ? self->selected : NULL);
  if (self->reveal_selected)
    reveal_selected (self);
  forget_view (self);
  return G_SOURCE_CONTINUE;
}

/* The picture is composed at the start of the next frame: children must not come and go while
 * sizes are handed out, and several changes in one frame cost one picture. A canvas that is not on
 * screen composes when it is shown. The callback stays for one frame more: one that was added while a frame begins
 * would be called in the next, and what plays would be composed in every second frame. */
static void
queue_compose (NappeCanvas *self)
{
  self->stale = TRUE;
  if (self->compose_tick == 0)
    self->compose_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), compose_now, NULL, NULL);
}

static NappePicturePlace
place_of (const NappeCanvas *self)
{
  NappePicturePlace place = { .scale = self->camera.scale, .width = self->camera.picture_width,
                              .height = self->camera.picture_height };

  nappe_camera_origin (&self->camera, &place.x, &place.y);
  return place;
}

static void
draw_motion (NappeCanvas *self, GtkSnapshot *snapshot, const NappePicturePlace *place)
{
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (GTK_WIDGET (self)),
                                                                          (float) gtk_widget_get_height (GTK_WIDGET (self))));

  nappe_picture_place_apply (place, cr);
  nappe_motion_draw (self->motion, self->picture, cr);
  cairo_destroy (cr);
}

static void
nappe_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (self->picture != NULL && width > 0 && height > 0)
    {
      const NappePicturePlace place = place_of (self);

      if (self->node == NULL)
        self->node = nappe_picture_node_new (self->picture, widget, &place);
      gtk_snapshot_append_node (snapshot, self->node);
      draw_motion (self, snapshot, &place);
      if (self->handles != NULL)
        nappe_canvas_handles_snapshot (self->handles, snapshot);
    }
  GTK_WIDGET_CLASS (nappe_canvas_parent_class)->snapshot (widget, snapshot);
}

/* The pixels of a canvas that nobody sees are not kept: they are as large as the window. */
static void
nappe_canvas_unmap (GtkWidget *widget)
{
  g_clear_pointer (&NAPPE_CANVAS (widget)->node, gsk_render_node_unref);
  GTK_WIDGET_CLASS (nappe_canvas_parent_class)->unmap (widget);
}

static void
nappe_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);
  NappePicturePlace place;

  if (self->camera.view_width != width || self->camera.view_height != height)
    g_clear_pointer (&self->node, gsk_render_node_unref);
  if (nappe_camera_resize (&self->camera, width, height))
    queue_compose (self);
  place = place_of (self);
  nappe_canvas_items_allocate (self->items, &place);
  if (self->handles != NULL)
    nappe_canvas_handles_allocate (self->handles, &place);
}

static void
nappe_canvas_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                      int *minimum_baseline, int *natural_baseline)
{
  nappe_canvas_items_measure (NAPPE_CANVAS (widget)->items, orientation);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 280 : 200;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 900 : 600;
}

static gboolean
query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, gpointer user_data)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);
  double picture_x, picture_y;
  g_autofree char *text = NULL;
  NappeCanvasItem *item;

  if (keyboard || self->picture == NULL || holds (self))
    return FALSE;
  nappe_camera_to_picture (&self->camera, x, y, &picture_x, &picture_y);
  item = nappe_canvas_items_find (self->items, nappe_picture_pick (self->picture, picture_x, picture_y));
  text = self->handles != NULL ? nappe_canvas_handles_tip (self->handles, x, y) : NULL;
  if (text == NULL && item != NULL)
    text = g_strdup_printf ("%s\n%s", nappe_canvas_item_get_label (item), nappe_canvas_item_get_description (item));
  gtk_tooltip_set_text (tooltip, text);
  return text != NULL;
}

/* What the input controllers ask for. */

static void
pick_at (GtkWidget *widget, double x, double y)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);
  g_autofree char *part = NULL;
  double picture_x, picture_y;

  if (self->picture == NULL)
    return;
  nappe_camera_to_picture (&self->camera, x, y, &picture_x, &picture_y);
  part = g_strdup (nappe_picture_pick (self->picture, picture_x, picture_y));
  /* Keys are for the picture now, and a number that was being typed elsewhere is entered. */
  gtk_root_set_focus (gtk_widget_get_root (widget), (GtkWidget *) nappe_canvas_items_find (self->items, part));
  g_signal_emit (self, picked_signal, 0, part);
}

static void
pan_by (GtkWidget *widget, double dx, double dy)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  if (nappe_camera_pan (&self->camera, dx, dy))
    forget_view (self);
}

static void
zoom_by (GtkWidget *widget, double factor, double x, double y)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  if (nappe_camera_zoom_at (&self->camera, self->camera.zoom * factor, x, y))
    queue_compose (self);
}

static gboolean
grab (GtkWidget *widget, double x, double y)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  return self->handles != NULL && nappe_canvas_handles_grab (self->handles, x, y);
}

static void
pull (GtkWidget *widget, double dx, double dy, GdkModifierType keys)
{
  nappe_canvas_handles_pull (NAPPE_CANVAS (widget)->handles, dx, dy, keys);
}

static void
let_go (GtkWidget *widget)
{
  nappe_canvas_handles_let_go (NAPPE_CANVAS (widget)->handles);
}

static gboolean
take_back (GtkWidget *widget)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  if (!holds (self))
    return FALSE;
  nappe_canvas_handles_take_back (self->handles);
  return TRUE;
}

static const char *
cursor_at (GtkWidget *widget, double x, double y)
{
  NappeCanvas *self = NAPPE_CANVAS (widget);

  return self->handles != NULL ? nappe_canvas_handles_cursor (self->handles, x, y) : NULL;
}

static void
nappe_canvas_set_property (GObject *object, guint property, const GValue *value, GParamSpec *pspec)
{
  g_return_if_fail (property == PROP_KIND);
  nappe_canvas_set_kind (NAPPE_CANVAS (object), (NappePictureKind) g_value_get_int (value));
}

static void
nappe_canvas_dispose (GObject *object)
{
  NappeCanvas *self = NAPPE_CANVAS (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->handles, nappe_canvas_handles_free);
  g_clear_object (&self->document);
  g_clear_pointer (&self->items, nappe_canvas_items_free);
  g_clear_pointer (&self->picture, nappe_picture_free);
  g_clear_pointer (&self->motion, nappe_motion_free);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  g_clear_pointer (&self->course, nappe_simulation_unref);
  g_clear_pointer (&self->node, gsk_render_node_unref);
  g_clear_pointer (&self->selected, g_free);
  g_clear_pointer (&self->chart_part, g_free);
  G_OBJECT_CLASS (nappe_canvas_parent_class)->dispose (object);
}

static void
nappe_canvas_class_init (NappeCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->set_property = nappe_canvas_set_property;
  object_class->dispose = nappe_canvas_dispose;
  widget_class->snapshot = nappe_canvas_snapshot;
  widget_class->unmap = nappe_canvas_unmap;
  widget_class->size_allocate = nappe_canvas_size_allocate;
  widget_class->measure = nappe_canvas_measure;
  g_object_class_install_property (object_class, PROP_KIND,
                                   g_param_spec_int ("kind", NULL, NULL, NAPPE_PICTURE_ELEVATION, NAPPE_PICTURE_PANELS,
                                                     NAPPE_PICTURE_ELEVATION,
                                                     G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS));
  picked_signal = g_signal_new ("picked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "canvas");
}

static void
screen_changed (NappeCanvas *self)
{
  nappe_camera_set_text_scale (&self->camera, nappe_screen_text_scale ());
  queue_compose (self);
}

static void
nappe_canvas_init (NappeCanvas *self)
{
  static const NappeCanvasItemsCalls calls = { item_picked, item_focused };

  nappe_camera_init (&self->camera);
  self->items = nappe_canvas_items_new (GTK_WIDGET (self), &calls);
  self->motion = nappe_motion_new ();
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip), NULL);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (forget_view), NULL);
  nappe_camera_set_text_scale (&self->camera, nappe_screen_text_scale ());
  nappe_screen_watch (G_OBJECT (self), G_CALLBACK (screen_changed));
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-enable-animations", G_CALLBACK (queue_compose), self,
                           G_CONNECT_SWAPPED);
  nappe_canvas_input_add (GTK_WIDGET (self),
                          &(NappeCanvasInput){ pick_at, pan_by, zoom_by, grab, pull, let_go, take_back, cursor_at });
}

void
nappe_canvas_set_document (NappeCanvas *self, NappeDocument *document)
{
  g_return_if_fail (self->handles == NULL);
  self->document = g_object_ref (document);
  self->handles = nappe_canvas_handles_new (GTK_WIDGET (self), document);
  queue_compose (self);
}

void
nappe_canvas_set_outcome (NappeCanvas *self, NappeOutcome *outcome)
{
  if (self->outcome == outcome)
    return;
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  self->outcome = outcome != NULL ? nappe_outcome_ref (outcome) : NULL;
  queue_compose (self);
}

void
nappe_canvas_set_shown (NappeCanvas *self, NappeShownState shown)
{
  if (self->shown == shown)
    return;
  self->shown = shown;
  queue_compose (self);
}

void
nappe_canvas_set_moment (NappeCanvas *self, NappeSimulation *course, double time)
{
  if (self->course == course && (course == NULL || self->moment == time))
    return;
  if (course != NULL)
    nappe_simulation_ref (course);
  g_clear_pointer (&self->course, nappe_simulation_unref);
  self->course = course;
  self->moment = time;
  self->shown = course != NULL ? NAPPE_SHOW_MOMENT : NAPPE_SHOW_RUNNING;
  queue_compose (self);
}

void
nappe_canvas_advance (NappeCanvas *self, double seconds)
{
  if (self->picture == NULL)
    return;
  nappe_motion_advance (self->motion, self->picture, seconds);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
nappe_canvas_select (NappeCanvas *self, const char *part)
{
  if (g_strcmp0 (self->selected, part) == 0)
    return;
  g_free (self->selected);
  self->selected = g_strdup (part);
  self->reveal_selected = part != NULL;
  queue_compose (self);
}

void
nappe_canvas_set_kind (NappeCanvas *self, NappePictureKind kind)
{
  if (self->kind == kind)
    return;
  self->kind = kind;
  queue_compose (self);
}

void
nappe_canvas_set_chart (NappeCanvas *self, NappeChartKind chart, const char *part)
{
  if (self->chart_part != NULL && self->chart == chart && g_str_equal (self->chart_part, part))
    return;
  g_free (self->chart_part);
  self->chart_part = g_strdup (part);
  self->chart = chart;
  queue_compose (self);
}

void
nappe_canvas_focus (NappeCanvas *self)
{
  NappeCanvasItem *item = nappe_canvas_items_find (self->items, self->selected);

  if (item == NULL || !gtk_widget_grab_focus (GTK_WIDGET (item)))
    gtk_widget_child_focus (GTK_WIDGET (self), GTK_DIR_TAB_FORWARD);
}

NappePictureKind
nappe_canvas_get_kind (NappeCanvas *self)
{
  return self->kind;
}

NappeShownState
nappe_canvas_get_shown (NappeCanvas *self)
{
  return self->shown;
}

NappePicture *
nappe_canvas_get_picture (NappeCanvas *self)
{
  return self->picture;
}

double
nappe_canvas_get_zoom (NappeCanvas *self)
{
  return self->camera.zoom;
}

void
nappe_canvas_set_zoom (NappeCanvas *self, double zoom)
{
  if (nappe_camera_zoom_at (&self->camera, zoom, self->camera.view_width / 2.0, self->camera.view_height / 2.0))
    queue_compose (self);
}
