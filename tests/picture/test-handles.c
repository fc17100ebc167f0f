/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A handle stays under the pointer that drags it: where a number is changed by what a stretch of the paper counts, the handle is
 * found at the end of that stretch. */
#include <math.h>

#include "build/coupling.h"
#include "picture-fixture.h"
#include "file/file.h"
#include "picture/handles.h"

#define WIDTH 1400
#define HEIGHT 900

static NappePicture *
draw (PictureFixture *fixture, NappePictureKind kind, const NappePicture *earlier)
{
  NappePictureOptions options = picture_options (kind, WIDTH, HEIGHT, NAPPE_SHOW_RUNNING);
  options.earlier = earlier;
  options.hold = earlier != NULL;
  return picture_of (fixture, &options);
}

/* Of what the build is now. */
static void
place_again (PictureFixture *fixture)
{
  nappe_layout_free (fixture->layout);
  fixture->layout = nappe_layout_new (fixture->build, fixture->catalogue);
}

static const NappeHandle *
find (NappePicture *picture, const NappeHandle *like)
{
  guint n;
  const NappeHandle *handles = nappe_picture_handles (picture, &n);
  for (guint i = 0; i < n; i++)
    if (g_str_equal (handles[i].part, like->part) && g_str_equal (handles[i].field, like->field)
        && g_str_equal (handles[i].picked, like->picked))
      return &handles[i];
  return NULL;
}

/* As far as eight pixels go, away from the nearer end of the range. */
static double
stretch_of (const NappeHandle *handle)
{
  double up = (handle->most - handle->value) / fabs (handle->per_pixel);
  return (up > 8 ? 8 : -8) * (handle->per_pixel > 0 ? 1 : -1);
}

static void
drag (PictureFixture *fixture, NappePictureKind kind, NappePicture *before, const NappeHandle *handle)
{
  g_autoptr (GError) error = NULL;
  NappePart *part = nappe_build_find (fixture->build, handle->part);
  double stretch = stretch_of (handle), wanted = handle->value + stretch * handle->per_pixel;
  g_assert_nonnull (part);
  if (wanted < handle->least)
    return;
  g_assert_true (nappe_build_set_coupled (fixture->build, part, handle->field, wanted, &error));
  g_assert_no_error (error);
  place_again (fixture);
  {
    g_autoptr (NappePicture) after = draw (fixture, kind, before);
    const NappeHandle *moved = find (after, handle);
    double along = moved ? (handle->upright ? handle->y - moved->y : moved->x - handle->x) : NAN;
    g_assert_nonnull (moved);
    if (!(fabs (along - stretch) < 0.1))
      {
        g_test_message ("%s of %s went %g px, not %g", handle->field, handle->part, along, stretch);
        g_test_fail ();
      }
    g_assert_cmpfloat_with_epsilon (moved->value, wanted, 1e-5);
  }
  nappe_build_undo (fixture->build);
  place_again (fixture);
}

static void
test_follow (gconstpointer name)
{
  /* Of the panes a rim overflow has none but those that its drains leave through. */
  static const struct { NappePictureKind kind; guint least; } pictures[] = {
    { NAPPE_PICTURE_ELEVATION, 21 }, { NAPPE_PICTURE_PLAN, 8 }, { NAPPE_PICTURE_PANELS, 1 },
  };
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  for (guint k = 0; k < G_N_ELEMENTS (pictures); k++)
    {
      g_autoptr (NappePicture) before = draw (fixture, pictures[k].kind, NULL);
      guint n;
      const NappeHandle *handles = nappe_picture_handles (before, &n);
      g_assert_cmpuint (n, >=, pictures[k].least);
      for (guint i = 0; i < n; i++)
        drag (fixture, pictures[k].kind, before, &handles[i]);
    }
  g_assert_false (nappe_build_can_undo (fixture->build));
}

/* Both ends of every range can be entered, and what lies beyond is not offered. */
static void
test_range (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_ELEVATION, NULL);
  guint n;
  const NappeHandle *handles = nappe_picture_handles (picture, &n);
  for (guint i = 0; i < n; i++)
    {
      NappePart *part = nappe_build_find (fixture->build, handles[i].part);
      const double ends[] = { handles[i].least, handles[i].most };
      g_assert_cmpfloat (handles[i].least, <=, handles[i].value);
      g_assert_cmpfloat (handles[i].most, >=, handles[i].value);
      for (guint end = 0; end < G_N_ELEMENTS (ends); end++)
        {
          g_autoptr (GError) error = NULL;
          nappe_build_set_coupled (fixture->build, part, handles[i].field, ends[end], &error);
          g_assert_no_error (error);
          nappe_build_undo (fixture->build);
        }
    }
}

