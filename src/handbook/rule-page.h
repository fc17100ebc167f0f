/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The handbook's page of a rule: data/handbook/rules/ID.md, English. What is read of Markdown is a title, headings of the
 * second order and paragraphs between them; an item of a list is a paragraph. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define NAPPE_HANDBOOK_ERROR (nappe_handbook_error_quark ())
GQuark nappe_handbook_error_quark (void);
typedef enum
{
  NAPPE_HANDBOOK_ERROR_READ,    /* the page or example cannot be read */
  NAPPE_HANDBOOK_ERROR_FORMAT,  /* it is none */
  NAPPE_HANDBOOK_ERROR_EXAMPLE, /* the example does not trip its rule */
} NappeHandbookError;

typedef struct
{
  char *heading;
  GPtrArray *paragraphs; /* char *, each on one line, without markup */
} NappePageSection;

typedef struct
{
  char *rule, *title;
  GPtrArray *sections; /* NappePageSection */
} NappeRulePage;

/* Reads the page of a rule from the shipped data. Transfer full; NULL with an error of NAPPE_HANDBOOK_ERROR. */
NappeRulePage *nappe_rule_page_read (const char *rule, GError **error);
/* The same from text that ends in NUL. */
NappeRulePage *nappe_rule_page_parse (const char *rule, const char *text, GError **error);
void nappe_rule_page_free (NappeRulePage *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeRulePage, nappe_rule_page_free)

G_END_DECLS
