/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves of a time simulation, and the pictures at its moments: nothing collides, everything is said in words. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "picture-fixture.h"
#include "picture/curves/curves.h"
#include "picture/picture-private.h"

/* Boxes of neighbouring lines may share an edge; less than this is no overlap [px]. */
#define TOUCH 0.5

static const double sizes[][2]
    = { { 1200, 700 }, { 900, 320 }, { 640, 480 }, { 420, 300 }, { 360, 240 }, { 300, 700 }, { 200, 120 } };

static NappeCurvesOptions
options_of (double width, double height)
{
  return (NappeCurvesOptions) { .palette = NAPPE_PALETTE_LIGHT, .units = NAPPE_UNITS_METRIC, .width = width, .height = height,
                                .text_scale = 1, .title = TRUE, .cursor = NAN };
}

/* Plays the first case whose id begins so. */
static NappeSimulation *
play (PictureFixture *fixture, const char *id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) plans = nappe_plans_of (fixture->build, fixture->study);
  guint i = 0;
  while (i < plans->len && !g_str_has_prefix (((NappePlan *) plans->pdata[i])->id, id))
    i++;
  if (i == plans->len)
    g_error ("there is no case “%s”", id);
  NappeSimulation *course = nappe_simulation_new (fixture->study, plans->pdata[i], 0, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  return course;
}

static NappeBox
label_box (const NappePictureLabel *label)
{
  return nappe_box_grown ((NappeBox) { label->x, label->y, label->width, label->height }, -TOUCH / 2);
}

static void
check_labels (NappePicture *picture, const char *what)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  NappeBox paper = nappe_box_grown ((NappeBox) { 0, 0, picture->width, picture->height }, TOUCH);
  for (guint i = 0; i < n; i++)
    {
      NappeBox box = label_box (&labels[i]);
      if (!nappe_box_within (&box, &paper))
        g_test_fail_printf ("%s: “%s” at %.0f,%.0f %.0f×%.0f leaves the paper", what, labels[i].text, box.x, box.y, box.width,
                            box.height);
      for (guint k = i + 1; k < n; k++)
        {
          NappeBox other = label_box (&labels[k]);
          if (nappe_box_overlaps (&box, &other))
            g_test_fail_printf ("%s: “%s” lies on “%s”", what, labels[i].text, labels[k].text);
        }
    }
}

static void
test_labels (gconstpointer name)
{
  static const char *const cases[] = { "restart", "block-", "leak" };
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  for (guint c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      g_autoptr (NappeSimulation) course = play (fixture, cases[c]);
      for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
        for (NappePaletteKind palette = NAPPE_PALETTE_LIGHT; palette <= NAPPE_PALETTE_PRINT; palette++)
          {
            NappeCurvesOptions options = options_of (sizes[size][0], sizes[size][1]);
            options.palette = palette;
            options.units = palette == NAPPE_PALETTE_PRINT ? NAPPE_UNITS_US : NAPPE_UNITS_METRIC;
            options.text_scale = palette == NAPPE_PALETTE_DARK ? 1.4 : 1;
            g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
            g_autofree char *what = g_strdup_printf ("%s %s %.0f×%.0f palette %d", (const char *) name, cases[c], options.width,
                                                     options.height, palette);
            check_labels (picture, what);
          }
    }
}

static gboolean
has_label (NappePicture *picture, const char *part)
{
  guint n;
  const NappePictureLabel *labels = nappe_picture_labels (picture, &n);
  for (guint i = 0; i < n; i++)
    if (strstr (labels[i].text, part))
      return TRUE;
  return FALSE;
}

