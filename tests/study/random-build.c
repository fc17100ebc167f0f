/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random-build.h"

#include <string.h>

#define MOST_CHAMBERS 8
#define MOST_BOXES 2
#define MOST_DRAINS 6
/* Underside of the sump, its bottom and that of the tank [mm]. */
#define SUMP_FLOOR 38.0
#define TANK_BOTTOM 10.0

static const char *const sizes[] = { "0.5", "0.75", "1", "1.25", "1.5", "2" };
static const char *const valve_kinds[] = { "gate", "ball", "globe", "diaphragm" };
static const char *const box_styles[] = { "internal", "external", "slim", "rim" };

/* What is drawn once and needed in several places. Lengths in mm, as in the file. */
typedef struct
{
  GRand *random;
  GString *text;
  double tank_length, tank_width, tank_height, stand_height;
  double weir_height;  /* over the tank's floor */
  double flow;         /* wanted [L/h] */
  guint n_boxes, n_drains, n_returns, n_chambers;
  double box_floor[MOST_BOXES]; /* over the tank's floor */
  double crest[MOST_BOXES];     /* of the lowest drain, over the tank's floor */
  const char *chamber[MOST_CHAMBERS];
  const char *chamber_role[MOST_CHAMBERS];
  double sump_height, kept_level, first_top;
  gboolean has_refugium, has_socks, has_vessel, has_reservoir, joined;
} Draw;

static double
between (Draw *self, double least, double most)
{
  return g_rand_int_range (self->random, (gint) least, (gint) most + 1);
}

static gboolean
chance (Draw *self, double share)
{
  return g_rand_double (self->random) < share;
}

static const char *
one_of (Draw *self, const char *const *words, gsize n)
{
  return words[g_rand_int_range (self->random, 0, (gint) n)];
}

#define ONE_OF(self, words) one_of (self, words, G_N_ELEMENTS (words))

static void G_GNUC_PRINTF (2, 3)
add (Draw *self, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_string_append_vprintf (self->text, format, arguments);
  va_end (arguments);
  g_string_append_c (self->text, '\n');
}

static void
draw_frame (Draw *self)
{
  self->tank_length = between (self, 500, 2000);
  self->tank_width = between (self, 350, 750);
  self->tank_height = between (self, 380, 720);
  self->stand_height = between (self, 650, 950);
  self->weir_height = self->tank_height - between (self, 25, 60);
  self->flow = self->tank_length * self->tank_width * self->tank_height * 1e-6 * between (self, 4, 12);
  self->n_drains = (guint) between (self, 1, MOST_DRAINS);
  self->n_boxes = self->n_drains > 1 && chance (self, 0.2) ? 2 : 1;
  self->n_returns = chance (self, 0.65) ? 1 : (guint) between (self, 2, 3);
  self->has_refugium = chance (self, 0.3);
  self->has_socks = chance (self, 0.4);
  self->has_vessel = chance (self, 0.25);
  self->has_reservoir = chance (self, 0.25);
  self->joined = self->n_returns > 1 && chance (self, 0.4);
  add (self, "{ \"format\": \"nappe-build\", \"version\": 1, \"title\": \"Random\", \"units\": \"metric\",");
  add (self, "\"water\": { \"temperature_celsius\": %.0f, \"salinity_grams_per_kg\": %.0f },", between (self, 15, 28),
       chance (self, 0.1) ? 0 : 35.0);
  add (self, "\"stand\": { \"length_mm\": %.0f, \"width_mm\": %.0f, \"height_mm\": %.0f },", self->tank_length + 50,
       self->tank_width + 50, self->stand_height);
  add (self, "\"tank\": { \"length_mm\": %.0f, \"width_mm\": %.0f, \"height_mm\": %.0f, \"wall_thickness_mm\": 10,",
       self->tank_length, self->tank_width, self->tank_height);
  add (self, "  \"bottom_thickness_mm\": %.0f, \"displaced_percent\": %.0f },", TANK_BOTTOM, between (self, 0, 25));
}

