/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What belongs together moves together, and comes back together. */
#include "config.h"

#include "build/coupling.h"

#include <math.h>

typedef struct
{
  NappeBuild *build;
  NappePart *drain, *pipe, *left, *middle, *right;
} Fixture;

static NappePart *
insert (NappeBuild *build, NappePart *owner, const char *slot, GType type)
{
  g_autoptr (NappePart) part = g_object_new (type, NULL);
  g_autoptr (GError) error = NULL;

  nappe_build_insert (build, owner, slot, G_MAXUINT, part, &error);
  g_assert_no_error (error);
  return part;
}

static void
set (Fixture *fixture, NappePart *part, const char *field, double value)
{
  g_autoptr (GError) error = NULL;
  nappe_build_set_number (fixture->build, part, field, value, &error);
  g_assert_no_error (error);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build = nappe_build_new ();

  fixture->drain = insert (build, NAPPE_PART (build), "drains", NAPPE_TYPE_DRAIN);
  fixture->pipe = insert (build, fixture->drain, "run", NAPPE_TYPE_PIECE);
  fixture->left = insert (build, build->sump, "chambers", NAPPE_TYPE_CHAMBER);
  fixture->middle = insert (build, build->sump, "chambers", NAPPE_TYPE_CHAMBER);
  fixture->right = insert (build, build->sump, "chambers", NAPPE_TYPE_CHAMBER);
  set (fixture, fixture->drain, "crest_height", 0.3);
  set (fixture, fixture->drain, "mouth_height", 0.25);
  set (fixture, fixture->pipe, "length", 0.3);
  set (fixture, fixture->left, "length", 0.2);
  set (fixture, fixture->middle, "length", 0.3);
  set (fixture, fixture->right, "length", 0.4);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_object_unref (fixture->build);
}

static void
move (Fixture *fixture, NappePart *part, const char *field, double value)
{
  g_autoptr (GError) error = NULL;
  g_assert_true (nappe_build_set_coupled (fixture->build, part, field, value, &error));
  g_assert_no_error (error);
}

static void
test_crest (Fixture *fixture, gconstpointer data)
{
  move (fixture, fixture->drain, "crest_height", 0.35);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (fixture->pipe)->length, 0.35, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_DRAIN (fixture->drain)->mouth_height, 0.30, 1e-9);
  g_assert_false (nappe_is_given (NAPPE_DRAIN (fixture->drain)->break_height));
  nappe_build_undo (fixture->build);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (fixture->pipe)->length, 0.3, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_DRAIN (fixture->drain)->crest_height, 0.3, 1e-9);
}

/* A pipe that leads sideways does not carry its inlet. */
static void
test_crest_on_level_pipe (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  nappe_build_set_text (fixture->build, fixture->pipe, "toward", "left", &error);
  g_assert_no_error (error);
  move (fixture, fixture->drain, "crest_height", 0.35);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (fixture->pipe)->length, 0.3, 1e-9);
}

static void
test_chamber (Fixture *fixture, gconstpointer data)
{
  move (fixture, fixture->left, "length", 0.25);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->middle)->length, 0.25, 1e-9);
  move (fixture, fixture->right, "length", 0.5);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->middle)->length, 0.15, 1e-9);
}

static void
test_sump (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  double length = NAPPE_BUILD_SUMP (fixture->build)->length;

  move (fixture, fixture->build->sump, "length", length + 0.1);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->right)->length, 0.5, 1e-9);
  nappe_build_set_text (fixture->build, fixture->middle, "role", "return", &error);
  g_assert_no_error (error);
  move (fixture, fixture->build->sump, "length", length + 0.2);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->middle)->length, 0.4, 1e-9);
}

/* Inlets keep their height over the room's floor; those of other boxes are left alone. */
static void
test_floor (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  NappePart *box = insert (fixture->build, NAPPE_PART (fixture->build), "overflows", NAPPE_TYPE_OVERFLOW);
  NappePart *other = insert (fixture->build, NAPPE_PART (fixture->build), "drains", NAPPE_TYPE_DRAIN);

  nappe_build_set_text (fixture->build, fixture->drain, "overflow", nappe_part_get_id (box), &error);
  g_assert_no_error (error);
  set (fixture, other, "crest_height", 0.4);
  move (fixture, box, "floor_height", 0.05);
  g_assert_cmpfloat_with_epsilon (NAPPE_DRAIN (fixture->drain)->crest_height, 0.25, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_DRAIN (fixture->drain)->mouth_height, 0.20, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (fixture->pipe)->length, 0.3, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_DRAIN (other)->crest_height, 0.4, 1e-9);
}

