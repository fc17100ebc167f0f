/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people decide about findings and rules, written into a build: answers and weights. Each call is one step that can
 * be undone and bears a name. FALSE and an error: nothing changed. */
#pragma once

#include "build/build.h"
#include "rules/finding.h"

G_BEGIN_DECLS

/* What somebody says to a finding. */
typedef struct
{
  const char *reason;
  NappeAnswerer answerer;
  const char *author, *date; /* may be "" */
} NappeReply;

/* Answers a finding, in place of any answer before. */
gboolean nappe_judgements_answer (NappeBuild *build, NappeFinding *finding, const NappeReply *reply, GError **error);
/* Takes the answers to a rule's finding about a part back. title: of the finding. */
gboolean nappe_judgements_take_back (NappeBuild *build, const char *rule, const char *part, const char *title,
                                     GError **error);

/* What a rule weighs in the build: a NappeWeight; -1: what the rule itself says. */
int nappe_judgements_get_weight (NappeBuild *build, const char *rule);
gboolean nappe_judgements_set_weight (NappeBuild *build, const char *rule, int weight, GError **error);

G_END_DECLS
