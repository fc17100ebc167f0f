/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Materials: metals in salt water, pipe under pressure, and the wait for cement. */
#include "rules/rule-list.h"

#include "physics/gravity.h"
#include "physics/pipe-strength.h"
#include "rules/joints/joints.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* ---- metals ---- */

static const char *
metal_name (const char *word)
{
  static const char *const names[][2] = { { "brass", N_ ("Brass") }, { "copper", N_ ("Copper") },
                                          { "zinc", N_ ("Zinc") }, { "steel", N_ ("Plain steel") },
                                          { "stainless", N_ ("Stainless steel") } };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_strcmp0 (word, names[i][0]) == 0)
      return _(names[i][1]);
  return NULL;
}

/* 1 when the word is a metal's, of which a finding was added, else 0. */
static guint
check_metal (NappeRuleContext *context, const char *id, const char *word)
{
  if (metal_name (word) == NULL)
    return 0;
  gboolean stainless = g_str_equal (word, "stainless");
  NappeFinding *finding
      = nappe_rule_find (context, stainless ? NAPPE_SEVERITY_ADVICE : NAPPE_SEVERITY_DANGER,
                         stainless ? _("Stainless steel in salt water") : _("Metal that poisons or rusts"), id);
  const char *name = nappe_rule_name (context, id);

  if (stainless)
    /* Translators: %s is a part. */
    nappe_finding_say (finding, _("%s is of stainless steel. In salt water it pits and rusts after a while, first "
                                  "where water stands still."), name);
  else if (g_str_equal (word, "steel"))
    /* Translators: %s is a part. */
    nappe_finding_say (finding, _("%s is of plain steel. Salt water rusts it through within months; rust fouls the "
                                  "water, and then the part leaks."), name);
  else
    /* Translators: a part, then a metal. */
    nappe_finding_say (finding, _("%s contains copper or zinc (%s). Salt water dissolves them, and amounts that "
                                  "nobody sees kill corals, shrimps and snails; rock and sand keep the poison for "
                                  "years."),
                       name, metal_name (word));
  nappe_finding_cure (finding, stainless ? _("Use plastic or titanium, or look at it every month and be ready to "
                                             "replace it.")
                                         : _("Replace it with a part of PVC, polypropylene or another plastic before "
                                             "any water touches it."));
  if (NAPPE_IS_PIECE (nappe_build_find (context->build, id)))
    {
      NappeLever *lever = nappe_lever_new_choice (id, "material");
      nappe_lever_add_choice (lever, "pvc");
      nappe_finding_offer (finding, lever);
    }
  return 1;
}

/* No part that water touches is of copper, zinc or rusting metal. */
void
nappe_rule_metal_in_water (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) lines = nappe_rule_lines (context);
  guint known = 0, unknown = 0, metals = 0;

  for (guint line = 0; line < lines->len; line++)
    {
      g_autoptr (GPtrArray) pieces = nappe_rule_pieces (lines->pdata[line]);
      if (NAPPE_IS_RETURN_LINE (lines->pdata[line]))
        {
          NappePart *pump = NAPPE_RETURN_LINE (lines->pdata[line])->pump;
          const NappeItem *item = nappe_rule_item (context, NAPPE_PUMP (pump)->item);
          metals += check_metal (context, nappe_part_get_id (pump), item != NULL ? item->material : NULL);
        }
      for (guint i = 0; i < pieces->len; i++)
        {
          const char *word = nappe_rule_material (context, pieces->pdata[i]);
          known += word != NULL;
          unknown += word == NULL;
          metals += check_metal (context, nappe_part_get_id (pieces->pdata[i]), word);
        }
    }
  if (metals > 0)
    return;
  if (known == 0)
    nappe_rule_not_checked (context, _("Not checked: of no piece is it known what it is made of."));
  else
    {
      NappeFinding *fine = nappe_rule_fine (context, "", 0, 0, NAPPE_QUANTITY_COUNT);
      /* Translators: %u is a count of pieces. */
      nappe_finding_say (fine, g_dngettext (GETTEXT_PACKAGE, "The %u piece whose material is known is not of metal.",
                                            "None of the %u pieces whose material is known is of metal.", known),
                         known);
      if (unknown > 0)
        /* Translators: %u is a count of pieces. */
        nappe_finding_say (fine,
                           g_dngettext (GETTEXT_PACKAGE, "Of %u more it is not known.", "Of %u more it is not known.",
                                              unknown), unknown);
    }
}