/* In the outer box of a rim style water stands over the ends of the tubes, or they would lose their prime. */
static void
draw_box (Draw *self, guint index)
{
  const char *style = ONE_OF (self, box_styles);
  gboolean outside = !g_str_equal (style, "internal"), inner = outside && !g_str_equal (style, "external");
  double length = between (self, 150, 350), width = between (self, 90, 160);
  gboolean tubes = g_str_equal (style, "rim");
  double depth = tubes ? between (self, 160, 220) : between (self, 90, 140), joint = self->weir_height - depth + 35;
  double weir = outside ? between (self, 150, self->tank_length * 0.6) : length + width;
  gboolean toothed = chance (self, 0.5);

  self->crest[index] = tubes ? joint + between (self, 15, 30) : self->weir_height - between (self, 100, 180);
  self->box_floor[index] = outside ? self->weir_height - depth - between (self, 150, 220) : 0;
  add (self, "%s{ \"id\": \"box-%u\", \"style\": \"%s\", \"side\": \"%s\", \"x_mm\": %.0f,", index > 0 ? "," : "", index, style,
       outside ? "back" : index == 0 ? "left" : "right", between (self, 0, 100));
  add (self, "  \"length_mm\": %.0f, \"width_mm\": %.0f, \"floor_height_mm\": %.0f, \"rim_height_mm\": %.0f,", length, width,
       self->box_floor[index], self->weir_height + between (self, 10, 25));
  add (self, "  \"weir_length_mm\": %.0f, \"weir_height_mm\": %.0f, \"weir_thickness_mm\": %.0f,", weir, self->weir_height,
       between (self, 0, 12));
  if (inner)
    add (self, "  \"inner_length_mm\": %.0f, \"inner_width_mm\": %.0f, \"inner_depth_mm\": %.0f, \"joint_count\": %.0f, "
               "\"joint_bore_mm\": %.0f, \"joint_height_mm\": %.0f,",
         weir, between (self, 35, 60), depth, between (self, 1, 4), between (self, 20, 50), joint);
  add (self, "  \"slot_count\": %.0f, \"slot_width_mm\": %.0f, \"slot_depth_mm\": %.0f }", toothed ? weir / 12 : 0,
       between (self, 5, 8), between (self, 15, 30));
}

/* A run from z `from` down to z `to` over the room's floor, with one sideways pipe; first_pipe is what stands in the
 * box. Valve: kind, or NULL. Tee: id, or NULL. */
static void
draw_way_down (Draw *self, const char *id, const char *size, double first_pipe, double drop, const char *valve, gboolean tee)
{
  double rest = MAX (drop - first_pipe, 60), side = between (self, 60, 400);

  add (self, "  \"run\": [ { \"id\": \"%s-a\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": %.0f },", id, size,
       MIN (first_pipe, drop - 60));
  add (self, "    { \"id\": \"%s-b\", \"item\": \"pvc40-bulkhead-%s\" },", id, size);
  add (self, "    { \"id\": \"%s-c\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": %.0f },", id, size, rest / 2);
  if (tee)
    add (self, "    { \"id\": \"%s-tee\", \"item\": \"pvc40-tee-%s\" },", id, size);
  add (self, "    { \"id\": \"%s-d\", \"item\": \"pvc40-elbow90-%s\" },", id, size);
  add (self,
       "    { \"id\": \"%s-e\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": %.0f, \"toward\": \"right\", \"fall_mm\": "
       "%.0f },",
       id, size, side, side / 50);
  add (self, "    { \"id\": \"%s-f\", \"item\": \"pvc40-elbow90-%s\" },", id, size);
  if (valve != NULL)
    add (self, "    { \"id\": \"%s-valve\", \"item\": \"pvc40-%s-valve-%s\", \"opening_percent\": %.0f },", id, valve, size,
         between (self, 15, 100));
  add (self, "    { \"id\": \"%s-g\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": %.0f } ],", id, size, rest / 2);
}

