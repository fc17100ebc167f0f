/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a rule is handed, and the few words all rules speak; for the rules alone.
 *
 * Comparisons are written so that a number that is not known (NaN) counts as the bad case: !(value >= least). */
#pragma once

#include "network/layout.h"
#include "rules/finding-private.h"
#include "rules/rule-limits.h"
#include "rules/rules.h"
#include "study/heat.h"
#include "study/simulation.h"

G_BEGIN_DECLS

struct _NappeRuleContext
{
  NappeBuild *build;
  const NappeStudy *study;
  const NappeNetwork *network; /* of the study */
  const NappeTargets *targets; /* of the build */
  NappeLayout *layout;         /* of the build; NULL when the network has no catalogue */
  const GPtrArray *courses;    /* NappeSimulation, some may be NULL; NULL: nothing was played in time */
  NappeHeat *heat;             /* NULL until a rule asks for it */
  NappeUnitSystem units;
  const NappeRuleInfo *rule;   /* that is running */
  NappeVerdict *verdict;       /* takes the findings */
  gboolean consulted[NAPPE_LIMIT_N]; /* limits that the running rule looked at */
  GArray *joints;              /* rules/joints.h; NULL until a rule asks */
  GPtrArray *texts;            /* char *: what nappe_rule_number and nappe_rule_name gave */
  GHashTable *names;           /* char * by id: what nappe_rule_name gave */
};

/* Adds a finding of the running rule. title: translated and static, NULL for the rule's own.
 * part: an id, "" for the whole build. Owned by the verdict. */
NappeFinding *nappe_rule_find (NappeRuleContext *context, NappeSeverity severity, const char *title, const char *part);
/* Adds a fine finding with its number and limit (SI, NaN for none). Its text is the caller's to say. */
NappeFinding *nappe_rule_fine (NappeRuleContext *context, const char *part, double value, double limit,
                               NappeQuantity quantity);
/* Adds a fine finding that was not checked, with the translated reason. */
void nappe_rule_not_checked (NappeRuleContext *context, const char *reason);
/* A limit as it holds for this build: the planner's own, else the rule's. SI */
double nappe_rule_limit (NappeRuleContext *context, NappeLimitName name);
/* Heat and evaporation of the study, reckoned once for all rules; NULL: without a catalogue. Owned by the context. */
const NappeHeat *nappe_rule_heat (NappeRuleContext *context);
/* Whether a running state was computed, steady or not; if not, adds the finding that says why nothing
 * was checked. */
gboolean nappe_rule_needs_computed (NappeRuleContext *context);
/* Whether, besides, water reaches the display; if not, as above. */
gboolean nappe_rule_needs_running (NappeRuleContext *context);
/* Whether, besides, all levels come to rest; if not, as above. */
gboolean nappe_rule_needs_steady (NappeRuleContext *context);
/* Whether nothing runs over a rim already while the pump runs; if something does, adds the finding that says that
 * what a mishap would add to it was not checked. */
gboolean nappe_rule_needs_dry_floor (NappeRuleContext *context);
/* The first link from `after` on (0 for the first) over which water runs onto the floor while the pump runs;
 * G_MAXUINT: none. */
guint nappe_rule_overflow_link (NappeRuleContext *context, guint after);

/* Whether a power cut puts water on the floor, the check valve failed. */
gboolean nappe_rule_cut_floods (NappeRuleContext *context);

/* timed-rules.c: the course of a case, or of a drain blocked at once; NULL: it was not played. */
const NappeSimulation *nappe_rule_course (NappeRuleContext *context, const char *id);
const NappeSimulation *nappe_rule_blocked_course (NappeRuleContext *context, const char *drain);
/* Adds to a finding when the first drop falls and how much reaches the floor; nothing for NULL or a dry floor. */
void nappe_rule_say_played (NappeRuleContext *context, NappeFinding *finding, const NappeSimulation *course);

/* Texts that live until the rules have run. */
/* A number with its unit in honest digits. */
const char *nappe_rule_number (NappeRuleContext *context, NappeQuantity quantity, double value);
/* A duration that people can picture: "95 s", "12 minutes", "3 hours". seconds [s] */
const char *nappe_rule_duration (NappeRuleContext *context, double seconds);
/* A part's name in quotes, or its kind and id: “Main siphon”, Drain “drain-2”. An outlet without a name goes by its
 * line. */
const char *nappe_rule_name (NappeRuleContext *context, const char *id);

/* Any text, as by printf. */
const char *nappe_rule_text (NappeRuleContext *context, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* A number that a remedy asks for, rounded up to the next millimetre or tenth of a litre: what is said is enough, and never
 * nothing. Lengths and volumes. */
const char *nappe_rule_at_least (NappeRuleContext *context, NappeQuantity quantity, double value);

/* Shorthands for nappe_rule_number. */
#define NAPPE_SAY_LENGTH(context, value) nappe_rule_number (context, NAPPE_QUANTITY_LENGTH, value)
#define NAPPE_SAY_VOLUME(context, value) nappe_rule_number (context, NAPPE_QUANTITY_VOLUME, value)
#define NAPPE_SAY_FLOW(context, value) nappe_rule_number (context, NAPPE_QUANTITY_FLOW, value)
#define NAPPE_SAY_SHARE(context, value) nappe_rule_number (context, NAPPE_QUANTITY_SHARE, value)
#define NAPPE_SAY_PLAIN(context, value) nappe_rule_number (context, NAPPE_QUANTITY_NUMBER, value)

/* A part's id; for parts that a rule only reads. part: (NappePart *) */
static inline const char *
nappe_rule_id (gconstpointer part)
{
  return nappe_part_get_id ((NappePart *) part);
}

/* The build's drain of a report. */
NappeDrain *nappe_rule_drain (NappeRuleContext *context, const NappeDrainReport *report);
/* The bore that would carry `factor` times the flow of a drain [m]: inlet and full pipe both grow about with the bore
 * to the power of 5/2, and so does the flow at one Froude number. */
double nappe_rule_bore_for (NappeRuleContext *context, const NappeDrainReport *report, double factor);
/* How many drains of the build have a role (NappeDrainRole). */
guint nappe_rule_count_role (NappeRuleContext *context, int role);
/* Whether the build has a siphon; says that the rule does not apply where it has none. */
gboolean nappe_rule_needs_siphon (NappeRuleContext *context);
/* Has each siphon of the study looked at. check: TRUE: it had something to look at. none: said where no siphon had. */
typedef gboolean (*NappeSiphonCheck) (NappeRuleContext *context, const NappeDrainReport *report);
void nappe_rule_check_siphons (NappeRuleContext *context, NappeSiphonCheck check, const char *none);
/* The node of a part, or NULL. */
const NappeNode *nappe_rule_node (NappeRuleContext *context, const char *id);
/* A piece's catalogue item, or NULL. */
const NappeItem *nappe_rule_item (NappeRuleContext *context, const char *id);

G_END_DECLS