/* ---- pressure ---- */

/* What of a line stands least. */
typedef struct
{
  const NappePiece *piece;
  double rating;   /* at 23 °C [Pa] */
  double carries;  /* in this water [Pa]; NaN: nothing is known */
} Weakest;

static Weakest
weakest_piece (NappeRuleContext *context, NappePart *line)
{
  g_autoptr (GPtrArray) pieces = nappe_rule_pieces (line);
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  double share = nappe_pvc_warmth_share (NAPPE_BUILD_WATER (context->build)->temperature);
  Weakest weakest = { .carries = NAN };

  for (guint i = 0; i < pieces->len; i++)
    {
      const NappeItem *item = nappe_rule_item (context, NAPPE_PIECE (pieces->pdata[i])->item);
      if (item == NULL || !g_hash_table_add (seen, (gpointer) item))
        continue;
      double rating = nappe_item_pressure (item, context->network->catalogue);
      double carries = rating * (g_strcmp0 (nappe_item_material (item), "pvc") == 0 ? share : 1);
      if (isfinite (carries) && !(carries >= weakest.carries))
        weakest = (Weakest){ pieces->pdata[i], rating, carries };
    }
  return weakest;
}

/* The greatest head of a line's pump: new, at full speed, with every outlet shut [m]; NaN: not known. */
static double
greatest_head (NappeRuleContext *context, NappePart *line)
{
  const char *id = nappe_part_get_id (line);
  for (guint i = 0; i < context->network->n_links; i++)
    {
      const NappeLink *link = &context->network->links[i];
      if (link->kind == NAPPE_LINK_PUMP && g_str_equal (link->line, id))
        return nappe_pump_head (&link->curve, 0, 1, 1, NULL);
    }
  return NAN;
}

static gboolean
check_pressure (NappeRuleContext *context, NappePart *line)
{
  Weakest weakest = weakest_piece (context, line);
  double head = greatest_head (context, line);
  double pressure = context->network->water.density * NAPPE_GRAVITY * head;

  if (weakest.piece == NULL || isnan (head))
    return FALSE;
  gboolean stands = pressure <= weakest.carries;
  const char *id = nappe_part_get_id (line);
  NappeFinding *finding = stands ? nappe_rule_fine (context, id, pressure, weakest.carries, NAPPE_QUANTITY_PRESSURE)
                                 : nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Pump can burst its line"), id);
  nappe_finding_measure (finding, pressure, weakest.carries, NAPPE_QUANTITY_PRESSURE);
  /* Translators: line, pressure, piece, pressure. */
  nappe_finding_say (finding, _("Should every outlet of %s be shut, the pump presses with %s. Its weakest piece, %s, "
                                "carries %s in water this warm."),
                     nappe_rule_name (context, id), nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, pressure),
                     nappe_rule_name (context, nappe_rule_id (weakest.piece)),
                     nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, weakest.carries));
  nappe_finding_formula (finding, _("ρ g × head of the pump at no flow and full speed, against the rating at 23 °C × "
                                    "its share in warm water"));
  nappe_finding_input (finding, "", _("head at no flow"), head, NAPPE_QUANTITY_HEAD);
  nappe_finding_input (finding, "", _("rating at 23 °C"), weakest.rating, NAPPE_QUANTITY_PRESSURE);
  nappe_finding_input (finding, "", _("water temperature"), NAPPE_BUILD_WATER (context->build)->temperature,
                       NAPPE_QUANTITY_TEMPERATURE);
  if (!stands)
    nappe_finding_cure (finding, _("Use a pump with less head, or pipe and fittings of a higher pressure rating."));
  return TRUE;
}