/* Nominal size for a flow [L/h], sometimes one off. */
static const char *
size_for (Draw *self, double flow)
{
  gint index = flow < 500 ? 1 : flow < 1500 ? 2 : flow < 3000 ? 3 : flow < 5500 ? 4 : 5;

  index += g_rand_int_range (self->random, -1, 2);
  return sizes[CLAMP (index, 1, (gint) G_N_ELEMENTS (sizes) - 1)];
}

static const char *
role_of (guint index, guint count, gboolean siphon)
{
  static const char *const mixed[] = { "siphon", "open-channel", "emergency", "standpipe", "standpipe", "emergency" };

  if (count == 1)
    return siphon ? "siphon" : "standpipe";
  if (count == 2)
    return index == 1 ? "emergency" : siphon ? "siphon" : "standpipe";
  return mixed[index];
}

/* The index-th drain of `count` in its box. */
static void
draw_drain (Draw *self, guint number, guint box, guint index, guint count, gboolean siphon)
{
  const char *role = role_of (index, count, siphon);
  gboolean is_siphon = g_str_equal (role, "siphon"), tee = is_siphon && chance (self, 0.2);
  double crest = self->crest[box] + (is_siphon ? 0 : g_str_equal (role, "emergency") ? 55 : 25) + between (self, 0, 8);
  double over_floor = MAX (crest - self->box_floor[box], 20);
  double z = self->stand_height + TANK_BOTTOM + self->box_floor[box] + over_floor;
  double drop = z - SUMP_FLOOR - between (self, 120, 240);
  g_autofree char *id = g_strdup_printf ("drain-%u", number);
  const char *size = size_for (self, self->flow / MAX (count - 1, 1));

  add (self, "%s{ \"id\": \"%s\", \"overflow\": \"box-%u\", \"role\": \"%s\", \"crest_height_mm\": %.0f,",
       number > 0 ? "," : "", id, box, role, over_floor);
  if (is_siphon)
    add (self, "  \"inlet\": \"downturned-elbow\", \"mouth_height_mm\": %.0f,", MAX (over_floor - 30, 5));
  else
    add (self, "  \"inlet\": \"%s\", \"vented\": %s,", chance (self, 0.3) ? "strainer" : "open-end",
         g_str_equal (role, "emergency") ? "false" : "true");
  draw_way_down (self, id, size, over_floor, drop, is_siphon || chance (self, 0.1) ? ONE_OF (self, valve_kinds) : NULL, tee);
  add (self, "  \"outlets\": [ { \"id\": \"%s-end\", \"into\": \"%s\" }", id,
       self->has_socks && index == 0 ? "socks" : self->chamber[0]);
  if (tee)
    {
      add (self, "  , { \"id\": \"%s-branch\", \"tee\": \"%s-tee\", \"into\": \"%s\", \"run\": [", id, id,
           self->chamber[MIN (1, self->n_chambers - 1)]);
      add (self, "    { \"id\": \"%s-h\", \"item\": \"pvc40-pipe-0.5\", \"length_mm\": 150, \"toward\": \"left\" },", id);
      add (self, "    { \"id\": \"%s-branch-valve\", \"item\": \"pvc40-gate-valve-0.5\", \"opening_percent\": %.0f },", id,
           between (self, 0, 100));
      add (self, "    { \"id\": \"%s-i\", \"item\": \"pvc40-pipe-0.5\", \"length_mm\": %.0f } ] }", id, drop / 3);
    }
  add (self, "  ] }");
}