/* What joins the two boxes of an overflow goes with the inner one; an internal box has none. */
static void
test_joints (Fixture *fixture, gconstpointer data)
{
  NappePart *box = insert (fixture->build, NAPPE_PART (fixture->build), "overflows", NAPPE_TYPE_OVERFLOW);

  set (fixture, box, "joint_height", 0.4);
  move (fixture, box, "weir_height", NAPPE_OVERFLOW (box)->weir_height + 0.05);
  g_assert_cmpfloat_with_epsilon (NAPPE_OVERFLOW (box)->joint_height, 0.4, 1e-9);
  set (fixture, box, "style", NAPPE_OVERFLOW_RIM);
  move (fixture, box, "weir_height", NAPPE_OVERFLOW (box)->weir_height + 0.05);
  g_assert_cmpfloat_with_epsilon (NAPPE_OVERFLOW (box)->joint_height, 0.45, 1e-9);
  move (fixture, box, "inner_depth", NAPPE_OVERFLOW (box)->inner_depth - 0.02);
  g_assert_cmpfloat_with_epsilon (NAPPE_OVERFLOW (box)->joint_height, 0.47, 1e-9);
}

/* The first pipe that leads up makes room for the pump; one that leads sideways before it does not. */
static void
test_pump (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  NappePart *line = insert (fixture->build, NAPPE_PART (fixture->build), "returns", NAPPE_TYPE_RETURN_LINE);
  NappePart *aside = insert (fixture->build, line, "run", NAPPE_TYPE_PIECE);
  NappePart *up = insert (fixture->build, line, "run", NAPPE_TYPE_PIECE);
  NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (line)->pump);
  double inlet = pump->inlet_height, outlet = pump->outlet_height;

  nappe_build_set_text (fixture->build, aside, "toward", "left", &error);
  nappe_build_set_text (fixture->build, up, "toward", "up", &error);
  g_assert_no_error (error);
  set (fixture, aside, "length", 0.2);
  set (fixture, up, "length", 1.0);
  move (fixture, NAPPE_PART (pump), "inlet_height", inlet + 0.04);
  g_assert_cmpfloat_with_epsilon (pump->outlet_height, outlet + 0.04, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (up)->length, 0.96, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (aside)->length, 0.2, 1e-9);
}

static NappePart *
add_pipe (Fixture *fixture, NappePart *owner, const char *toward, double length)
{
  g_autoptr (GError) error = NULL;
  NappePart *pipe = insert (fixture->build, owner, "run", NAPPE_TYPE_PIECE);

  nappe_build_set_text (fixture->build, pipe, "toward", toward, &error);
  g_assert_no_error (error);
  set (fixture, pipe, "length", length);
  return pipe;
}

static NappePart *
lead (Fixture *fixture, NappePart *line, NappePart *into)
{
  g_autoptr (GError) error = NULL;
  NappePart *outlet = insert (fixture->build, line, "outlets", NAPPE_TYPE_OUTLET);

  nappe_build_set_text (fixture->build, outlet, "into", nappe_part_get_id (into), &error);
  g_assert_no_error (error);
  return outlet;
}

/* The pipe in the box stays; of those below it the longest takes the move. */
static void
test_stand (Fixture *fixture, gconstpointer data)
{
  NappePart *box = insert (fixture->build, NAPPE_PART (fixture->build), "overflows", NAPPE_TYPE_OVERFLOW);
  NappePart *aside, *below, *end;
  g_autoptr (GError) error = NULL;
  double height = NAPPE_BUILD_STAND (fixture->build)->height;

  nappe_build_set_text (fixture->build, fixture->drain, "overflow", nappe_part_get_id (box), &error);
  below = add_pipe (fixture, fixture->drain, "down", 0.1);
  aside = add_pipe (fixture, fixture->drain, "left", 0.2);
  end = add_pipe (fixture, fixture->drain, "down", 0.25);
  lead (fixture, fixture->drain, fixture->left);
  move (fixture, fixture->build->stand, "height", height - 0.2);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (end)->length, 0.05, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (below)->length, 0.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (aside)->length, 0.2, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (fixture->pipe)->length, 0.3, 1e-9);
  /* Now `below` is the longer one, but not long enough. */
  g_assert_false (nappe_build_set_coupled (fixture->build, fixture->build->stand, "height", height - 0.35, &error));
  g_assert_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE);
  g_assert_cmpfloat_with_epsilon (NAPPE_BUILD_STAND (fixture->build)->height, height - 0.2, 1e-9);
  nappe_build_undo (fixture->build);
  move (fixture, fixture->build->sump, "base_height", NAPPE_BUILD_SUMP (fixture->build)->base_height + 0.1);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (end)->length, 0.15, 1e-9);
}

