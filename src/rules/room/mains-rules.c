/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mains beside salt water: protection, cables, sockets, load on the circuit. Said as a caution; local codes and a licensed
 * electrician decide. */
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* One thing that is to be stated of the mains. */
typedef struct
{
  int stated;                  /* NappeStated */
  NappeSeverity severity;      /* when it is not so */
  const char *missing;         /* sentence when it is not so */
  const char *cure;
  const char *unknown;         /* as a part of a list */
} Measure;

#define N_MEASURES 3

static void
list_measures (const NappeRoom *room, Measure measures[N_MEASURES])
{
  measures[0] = (Measure){
    room->residual_current, NAPPE_SEVERITY_DANGER,
    _("The circuit has no residual-current device: a cracked heater or a wet plug can kill whoever puts a hand into the "
      "water."),
    _("Have a residual-current device (ground-fault interrupter) put in front of everything that stands near the water."),
    _("residual-current protection")
  };
  measures[1] = (Measure){
    room->drip_loops, NAPPE_SEVERITY_PROBLEM,
    _("Not every cable has a drip loop: water that creeps along it runs into the socket, which burns or trips."),
    _("Let every cable hang lower than its socket before it rises to it."), _("drip loops")
  };
  measures[2] = (Measure){
    room->sockets_clear, NAPPE_SEVERITY_PROBLEM,
    _("Sockets are where water can fall or splash on them: a leak or an overflow runs straight into them."),
    _("Move the sockets out from under the tank and above the rim of the sump, to the side."),
    _("sockets clear of falling water")
  };
}

/* What is not stated, in one sentence. */
static void
say_unknown (NappeRuleContext *context, NappeFinding *finding, const Measure measures[N_MEASURES])
{
  const char *list = NULL;

  for (int i = 0; i < N_MEASURES; i++)
    if (measures[i].stated == NAPPE_STATED_UNKNOWN)
      /* Translators: between the parts of a list. */
      list = list == NULL ? measures[i].unknown
                          : nappe_rule_text (context, "%s%s%s", list, _(", "), measures[i].unknown);
  if (list == NULL)
    return;
  /* Translators: %s is a list such as “drip loops, sockets clear of falling water”. */
  nappe_finding_say (finding, _("The build does not say whether these are there: %s."), list);
  nappe_finding_cure (finding, _("Look, and write it down with the room."));
}

/* How many pumps and pieces of equipment have a plug. */
static guint
count_plugs (NappeRuleContext *context)
{
  const NappeHeat *heat = nappe_rule_heat (context);
  return heat != NULL ? heat->n_power + heat->n_power_unknown : 0;
}

/* Residual-current device, drip loops, sockets: one finding for all. */
void
nappe_rule_mains_protection (NappeRuleContext *context)
{
  Measure measures[N_MEASURES];
  NappeSeverity worst = NAPPE_SEVERITY_FINE;
  guint there = 0;

  if (count_plugs (context) == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: nothing in the build has a plug."));
      return;
    }
  list_measures (NAPPE_BUILD_ROOM (context->build), measures);
  for (int i = 0; i < N_MEASURES; i++)
    {
      there += measures[i].stated == NAPPE_STATED_YES;
      if (measures[i].stated == NAPPE_STATED_NO)
        worst = MAX (worst, measures[i].severity);
      else if (measures[i].stated == NAPPE_STATED_UNKNOWN)
        worst = MAX (worst, NAPPE_SEVERITY_ADVICE);
    }
  const char *id = nappe_part_get_id (context->build->room);
  if (worst == NAPPE_SEVERITY_FINE)
    {
      NappeFinding *fine = nappe_rule_fine (context, id, there, N_MEASURES, NAPPE_QUANTITY_COUNT);
      nappe_finding_say (fine, _("A residual-current device, drip loops and sockets clear of water are stated to be there. "
                                 "Test the device’s button every month."));
      return;
    }
  NappeFinding *finding = nappe_rule_find (context, worst,
                                           worst == NAPPE_SEVERITY_ADVICE ? _("Mains protection is not stated")
                                                                          : _("Mains is not safe beside water"),
                                           id);
  nappe_finding_measure (finding, there, N_MEASURES, NAPPE_QUANTITY_COUNT);
  for (int i = 0; i < N_MEASURES; i++)
    if (measures[i].stated == NAPPE_STATED_NO)
      {
        nappe_finding_say (finding, "%s", measures[i].missing);
        nappe_finding_cure (finding, "%s", measures[i].cure);
      }
  say_unknown (context, finding, measures);
  nappe_finding_formula (finding, _("what the room says of residual-current device, drip loops and sockets"));
  nappe_finding_cure (finding, _("Wiring is work for a licensed electrician, and local codes come before what is said here."));
}

