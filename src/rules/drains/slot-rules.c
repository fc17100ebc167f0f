/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The weir as a gate: what it lets through, what clogs it, how far the water falls behind it. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static NappeOverflow *
box_of (NappeRuleContext *context, const NappeWeirReport *report)
{
  NappePart *box = nappe_build_find (context->build, report->id);
  return box != NULL && NAPPE_IS_OVERFLOW (box) ? NAPPE_OVERFLOW (box) : NULL;
}

/* Narrowest slot that is offered [m]: what a saw cuts. */
#define SLOT_CUT 0.003

/* opening: of what an animal could pass [m]; by_slot: the slots, else the film over crest or teeth. */
static void
report_passage (NappeRuleContext *context, const NappeOverflow *box, double opening, gboolean by_slot)
{
  double animal = context->targets->smallest_animal;
  const char *id = nappe_rule_id (box);
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_DANGER,
                                           by_slot ? _("Animals fit through the weir’s slots")
                                                   : _("Animals are carried over the weir"),
                                           id);

  nappe_finding_measure (finding, opening, animal, NAPPE_QUANTITY_LENGTH);
  if (by_slot)
    /* Translators: overflow box, width, thickness. */
    nappe_finding_say (finding,
                       _("The slots in the weir of %s are %s wide, and your smallest animal is %s thick. It gets into the "
                         "box, where it dies in a drain or blocks it."),
                       nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, opening),
                       NAPPE_SAY_LENGTH (context, animal));
  else
    /* Translators: overflow box, thickness, thickness. */
    nappe_finding_say (finding,
                       _("Over the weir of %s the water runs freely %s deep, and your smallest animal is %s thick. It is "
                         "carried into the box, where it dies in a drain or blocks it."),
                       nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, opening),
                       NAPPE_SAY_LENGTH (context, animal));
  if (by_slot)
    {
      /* Translators: %s is a width. */
      nappe_finding_cure (finding, _("Make the slots narrower than %s, and more of them; or set a screen in front that can "
                                     "be cleaned."),
                          NAPPE_SAY_LENGTH (context, animal));
      if (animal > SLOT_CUT)
        nappe_finding_offer (finding, nappe_lever_new_number (id, "slot_width", SLOT_CUT, opening));
    }
  else
    /* Translators: %s is a width. */
    nappe_finding_cure (finding, _("Give the weir teeth, taller than the water is deep and less than %s apart, or a longer "
                                   "crest; or set a screen in front that can be cleaned."),
                        NAPPE_SAY_LENGTH (context, animal));
}

/* Slots, and water over crest or teeth, against the smallest animal. */
void
nappe_rule_animals_pass_weir (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  double animal = context->targets->smallest_animal;

  if (!nappe_is_given (animal))
    {
      nappe_rule_not_checked (context, _("Not checked: your targets do not say how thick the smallest animal is."));
      return;
    }
  if (study->n_weirs == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no weir."));
  if (study->n_weirs == 0 || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_weirs; i++)
    {
      const NappeOverflow *box = box_of (context, &study->weirs[i]);
      if (box == NULL)
        continue;
      double over = study->weirs[i].film - (box->slot_count > 0 ? box->slot_depth : 0);
      gboolean by_slot = box->slot_count > 0 && box->slot_width >= animal;
      if (by_slot || over >= animal)
        report_passage (context, box, by_slot ? box->slot_width : over, by_slot);
      else
        {
          double opening = box->slot_count > 0 ? fmax (box->slot_width, over) : over;
          NappeFinding *fine = nappe_rule_fine (context, study->weirs[i].id, opening, animal, NAPPE_QUANTITY_LENGTH);
          /* Translators: overflow box, width, thickness. */
          nappe_finding_say (fine, _("The weir of %s lets through what is thinner than %s; your smallest animal is %s thick."),
                             nappe_rule_name (context, study->weirs[i].id), NAPPE_SAY_LENGTH (context, fmax (0, opening)),
                             NAPPE_SAY_LENGTH (context, animal));
        }
    }
}

static void
report_narrow (NappeRuleContext *context, const NappeOverflow *box, double least)
{
  const char *id = nappe_rule_id (box);
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("The weir’s slots are narrow"), id);

  nappe_finding_measure (finding, box->slot_width, least, NAPPE_QUANTITY_LENGTH);
  /* Translators: overflow box, width, width. */
  nappe_finding_say (finding,
                     _("The slots in the weir of %s are %s wide. Below %s the water clings across them, and weed and snails "
                       "close them: the display rises, slot by slot."),
                     nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, box->slot_width),
                     NAPPE_SAY_LENGTH (context, least));
  /* Translators: %s is a width. */
  nappe_finding_cure (finding, _("Make the slots %s wide or more, and fewer of them for the same film."),
                      NAPPE_SAY_LENGTH (context, least));
  nappe_finding_offer (finding, nappe_lever_new_number (id, "slot_width", box->slot_width, 2 * least));
}