static void
draw_drains (Draw *self)
{
  guint number = 0;

  add (self, "\"drains\": [");
  for (guint box = 0; box < self->n_boxes; box++)
    {
      guint count = self->n_boxes == 1 ? self->n_drains : box == 0 ? self->n_drains / 2 : self->n_drains - self->n_drains / 2;
      gboolean siphon = chance (self, 0.6);

      for (guint i = 0; i < count; i++)
        draw_drain (self, number++, box, i, count, siphon);
    }
  add (self, "],");
}

static void
name_chamber (Draw *self, const char *name, const char *role)
{
  self->chamber[self->n_chambers] = name;
  self->chamber_role[self->n_chambers++] = role;
}

static void
name_chambers (Draw *self)
{
  name_chamber (self, "first", self->has_socks ? "sock" : "drain");
  if (chance (self, 0.7))
    name_chamber (self, "skimmer", "skimmer");
  if (self->has_refugium)
    name_chamber (self, "refugium", "refugium");
  if (chance (self, 0.6))
    {
      name_chamber (self, "trap-fall", "bubble-trap");
      name_chamber (self, "trap-rise", "bubble-trap");
    }
  name_chamber (self, "return", "return");
  if (self->has_reservoir)
    name_chamber (self, "reservoir", "reservoir");
}

static double
chamber_length (Draw *self, guint index)
{
  const char *role = self->chamber_role[index];

  return g_str_equal (role, "bubble-trap") ? between (self, 30, 60) : between (self, 150, 280);
}

static void
draw_baffle (Draw *self, guint index, double *top)
{
  const char *right = self->chamber_role[index + 1];
  gboolean under = g_str_equal (self->chamber_role[index], "bubble-trap") && g_str_equal (right, "bubble-trap");
  double gap = under ? between (self, 25, 50) : 0, height = *top;

  if (under || g_str_equal (right, "reservoir"))
    height = self->sump_height - 20;
  else
    *top -= between (self, 10, 30);
  add (self, "  %s{ \"id\": \"baffle-%u\", \"top_height_mm\": %.0f, \"gap_height_mm\": %.0f }", index > 0 ? "," : "",
       index, height, gap);
}

static void
draw_sump (Draw *self)
{
  double lengths[MOST_CHAMBERS], sum = 6.0 * (self->n_chambers - 1), top;

  for (guint i = 0; i < self->n_chambers; i++)
    sum += lengths[i] = chamber_length (self, i);
  self->sump_height = between (self, 340, 480);
  top = self->first_top = self->sump_height * 0.65;
  add (self, "\"sump\": { \"length_mm\": %.0f, \"width_mm\": %.0f, \"height_mm\": %.0f, \"base_height_mm\": 30,", sum,
       between (self, 280, 500), self->sump_height);
  add (self, "  \"bottom_thickness_mm\": 8, \"baffles\": [");
  for (guint i = 0; i + 1 < self->n_chambers; i++)
    draw_baffle (self, i, &top);
  self->kept_level = top - between (self, 20, 50);
  add (self, "  ], \"chambers\": [");
  for (guint i = 0; i < self->n_chambers; i++)
    {
      add (self, "  %s{ \"id\": \"%s\", \"role\": \"%s\", \"length_mm\": %.0f, \"displaced_percent\": %.0f", i > 0 ? "," : "",
           self->chamber[i], self->chamber_role[i], lengths[i], between (self, 0, 20));
      if (g_str_equal (self->chamber_role[i], "return") || g_str_equal (self->chamber_role[i], "reservoir"))
        add (self, ", \"kept_level_mm\": %.0f", self->kept_level);
      add (self, "  }");
    }
  add (self, "] },");
}

