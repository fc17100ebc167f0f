/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An example of a rule at work: data/handbook/rules/ID.json varies a demo build so that the rule has something to say.
 *
 *   { "base": "three-drain.nappe", "variation": { … as in file/variation.h }, "severity": "danger", "part": "emergency",
 *     "picture": "elevation", "flow" or "power-cut" }
 *
 * "base" and "picture" may be left out: these are their first values. */
#pragma once

#include "handbook/rule-page.h"
#include "picture/picture.h"

G_BEGIN_DECLS

typedef struct
{
  NappeBuild *build;
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict; /* all that the rules say of it */
  NappeFinding *finding; /* what the rule says of the example's part; of the verdict */
  NappePictureKind kind; /* that shows it best */
  NappeShownState shown;
} NappeRuleExample;

/* Reads, computes and judges it; plays cases in time for a rule that wants them. Transfer full; NULL with an error of
 * NAPPE_HANDBOOK_ERROR or NAPPE_FILE_ERROR. */
NappeRuleExample *nappe_rule_example_new (const char *rule, NappeCatalogue *catalogue, NappeUnitSystem units,
                                          GError **error);
/* The example's picture with its part picked and its finding pinned. options: kind, shown and selected are put in.
 * Transfer full. */
NappePicture *nappe_rule_example_draw (const NappeRuleExample *self, const NappePictureOptions *options);
void nappe_rule_example_free (NappeRuleExample *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeRuleExample, nappe_rule_example_free)

G_END_DECLS