/* Display, return chamber, pump and drain of a flood are named and described; so are the rim and the floor. */
static void
test_says_all (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "block-");
  NappeCurvesOptions options = options_of (1200, 700);
  g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
  const NappeNetwork *network = course->network;
  g_assert_cmpfloat (course->spilled, >, 0);
  g_assert_nonnull (picture_item (picture, network->nodes[network->display].id));
  g_assert_nonnull (picture_item (picture, network->nodes[network->return_chamber].id));
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PUMP || network->links[i].kind == NAPPE_LINK_DRAIN)
      g_assert_nonnull (picture_item (picture, network->links[i].id));
  /* Two panels of levels have two names. */
  g_assert_true (has_label (picture, "Upper levels"));
  g_assert_true (has_label (picture, "Lower levels"));
  g_assert_false (has_label (picture, "Levels over"));
  g_assert_true (has_label (picture, "rim: "));
  g_assert_true (has_label (picture, "on the floor"));
  g_assert_true (has_label (picture, course->plan->title));
}

static void
test_chosen_vessels (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "power-cut");
  const NappeNetwork *network = course->network;
  const char *vessels[] = { network->nodes[network->display].id, NULL };
  NappeCurvesOptions options = options_of (900, 500);
  options.vessels = vessels;
  g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
  g_assert_true (has_label (picture, "Levels over the floor"));
  g_assert_nonnull (picture_item (picture, vessels[0]));
  g_assert_null (picture_item (picture, network->nodes[network->return_chamber].id));
}

/* The picked vessel has a curve, whatever else has one. */
static void
test_picked (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "power-cut");
  const NappeNetwork *network = course->network;
  const char *vessels[] = { network->nodes[network->display].id, NULL };
  NappeCurvesOptions options = options_of (900, 500);
  options.vessels = vessels;
  options.selected = network->nodes[network->return_chamber].id;
  g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
  g_assert_nonnull (picture_item (picture, vessels[0]));
  g_assert_nonnull (picture_item (picture, options.selected));
}

/* Places and times answer each other, and what is outside is brought inside. */
static void
test_places (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "power-cut");
  NappeCurvesOptions options = options_of (900, 500);
  g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
  double top, bottom;
  nappe_curves_span (picture, &top, &bottom);
  g_assert_cmpfloat (top, >, 0);
  g_assert_cmpfloat (bottom, >, top + 200);
  g_assert_cmpfloat (bottom, <, 500);
  for (double time = 0; time <= course->end_time; time += course->end_time / 7)
    g_assert_cmpfloat_with_epsilon (nappe_curves_time (picture, nappe_curves_x (picture, time)), time, 1e-6 * course->end_time);
  g_assert_cmpfloat (nappe_curves_time (picture, -50), ==, 0);
  g_assert_cmpfloat (nappe_curves_time (picture, 5000), ==, course->end_time);
}

/* A stretch of the time fills the paper, with the events of that stretch alone; nonsense shows all. */
static void
test_stretch (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  NappeCurvesOptions options = options_of (900, 500);
  g_autoptr (NappePicture) whole = nappe_curves_new (&options, fixture->build, course);
  options.first = 8;
  options.last = 30;
  g_autoptr (NappePicture) part = nappe_curves_new (&options, fixture->build, course);
  g_assert_cmpfloat_with_epsilon (nappe_curves_time (part, 0), 8, 1e-9);
  g_assert_cmpfloat_with_epsilon (nappe_curves_time (part, 900), 30, 1e-9);
  g_assert_cmpfloat (nappe_curves_x (part, 20), >, nappe_curves_x (whole, 20) + 100);
  g_assert_true (has_label (part, "1"));
  check_labels (part, "a stretch of time");
  options.first = 30;
  options.last = 8;
  g_autoptr (NappePicture) odd = nappe_curves_new (&options, fixture->build, course);
  g_assert_cmpfloat_with_epsilon (nappe_curves_time (odd, 900), course->end_time, 1e-9);
}