/* A pump's own curve through the wanted flow [L/h] at about the lift [m]. */
static void
draw_pump (Draw *self, const char *from, double inlet, double flow, double lift)
{
  double head = lift * between (self, 200, 350) / 100, end = flow * between (self, 180, 300) / 100;
  guint count = chance (self, 0.2) ? (guint) between (self, 2, 3) : 1;

  add (self,
       "  \"pump\": { \"chamber\": \"%s\", \"inlet_height_mm\": %.0f, \"outlet_height_mm\": %.0f, \"speed_percent\": "
       "%.0f,",
       from, inlet, inlet + 50, between (self, 85, 100));
  add (self, "    \"head_left_percent\": %.0f, \"count\": %u, \"curve\": [", between (self, 85, 100), count);
  add (self, "    { \"flow_litres_per_hour\": 0, \"head_metres\": %.3f },", head);
  add (self, "    { \"flow_litres_per_hour\": %.1f, \"head_metres\": %.3f },", 0.35 * end / count, 0.9 * head);
  add (self, "    { \"flow_litres_per_hour\": %.1f, \"head_metres\": %.3f },", 0.7 * end / count, 0.55 * head);
  add (self, "    { \"flow_litres_per_hour\": %.1f, \"head_metres\": %.3f } ] },", end / count, 0.02 * head);
}

/* Branch at a tee down into a chamber, with a valve. */
static void
draw_manifold_branch (Draw *self, const char *id)
{
  add (self, "  , { \"id\": \"%s-branch\", \"tee\": \"%s-tee\", \"into\": \"%s\", \"run\": [", id, id,
       self->chamber[g_rand_int_range (self->random, 0, (gint) self->n_chambers)]);
  add (self, "    { \"id\": \"%s-i\", \"item\": \"pvc40-pipe-0.5\", \"length_mm\": 200, \"toward\": \"left\" },", id);
  add (self, "    { \"id\": \"%s-branch-valve\", \"item\": \"pvc40-ball-valve-0.5\", \"opening_percent\": %.0f },", id,
       between (self, 0, 100));
  add (self, "    { \"id\": \"%s-j\", \"item\": \"pvc40-pipe-0.5\", \"length_mm\": %.0f } ] }", id, between (self, 50, 150));
}

static void
draw_return (Draw *self, guint index)
{
  g_autofree char *id = g_strdup_printf ("return-%u", index);
  double rim = self->stand_height + TANK_BOTTOM + self->tank_height, start = SUMP_FLOOR + 90;
  double share = self->flow / self->n_returns, lift = (rim - SUMP_FLOOR - self->kept_level) / 1e3;
  const char *size = size_for (self, share);
  gboolean tee = chance (self, 0.3) || (self->joined && index == 0), joins = self->joined && index == 1;

  add (self, "%s{ \"id\": \"%s\",", index > 0 ? "," : "", id);
  draw_pump (self, "return", 40, share, lift);
  add (self, "  \"run\": [ { \"id\": \"%s-a\", \"item\": \"pvc40-union-%s\" },", id, size);
  add (self, "    { \"id\": \"%s-b\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": 250, \"toward\": \"up\" },", id, size);
  if (chance (self, 0.3))
    add (self, "    { \"id\": \"%s-check\", \"item\": \"pvc40-check-valve-%s\" },", id, size);
  if (chance (self, 0.3))
    add (self, "    { \"id\": \"%s-valve\", \"item\": \"pvc40-%s-valve-%s\", \"opening_percent\": %.0f },", id,
         ONE_OF (self, valve_kinds), size, between (self, 30, 100));
  if (tee)
    add (self, "    { \"id\": \"%s-tee\", \"item\": \"pvc40-tee-%s\" },", id, size);
  if (joins)
    {
      add (self, "    { \"id\": \"%s-c\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": 100, \"toward\": \"back\" } ],", id, size);
      add (self, "  \"outlets\": [ { \"id\": \"%s-end\", \"into\": \"return-0-tee\" }", id);
    }
  else
    {
      add (self, "    { \"id\": \"%s-c\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": %.0f, \"toward\": \"up\" },", id, size,
           rim + 30 - start - 250);
      add (self, "    { \"id\": \"%s-d\", \"item\": \"pvc40-elbow90-%s\" },", id, size);
      add (self, "    { \"id\": \"%s-e\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": 180, \"toward\": \"front\" },", id, size);
      add (self, "    { \"id\": \"%s-f\", \"item\": \"pvc40-elbow90-%s\" },", id, size);
      add (self, "    { \"id\": \"%s-g\", \"item\": \"pvc40-pipe-%s\", \"length_mm\": %.0f } ],", id, size,
           between (self, 40, 160));
      add (self, "  \"outlets\": [ { \"id\": \"%s-end\", \"into\": \"tank\"%s", id, chance (self, 0.5) ? "" : " }");
      if (!g_str_has_suffix (self->text->str, "}\n"))
        add (self, "  , \"siphon_break_height_mm\": %.0f }", self->weir_height + between (self, -20, 10));
    }
  if (tee)
    draw_manifold_branch (self, id);
  add (self, "  ] }");
}