static const char *
amperes (NappeRuleContext *context, double current)
{
  g_autofree char *text = nappe_quantity_format (NAPPE_QUANTITY_NUMBER, current, context->units, 2);
  /* Translators: amperes. */
  return nappe_rule_text (context, _("%s A"), text);
}

static void
report_load (NappeRuleContext *context, double power, guint n_unknown)
{
  const NappeRoom *room = NAPPE_BUILD_ROOM (context->build);
  const char *id = nappe_part_get_id (context->build->room);
  double current = power / room->mains_voltage, rating = room->circuit_amperes;
  double most = nappe_rule_limit (context, NAPPE_LIMIT_CIRCUIT_SHARE) * rating;
  gboolean over = current > rating, high = over || current > most;
  NappeFinding *finding
      = over   ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Circuit overloaded"), id)
        : high ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Circuit loaded for hours near its rating"), id)
               : nappe_rule_fine (context, id, current, most, NAPPE_QUANTITY_NUMBER);

  nappe_finding_measure (finding, current, over ? rating : most, NAPPE_QUANTITY_NUMBER);
  /* Translators: power of everything, voltage, two currents. */
  nappe_finding_say (finding, _("With everything on, %s are drawn at %s: %s of a circuit for %s."),
                     nappe_rule_number (context, NAPPE_QUANTITY_POWER, power),
                     nappe_rule_number (context, NAPPE_QUANTITY_VOLTAGE, room->mains_voltage), amperes (context, current),
                     amperes (context, rating));
  if (n_unknown > 0)
    nappe_finding_say (finding,
                       /* Translators: %u is how many devices. */
                       g_dngettext (GETTEXT_PACKAGE, "The power of %u device is not known and not in it.",
                                    "The power of %u devices is not known and not in it.", n_unknown),
                       n_unknown);
  nappe_finding_formula (finding, _("sum of all powers / mains voltage"));
  nappe_finding_input (finding, "", _("all powers, heaters and chillers on"), power, NAPPE_QUANTITY_POWER);
  nappe_finding_input (finding, "", _("mains voltage"), room->mains_voltage, NAPPE_QUANTITY_VOLTAGE);
  if (over)
    nappe_finding_say (finding, _("The breaker trips and everything stands still, or, where it does not, the wires grow hot."));
  else if (high)
    nappe_finding_say (finding, _("Load that lasts for hours should leave a fifth of the rating free."));
  if (high)
    /* Translators: %s is a power. */
    nappe_finding_cure (finding, _("Put devices of %s or more on another circuit. Have a licensed electrician look at it."),
                        nappe_rule_number (context, NAPPE_QUANTITY_POWER, (current - most) * room->mains_voltage));
}

/* Everything that may draw at one time against the circuit's rating. */
void
nappe_rule_circuit_load (NappeRuleContext *context)
{
  const NappeRoom *room = NAPPE_BUILD_ROOM (context->build);
  const NappeHeat *heat = nappe_rule_heat (context);
  double power = 0;

  for (guint i = 0; heat != NULL && i < heat->n_power; i++)
    power += heat->lines[i].power;
  if (power <= 0)
    nappe_rule_not_checked (context, _("Not checked: no device’s power is known."));
  else if (!nappe_is_given (room->circuit_amperes))
    nappe_rule_not_checked (
        context,
        /* Translators: a current. */
        nappe_rule_text (context, _("Not checked: the rating of the circuit is not known. Everything together draws %s."),
                         amperes (context, power / room->mains_voltage)));
  else
    report_load (context, power, heat->n_power_unknown);
}