static void
report_over_teeth (NappeRuleContext *context, const NappeOverflow *box, double film)
{
  const char *id = nappe_rule_id (box);
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Water runs over the weir’s teeth"), id);

  nappe_finding_measure (finding, film, box->slot_depth, NAPPE_QUANTITY_LENGTH);
  /* Translators: overflow box, depth, height. */
  nappe_finding_say (finding,
                     _("At the weir of %s the water stands %s over the bottom of the slots, which are only %s deep: it runs "
                       "over the teeth, and the teeth hold nothing back."),
                     nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, film),
                     NAPPE_SAY_LENGTH (context, box->slot_depth));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("More slots, wider ones, or slots more than %s deep."), NAPPE_SAY_LENGTH (context, film));
  nappe_finding_offer (finding, nappe_lever_new_number (id, "slot_depth", box->slot_depth, 2 * film));
}

/* The slots of a toothed weir are wide enough to stay open and deep enough for the water. */
void
nappe_rule_weir_slots (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  double least = nappe_rule_limit (context, NAPPE_LIMIT_SLOT_LEAST);
  guint checked = 0;

  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_weirs; i++)
    {
      const NappeOverflow *box = box_of (context, &study->weirs[i]);
      double film = study->weirs[i].film;
      if (box == NULL || box->slot_count == 0)
        continue;
      checked++;
      if (box->slot_width < least)
        report_narrow (context, box, least);
      if (film > box->slot_depth)
        report_over_teeth (context, box, film);
      if (box->slot_width < least || film > box->slot_depth)
        continue;
      NappeFinding *fine = nappe_rule_fine (context, study->weirs[i].id, box->slot_width, least, NAPPE_QUANTITY_LENGTH);
      /* Translators: overflow box, width, depth, depth. */
      nappe_finding_say (fine, _("The slots in the weir of %s are %s wide and %s deep; %s of water stand in them."),
                         nappe_rule_name (context, study->weirs[i].id), NAPPE_SAY_LENGTH (context, box->slot_width),
                         NAPPE_SAY_LENGTH (context, box->slot_depth), NAPPE_SAY_LENGTH (context, fmax (0, film)));
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no weir has teeth."));
}

/* The box's level follows its inlets: all of them so much higher. */
static void
offer_higher_inlets (NappeRuleContext *context, NappeFinding *finding, const char *overflow, double rise)
{
  NappeLever *lever = NULL;

  for (guint i = 0; i < context->build->drains->len; i++)
    {
      const NappeDrain *drain = context->build->drains->pdata[i];
      const char *id = nappe_rule_id (drain);
      if (!g_str_equal (drain->overflow, overflow))
        continue;
      if (lever == NULL)
        lever = nappe_lever_new_number (id, "crest_height", drain->crest_height, drain->crest_height + rise);
      else
        nappe_lever_follow (lever, id, "crest_height", 1);
      if (nappe_is_given (drain->mouth_height))
        nappe_lever_follow (lever, id, "mouth_height", 1);
      if (drain->run->len > 0 && NAPPE_PIECE (drain->run->pdata[0])->toward == NAPPE_TOWARD_DOWN)
        nappe_lever_follow (lever, nappe_rule_id (drain->run->pdata[0]), "length", 1);
    }
  if (lever != NULL)
    nappe_finding_offer (finding, lever);
}

static void
report_drop (NappeRuleContext *context, const NappeWeirReport *report)
{
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_WEIR_DROP), drop = fmax (0, report->fall);
  gboolean high = drop > limit;
  NappeFinding *finding
      = high ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Water falls far behind the weir"), report->id)
             : nappe_rule_fine (context, report->id, drop, limit, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, drop, limit, NAPPE_QUANTITY_LENGTH);
  /* Translators: overflow box, height. */
  nappe_finding_say (finding, _("Behind the weir of %s the water falls %s to the level in the box."),
                     nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, drop));
  nappe_finding_formula (finding, _("crest − level of the box"));
  nappe_finding_input (finding, "", _("flow over the weir"), report->flow, NAPPE_QUANTITY_FLOW);
  if (!high)
    return;
  nappe_finding_say (finding, _("From so high up it is heard through the room, and the bubbles that it beats under are "
                                "drawn into the drains."));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Raise the inlets of the drains in this box by %s or more, or let the water run down a "
                                 "sloping plate."),
                      NAPPE_SAY_LENGTH (context, drop - limit));
  offer_higher_inlets (context, finding, report->id, drop);
}

/* The water behind a weir does not fall so far that it is loud. */
void
nappe_rule_weir_drop (NappeRuleContext *context)
{
  if (!nappe_rule_needs_steady (context))
    return;
  if (context->study->n_weirs == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no weir."));
  for (guint i = 0; i < context->study->n_weirs; i++)
    report_drop (context, &context->study->weirs[i]);
}