/* A vessel that hangs on the tank, fed out of the tank or the return chamber. */
static void
draw_vessel_line (Draw *self)
{
  gboolean from_tank = chance (self, 0.6);
  double inlet = from_tank ? self->weir_height - 150 : 40;
  double rise = self->weir_height + 200 - inlet - 50 + (from_tank ? 0 : self->stand_height + TANK_BOTTOM - SUMP_FLOOR);

  add (self, ", { \"id\": \"vessel-line\",");
  draw_pump (self, from_tank ? "tank" : "return", inlet, between (self, 200, 900), from_tank ? 0.3 : rise / 1e3);
  add (self,
       "  \"run\": [ { \"id\": \"vessel-a\", \"item\": \"hose-vinyl-16\", \"length_mm\": %.0f, \"toward\": \"up\" },",
       rise);
  add (self, "    { \"id\": \"vessel-b\", \"item\": \"hose-vinyl-16\", \"length_mm\": 150, \"toward\": \"back\" },");
  add (self, "    { \"id\": \"vessel-c\", \"item\": \"hose-vinyl-16\", \"length_mm\": %.0f } ],", between (self, 30, 250));
  add (self, "  \"outlets\": [ { \"id\": \"vessel-end\", \"into\": \"vessel\" } ] }");
}

static void
draw_vessel (Draw *self)
{
  add (self, "\"vessels\": [ { \"id\": \"vessel\", \"length_mm\": %.0f, \"width_mm\": %.0f, \"height_mm\": 260,",
       between (self, 200, 500), between (self, 90, 150));
  add (self, "  \"base_height_mm\": %.0f, \"spout_height_mm\": 200, \"spout_width_mm\": %.0f, \"into\": \"tank\" } ],",
       self->weir_height - 120, between (self, 30, 90));
}

char *
random_build_text (GRand *random)
{
  Draw draw = { .random = random, .text = g_string_new (NULL) };

  draw_frame (&draw);
  name_chambers (&draw);
  add (&draw, "\"overflows\": [");
  for (guint i = 0; i < draw.n_boxes; i++)
    draw_box (&draw, i);
  add (&draw, "],");
  draw_drains (&draw);
  draw_sump (&draw);
  if (draw.has_vessel)
    draw_vessel (&draw);
  add (&draw, "\"returns\": [");
  for (guint i = 0; i < draw.n_returns; i++)
    draw_return (&draw, i);
  if (draw.has_vessel)
    draw_vessel_line (&draw);
  add (&draw, "]");
  if (draw.has_socks)
    add (&draw,
         ", \"equipment\": [ { \"id\": \"socks\", \"kind\": \"sock\", \"item\": \"filter-sock-4in\", \"where\": "
         "\"first\", "
         "\"base_height_mm\": %.0f, \"height_mm\": %.0f, \"count\": %.0f, \"load_percent\": %.0f } ]",
         draw.first_top - 150, between (&draw, 150, 220), between (&draw, 1, 3), between (&draw, 0, 95));
  add (&draw, "}");
  return g_string_free (draw.text, FALSE);
}