/* Without frames, or with numbers that are none, there is a picture still. */
static void
test_empty (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("two-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "power-cut");
  NappeCurvesOptions options = options_of (NAN, -3);
  options.text_scale = NAN;
  g_autoptr (NappePicture) odd = nappe_curves_new (&options, fixture->build, course);
  options = options_of (600, 300);
  guint n_frames = course->n_frames;
  course->n_frames = 0;
  g_autoptr (NappePicture) empty = nappe_curves_new (&options, fixture->build, course);
  g_assert_true (has_label (empty, "no curves"));
  course->n_frames = n_frames;
  for (guint f = 0; f < n_frames; f++)
    course->level[f * course->network->n_nodes + course->network->display] = NAN;
  g_autoptr (NappePicture) unknown = nappe_curves_new (&options, fixture->build, course);
  g_assert_null (picture_item (unknown, course->network->nodes[course->network->display].id));
}

/* As many events as a simulation may have share marks that stand side by side, and are drawn in good time. */
static void
test_many_events (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  NappeCurvesOptions options = options_of (900, 500);
  gint64 start = g_get_monotonic_time ();
  course->n_events = NAPPE_SIMULATION_EVENTS_MAX;
  course->events = g_renew (NappeEvent, course->events, course->n_events);
  for (guint i = 0; i < course->n_events; i++)
    course->events[i] = (NappeEvent) { .time = course->end_time * pow ((double) i / course->n_events, 2),
                                       .kind = i % 2 ? NAPPE_EVENT_PRIMES : NAPPE_EVENT_BREAKS };
  g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
  check_labels (picture, "many events");
  g_assert_true (has_label (picture, "1–"));
  g_assert_cmpint (g_get_monotonic_time () - start, <, 5 * G_USEC_PER_SEC);
}

static void
test_export (void)
{
  static const char *const endings[] = { ".svg", ".png", ".pdf" };
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("nappe-curves-XXXXXX", &error);
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  NappeCurvesOptions options = options_of (900, 600);
  options.palette = NAPPE_PALETTE_PRINT;
  options.cursor = 60;
  g_autoptr (NappePicture) picture = nappe_curves_new (&options, fixture->build, course);
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    {
      g_autofree char *path = g_strconcat (folder, "/curves", endings[i], NULL);
      GStatBuf status;
      nappe_picture_export (picture, path, 1, &error);
      g_assert_no_error (error);
      g_assert_cmpint (g_stat (path, &status), ==, 0);
      g_assert_cmpint (status.st_size, >, 2000);
      g_unlink (path);
    }
  g_rmdir (folder);
}

static NappePicture *
moment_of (PictureFixture *fixture, NappePictureKind kind, const NappeSimulation *course, double time, double width,
           double height)
{
  NappePictureOptions options = picture_options (kind, width, height, NAPPE_SHOW_MOMENT);
  options.course = course;
  options.moment = time;
  return picture_of (fixture, &options);
}

/* At the start the moment is the running state; later the water has moved, and what flows is said. */
static void
test_moment (gconstpointer kind)
{
  NappePictureKind wanted = GPOINTER_TO_INT (kind);
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "block-");
  const char *display = course->network->nodes[course->network->display].id;
  g_autoptr (NappePicture) first = moment_of (fixture, wanted, course, 0, 1400, 900);
  g_autoptr (NappePicture) last = moment_of (fixture, wanted, course, course->end_time, 1400, 900);
  g_assert_cmpstr (picture_item (first, display)->description, !=, picture_item (last, display)->description);
  g_assert_false (has_label (first, "on the floor"));
  g_assert_true (has_label (last, "on the floor"));
  g_assert_true (has_label (last, course->plan->title));
}

static void
test_moment_labels (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
    for (guint k = 0; k <= 8; k++)
      {
        double time = course->end_time * k / 8;
        g_autofree char *what = g_strdup_printf ("%s %.0f×%.0f after %.0f s", (const char *) name, sizes[size][0],
                                                 sizes[size][1], time);
        /* Narrower paper is too small for a flow diagram. */
        NappePictureKind last = sizes[size][0] >= 420 ? NAPPE_PICTURE_FLOW : NAPPE_PICTURE_ELEVATION;
        for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= last; kind++)
          {
            g_autoptr (NappePicture) picture = moment_of (fixture, kind, course, time, sizes[size][0], sizes[size][1]);
            check_labels (picture, what);
          }
      }
}