/* ---- what belongs along ---- */

/* Of an outlet's end what counts in its vessel: heights over what holds the water, and places from the left [m]. */
typedef struct
{
  double over, beside;
  gboolean bends; /* a pipe leads sideways in it, so that it can follow */
} End;

static gboolean
leads_aside (const NappeRoute *route, guint n)
{
  for (guint i = 0; i < n; i++)
    if (route->legs[i].piece->length > 0
        && (route->legs[i].piece->toward == NAPPE_TOWARD_LEFT || route->legs[i].piece->toward == NAPPE_TOWARD_RIGHT))
      return TRUE;
  return FALSE;
}

static NappeFrame
frame_of (const NappeLayout *layout, const char *id)
{
  for (guint i = 0; i < layout->n_chambers; i++)
    if (g_str_equal (id, nappe_part_get_id (NAPPE_PART (layout->chambers[i].part))))
      return layout->chambers[i].frame;
  for (guint i = 0; i < layout->n_socks; i++)
    if (g_str_equal (id, nappe_part_get_id (NAPPE_PART (layout->socks[i].part))))
      return layout->socks[i].frame;
  for (guint i = 0; i < layout->n_vessels; i++)
    if (g_str_equal (id, nappe_part_get_id (NAPPE_PART (layout->vessels[i].part))))
      return layout->vessels[i].frame;
  for (guint i = 0; i < layout->n_returns; i++)
    for (guint k = 0; k < layout->returns[i].trunk.n_legs; k++)
      {
        const NappeLeg *tee = &layout->returns[i].trunk.legs[k];
        if (g_str_equal (id, nappe_part_get_id (NAPPE_PART (tee->piece))))
          return (NappeFrame){ .left = tee->to.x, .floor = tee->to.z };
      }
  /* Nozzles go with the rim, and with the tank's middle. */
  NappeFrame tank = layout->tank;
  tank.floor = tank.rim;
  tank.left = 0.5 * (tank.left + tank.right);
  return tank;
}

/* Ends of all lines. Transfer full. */
static GArray *
ends_of (const NappeLayout *layout)
{
  GArray *ends = g_array_new (FALSE, FALSE, sizeof (End));
  for (guint i = 0; i < layout->n_drains + layout->n_returns; i++)
    {
      const NappeLineLayout *line = i < layout->n_drains ? &layout->drains[i] : &layout->returns[i - layout->n_drains];
      for (guint o = 0; o < line->n_outlets; o++)
        {
          const NappeOutletLayout *outlet = &line->outlets[o];
          NappeFrame frame = frame_of (layout, outlet->part->into);
          guint before = outlet->tee_leg >= 0 ? (guint) outlet->tee_leg : line->trunk.n_legs;
          End end = { outlet->route.end.z - frame.floor, outlet->route.end.x - frame.left,
                      leads_aside (&outlet->route, outlet->route.n_legs) || leads_aside (&line->trunk, before) };
          g_array_append_val (ends, end);
        }
    }
  return ends;
}

/* Numbers that move a vessel, an inlet or a pump, and whether that is up and down. */
static gboolean
moves_whole (NappePart *part, const char *field, gboolean *upright)
{
  static const char *const heights[] = { "base_height", "floor_height", "crest_height", "inlet_height", "outlet_height", NULL };
  *upright = g_strv_contains (heights, field) || (!NAPPE_IS_SUMP (part) && g_str_equal (field, "height"));
  if (NAPPE_IS_PIECE (part) || NAPPE_IS_OUTLET (part) || NAPPE_IS_CHAMBER (part))
    return FALSE;
  return *upright || g_str_equal (field, "x") || (!NAPPE_IS_SUMP (part) && g_str_equal (field, "length"));
}

static void
compare_ends (PictureFixture *fixture, const GArray *before, const NappeHandle *handle, gboolean upright)
{
  g_autoptr (GArray) after = ends_of (fixture->layout);
  g_assert_cmpuint (after->len, ==, before->len);
  for (guint i = 0; i < after->len; i++)
    {
      const End *one = &g_array_index (before, End, i), *other = &g_array_index (after, End, i);
      double off = upright || !one->bends ? other->over - one->over
                                          : hypot (other->over - one->over, other->beside - one->beside);
      if (fabs (off) > 0.0025)
        {
          g_test_message ("%s of %s from %g: end %u is %.1f mm off", handle->field, handle->part, handle->value, i, 1000 * off);
          g_test_fail ();
        }
    }
}

