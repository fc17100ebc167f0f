/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The handbook's page of a rule: what it means, why, where its limit is from, how to put it right. */
#pragma once

#include <adwaita.h>

G_BEGIN_DECLS

#define NAPPE_TYPE_RULE_WINDOW (nappe_rule_window_get_type ())
G_DECLARE_FINAL_TYPE (NappeRuleWindow, nappe_rule_window, NAPPE, RULE_WINDOW, AdwWindow)

/* NULL with an error of NAPPE_HANDBOOK_ERROR when there is no such page. */
GtkWindow *nappe_rule_window_new (GtkWindow *parent, const char *rule, GError **error);

G_END_DECLS