/* A pipe that leads to a side leads to the other one when that is where the sump went; its fall stays. */
static void
test_turns_round (Fixture *fixture, gconstpointer data)
{
  NappePart *aside = add_pipe (fixture, fixture->drain, "left", 0.05);
  double x = NAPPE_BUILD_SUMP (fixture->build)->x;

  set (fixture, aside, "fall", 0.03);
  lead (fixture, fixture->drain, fixture->left);
  move (fixture, fixture->build->sump, "x", x + 0.1);
  g_assert_cmpint (NAPPE_PIECE (aside)->toward, ==, NAPPE_TOWARD_RIGHT);
  /* 40 mm to the left have become 60 mm to the right. */
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (aside)->length, hypot (0.06, 0.03), 1e-6);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (aside)->fall, 0.03, 1e-9);
}

/* What a return line and its branch into the sump share must not change when the tank alone is moved. */
static void
test_branches (Fixture *fixture, gconstpointer data)
{
  NappePart *line = insert (fixture->build, NAPPE_PART (fixture->build), "returns", NAPPE_TYPE_RETURN_LINE);
  NappePart *trunk, *up, *down, *tank, *branch;
  g_autoptr (GError) error = NULL;

  nappe_build_set_text (fixture->build, NAPPE_RETURN_LINE (line)->pump, "chamber", nappe_part_get_id (fixture->right), &error);
  trunk = add_pipe (fixture, line, "up", 0.5);
  tank = lead (fixture, line, fixture->build->tank);
  branch = lead (fixture, line, fixture->left);
  nappe_build_set_text (fixture->build, branch, "tee", nappe_part_get_id (trunk), &error);
  g_assert_no_error (error);
  up = add_pipe (fixture, tank, "up", 0.4);
  down = add_pipe (fixture, branch, "down", 0.3);
  move (fixture, fixture->build->stand, "height", NAPPE_BUILD_STAND (fixture->build)->height + 0.1);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (trunk)->length, 0.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (down)->length, 0.3, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (up)->length, 0.5, 1e-9);
}

/* A higher tank has its weir, its inlets and its light as far under and over its rim as before. */
static void
test_rim (Fixture *fixture, gconstpointer data)
{
  NappePart *box = insert (fixture->build, NAPPE_PART (fixture->build), "overflows", NAPPE_TYPE_OVERFLOW);
  NappePart *light = insert (fixture->build, NAPPE_PART (fixture->build), "equipment", NAPPE_TYPE_EQUIPMENT);
  g_autoptr (GError) error = NULL;
  double weir = NAPPE_OVERFLOW (box)->weir_height, height = NAPPE_BUILD_TANK (fixture->build)->height;

  nappe_build_set_text (fixture->build, fixture->drain, "overflow", nappe_part_get_id (box), &error);
  nappe_build_set_text (fixture->build, light, "where", nappe_part_get_id (fixture->build->tank), &error);
  nappe_build_set_text (fixture->build, light, "kind", "light", &error);
  g_assert_no_error (error);
  move (fixture, fixture->build->tank, "height", height + 0.1);
  g_assert_cmpfloat_with_epsilon (NAPPE_OVERFLOW (box)->weir_height, weir + 0.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_OVERFLOW (box)->floor_height, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_DRAIN (fixture->drain)->crest_height, 0.4, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (fixture->pipe)->length, 0.4, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_EQUIPMENT (light)->base_height, 0.1, 1e-9);
}

/* A thicker wall takes its room from the longer chamber. */
static void
test_wall (Fixture *fixture, gconstpointer data)
{
  NappePart *wall = insert (fixture->build, fixture->build->sump, "baffles", NAPPE_TYPE_BAFFLE);

  move (fixture, wall, "thickness", NAPPE_BAFFLE (wall)->thickness + 0.004);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->middle)->length, 0.296, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->left)->length, 0.2, 1e-9);
}

/* The neighbour cannot give more than it has: nothing moves. */
static void
test_refused (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_build_set_coupled (fixture->build, fixture->left, "length", 5, &error));
  g_assert_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->left)->length, 0.2, 1e-9);
  g_assert_cmpfloat_with_epsilon (NAPPE_CHAMBER (fixture->middle)->length, 0.3, 1e-9);
}

#define ADD(name, function) g_test_add ("/build/coupling/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("crest", test_crest);
  ADD ("crest-on-level-pipe", test_crest_on_level_pipe);
  ADD ("chamber", test_chamber);
  ADD ("sump", test_sump);
  ADD ("floor", test_floor);
  ADD ("joints", test_joints);
  ADD ("pump", test_pump);
  ADD ("stand", test_stand);
  ADD ("turns-round", test_turns_round);
  ADD ("branches", test_branches);
  ADD ("rim", test_rim);
  ADD ("wall", test_wall);
  ADD ("refused", test_refused);
  return g_test_run ();
}