/* Each return line carries what its pump can press. */
void
nappe_rule_pressure_rating (NappeRuleContext *context)
{
  GPtrArray *returns = context->build->returns;
  guint looked = 0;

  for (guint i = 0; i < returns->len && context->network->catalogue != NULL; i++)
    looked += check_pressure (context, returns->pdata[i]);
  if (looked == 0)
    nappe_rule_not_checked (context, _("Not checked: of no return line are both the pump’s head and the rating of a "
                                       "piece known."));
}

/* ---- cement ---- */

/* The widest pipe with cemented joints; NULL: none. */
static const NappeItem *
widest_cemented (NappeRuleContext *context)
{
  const GArray *joints = nappe_rule_joints (context);
  const NappeItem *widest = NULL;

  for (guint i = 0; joints != NULL && i < joints->len; i++)
    {
      const NappePipeJoint *joint = &g_array_index (joints, NappePipeJoint, i);
      const NappeJointSide *pipe = joint->before.end.method == NAPPE_END_SPIGOT ? &joint->before : &joint->after;
      const NappeJointSide *socket = pipe == &joint->before ? &joint->after : &joint->before;
      if (pipe->end.method == NAPPE_END_SPIGOT && socket->end.method == NAPPE_END_SOCKET
          && (widest == NULL || pipe->item->outside_diameter > widest->outside_diameter))
        widest = pipe->item;
    }
  return widest;
}

/* How long cemented joints have to wait for water, and whether the room lets cement cure at all. */
void
nappe_rule_cement_cure (NappeRuleContext *context)
{
  const NappeItem *pipe = widest_cemented (context);
  double temperature = NAPPE_BUILD_ROOM (context->build)->temperature;
  double cold = nappe_rule_limit (context, NAPPE_LIMIT_CEMENT_COLD);
  double hot = nappe_rule_limit (context, NAPPE_LIMIT_CEMENT_HOT);

  if (pipe == NULL)
    {
      nappe_rule_not_checked (context, _("Does not apply: no pipe is cemented into a socket."));
      return;
    }
  gboolean cures = temperature >= cold && temperature <= hot;
  double wait = fmax (nappe_cement_cure (pipe->outside_diameter, temperature),
                      nappe_rule_limit (context, NAPPE_LIMIT_CEMENT_WAIT));
  NappeFinding *finding
      = cures ? nappe_rule_fine (context, "", temperature, temperature > 0.5 * (cold + hot) ? hot : cold,
                                 NAPPE_QUANTITY_TEMPERATURE)
              : nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                 temperature < cold ? _("Room too cold for cement") : _("Room too hot for cement"), "");
  nappe_finding_measure (finding, temperature, temperature > 0.5 * (cold + hot) ? hot : cold,
                         NAPPE_QUANTITY_TEMPERATURE);
  nappe_finding_formula (finding, _("temperature of the room against the range in which cement cures; the wait by "
                                    "pipe and temperature"));
  nappe_finding_input (finding, "", _("outside diameter of the widest pipe"), pipe->outside_diameter,
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("wait"), wait, NAPPE_QUANTITY_DURATION);
  /* Translators: a temperature, then a duration. */
  nappe_finding_say (finding, _("At %s cemented joints of this build wait %s before water fills them; longer where "
                                "the air is damp. The tin’s own table comes first."),
                     nappe_rule_number (context, NAPPE_QUANTITY_TEMPERATURE, temperature),
                     nappe_rule_duration (context, wait));
  if (cures)
    return;
  if (temperature < cold)
    nappe_finding_say (finding, _("In such cold the solvent hardly leaves the joint: it can stay soft for days and "
                                  "pull apart."));
  else
    nappe_finding_say (finding,
                       _("In such heat the cement dries before the pipe is home, and the joint is not tight."));
  /* Translators: two temperatures. */
  nappe_finding_cure (finding, _("Glue and cure between %s and %s, or use cement made for it. Its vapour is flammable "
                                 "and harmful: air the room, and have no flame near."),
                      nappe_rule_number (context, NAPPE_QUANTITY_TEMPERATURE, cold),
                      nappe_rule_number (context, NAPPE_QUANTITY_TEMPERATURE, hot));
}