/* The flow diagram says at every moment what flows then, and keeps its parts where they are. */
static void
test_flow_moment (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  const char *id = nappe_part_get_id (fixture->layout->drains[0].part);
  g_autoptr (NappePicture) running = moment_of (fixture, NAPPE_PICTURE_FLOW, course, 0, 1200, 800);
  g_autoptr (NappePicture) still = moment_of (fixture, NAPPE_PICTURE_FLOW, course, 500, 1200, 800);
  const NappePictureItem *before = picture_item (running, id), *after = picture_item (still, id);
  double flow = nappe_simulation_flow (course, (guint) nappe_network_find_link (course->network, NAPPE_LINK_DRAIN, id), 0);
  g_autofree char *figure = nappe_quantity_format (NAPPE_QUANTITY_FLOW, flow, NAPPE_UNITS_METRIC, 0);
  g_assert_nonnull (strstr (before->description, figure));
  g_assert_nonnull (strstr (after->description, "no flow"));
  g_assert_cmpfloat (before->x, ==, after->x);
  g_assert_cmpfloat (before->width, ==, after->width);
  g_assert_true (has_label (still, course->plan->title));
}

/* A simulation of another network is not drawn as this one's. */
static void
test_foreign_course (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("single-drain");
  g_autoptr (PictureFixture) other = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (other, "power-cut");
  g_autoptr (NappePicture) picture = moment_of (fixture, NAPPE_PICTURE_ELEVATION, course, 10, 900, 600);
  g_autoptr (NappePicture) diagram = moment_of (fixture, NAPPE_PICTURE_FLOW, course, 10, 900, 600);
  g_assert_true (has_label (picture, "Drawn dry"));
  g_assert_true (has_label (diagram, "drawn dry"));
}

/* The same course gives the same curves, byte for byte. */
static void
test_repeatable (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappeSimulation) course = play (fixture, "restart");
  NappeCurvesOptions options = options_of (800, 500);
  g_autoptr (NappePicture) a = nappe_curves_new (&options, fixture->build, course);
  g_autoptr (NappePicture) b = nappe_curves_new (&options, fixture->build, course);
  g_autofree char *first = nappe_scene_describe (a->scene);
  g_autofree char *second = nappe_scene_describe (b->scene);
  g_assert_cmpstr (first, ==, second);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *curves = g_strconcat ("/picture/curves/labels/", drawn_names[i], NULL);
      g_autofree char *moment = g_strconcat ("/picture/curves/moment-labels/", drawn_names[i], NULL);
      g_test_add_data_func (curves, drawn_names[i], test_labels);
      g_test_add_data_func (moment, drawn_names[i], test_moment_labels);
    }
  g_test_add_func ("/picture/curves/says-all", test_says_all);
  g_test_add_func ("/picture/curves/chosen-vessels", test_chosen_vessels);
  g_test_add_func ("/picture/curves/picked", test_picked);
  g_test_add_func ("/picture/curves/places", test_places);
  g_test_add_func ("/picture/curves/stretch", test_stretch);
  g_test_add_func ("/picture/curves/empty", test_empty);
  g_test_add_func ("/picture/curves/many-events", test_many_events);
  g_test_add_func ("/picture/curves/export", test_export);
  g_test_add_data_func ("/picture/curves/moment", GINT_TO_POINTER (NAPPE_PICTURE_ELEVATION), test_moment);
  g_test_add_data_func ("/picture/curves/moment-flow", GINT_TO_POINTER (NAPPE_PICTURE_FLOW), test_moment);
  g_test_add_func ("/picture/curves/flow-moment", test_flow_moment);
  g_test_add_func ("/picture/curves/foreign-course", test_foreign_course);
  g_test_add_func ("/picture/curves/repeatable", test_repeatable);
  return g_test_run ();
}