static void
take_to (PictureFixture *fixture, const NappeHandle *handle, double value, const GArray *ends)
{
  g_autoptr (GError) error = NULL;
  NappePart *part = nappe_build_find (fixture->build, handle->part);
  gboolean upright;
  nappe_build_set_coupled (fixture->build, part, handle->field, value, &error);
  g_assert_no_error (error);
  place_again (fixture);
  if (moves_whole (part, handle->field, &upright))
    compare_ends (fixture, ends, handle, upright);
  {
    g_autoptr (NappeNetwork) network = nappe_network_compile (fixture->build, fixture->layout, fixture->catalogue);
    g_assert_cmpuint (network->n_problems, <=, fixture->study->network->n_problems);
  }
  while (nappe_build_can_undo (fixture->build))
    nappe_build_undo (fixture->build);
  place_again (fixture);
}

/* Wherever a vessel, an inlet or a pump is dragged, lines still end where they did in what they lead to; the network can be
 * compiled; and undoing gives back every byte. */
static void
test_carried (gconstpointer name)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new (name);
  g_autofree char *before = nappe_file_write_text (fixture->build, NULL);
  g_autoptr (GArray) ends = ends_of (fixture->layout);
  for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
    {
      g_autoptr (NappePicture) picture = draw (fixture, kind, NULL);
      guint n;
      const NappeHandle *handles = nappe_picture_handles (picture, &n);
      for (guint i = 0; i < n; i++)
        {
          double some = CLAMP (handles[i].value + 0.03, handles[i].least, handles[i].most);
          take_to (fixture, &handles[i], handles[i].least, ends);
          take_to (fixture, &handles[i], some, ends);
          take_to (fixture, &handles[i], handles[i].most, ends);
          g_autofree char *after = nappe_file_write_text (fixture->build, NULL);
          g_assert_cmpstr (after, ==, before);
        }
    }
}

static void
expect (NappePicture *picture, const char *part, const char *field, gboolean upright)
{
  const NappeHandle like = { .part = part, .field = field, .picked = part };
  const NappeHandle *handle = find (picture, &like);
  g_assert_nonnull (handle);
  g_assert_cmpint (handle->upright, ==, upright);
}

/* Every number of the first demo that a planner sees in the drawing. */
static void
test_kinds (void)
{
  g_autoptr (PictureFixture) fixture = picture_fixture_new ("three-drain");
  g_autoptr (NappePicture) picture = draw (fixture, NAPPE_PICTURE_ELEVATION, NULL);
  NappeBuild *build = fixture->build;
  NappeReturnLine *line = build->returns->pdata[0];
  expect (picture, nappe_part_get_id (build->tank), "length", FALSE);
  expect (picture, nappe_part_get_id (build->tank), "height", TRUE);
  expect (picture, nappe_part_get_id (build->sump), "length", FALSE);
  expect (picture, nappe_part_get_id (build->sump), "x", FALSE);
  expect (picture, nappe_part_get_id (build->sump), "height", TRUE);
  expect (picture, nappe_part_get_id (build->overflows->pdata[0]), "weir_height", TRUE);
  expect (picture, nappe_part_get_id (build->overflows->pdata[0]), "floor_height", TRUE);
  expect (picture, nappe_part_get_id (build->overflows->pdata[0]), "length", FALSE);
  expect (picture, nappe_part_get_id (build->drains->pdata[0]), "crest_height", TRUE);
  expect (picture, nappe_part_get_id (NAPPE_BUILD_SUMP (build)->baffles->pdata[0]), "top_height", TRUE);
  expect (picture, nappe_part_get_id (NAPPE_BUILD_SUMP (build)->chambers->pdata[0]), "length", FALSE);
  expect (picture, nappe_part_get_id (line->pump), "x", FALSE);
  expect (picture, nappe_part_get_id (line->pump), "inlet_height", TRUE);
  expect (picture, nappe_part_get_id (build->equipment->pdata[0]), "x", FALSE);
  expect (picture, nappe_part_get_id (build->equipment->pdata[0]), "base_height", TRUE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < DRAWN_COUNT; i++)
    {
      g_autofree char *follow = g_strconcat ("/handles/follow/", drawn_names[i], NULL);
      g_autofree char *range = g_strconcat ("/handles/range/", drawn_names[i], NULL);
      g_test_add_data_func (follow, drawn_names[i], test_follow);
      g_autofree char *carried = g_strconcat ("/handles/carried/", drawn_names[i], NULL);
      g_test_add_data_func (carried, drawn_names[i], test_carried);
      g_test_add_data_func (range, drawn_names[i], test_range);
    }
  g_test_add_func ("/handles/kinds", test_kinds);
  return g_test_run ();
}
