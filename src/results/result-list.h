/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making results; for this room alone. */
#pragma once

#include "results/result.h"

G_BEGIN_DECLS

/* The results of one part while they are gathered. */
typedef struct
{
  NappeBuild *build;
  const NappeStudy *study;
  const NappeNetwork *network; /* of the study */
  const NappeSpread *spread;   /* NULL: none */
  const NappeHeat *heat;       /* NULL: none */
  const NappeLoads *loads;     /* NULL: none, or not known */
  const char *part;            /* id */
  GPtrArray *results;          /* NappeResult */
} NappeResultList;

void nappe_result_free (NappeResult *self);

/* Adds a number. key: static; label: translated, copied. Owned by the list. */
NappeResult *nappe_result_list_add (NappeResultList *self, const char *key, const char *label, NappeQuantity quantity,
                                    double value, NappeLawName law);
/* Adds a word. word: translated and static. */
NappeResult *nappe_result_list_add_word (NappeResultList *self, const char *key, const char *label, const char *word,
                                         NappeLawName law);

/* What went into it; an input that is not finite is left out. */
void nappe_result_input (NappeResult *self, const char *symbol, const char *label, NappeQuantity quantity, double value);

/* The band of the samples; band NULL, or not finite: none. */
void nappe_result_sampled (NappeResult *self, const NappeBand *band);
/* The band of a value that is scale times another one with that band. band may be NULL. */
void nappe_result_sampled_scaled (NappeResult *self, const NappeBand *band, double scale);
/* The band of a value that is another one with that band plus shift; sign -1: shift less that one. band may be NULL. */
void nappe_result_sampled_shifted (NappeResult *self, const NappeBand *band, double sign, double shift);
/* The band of its law's own uncertainty. */
void nappe_result_by_law (NappeResult *self);
/* A band of first order that the study itself gives, such as published formulas that differ. */
void nappe_result_between (NappeResult *self, double low, double high);

/* What people call a part with an id; the id itself when nobody has it. */
const char *nappe_result_list_name (const NappeResultList *self, const char *id);
/* Level of a node in a state, z [m]; NaN when none was computed. */
double nappe_result_list_level (const NappeResultList *self, const NappeState *state, guint node);
/* A value of the running state; NaN when none was computed. */
double nappe_result_list_running (const NappeResultList *self, double value);
/* Flow of a link while running [m3/s]; NaN when there is none. */
double nappe_result_list_flow (const NappeResultList *self, guint link);
/* The sampled bands of a node's level and of a link's flow while running; NULL: none. */
const NappeBand *nappe_result_list_level_band (const NappeResultList *self, guint node);
const NappeBand *nappe_result_list_flow_band (const NappeResultList *self, guint link);

/* One function for each kind of part. */
void nappe_results_add_vessel (NappeResultList *list, guint node);    /* vessel-results.c */
void nappe_results_add_tank (NappeResultList *list);
void nappe_results_add_chamber (NappeResultList *list);
void nappe_results_add_sump (NappeResultList *list);
void nappe_results_add_sock (NappeResultList *list, guint node);
void nappe_results_add_overflow (NappeResultList *list);              /* weir-results.c */
void nappe_results_add_baffle (NappeResultList *list);
void nappe_results_add_spout (NappeResultList *list);
void nappe_results_add_drain (NappeResultList *list);                 /* drain-results.c */
void nappe_results_add_pump (NappeResultList *list);                  /* line-results.c */
void nappe_results_add_return_line (NappeResultList *list);
void nappe_results_add_outlet (NappeResultList *list);
void nappe_results_add_piece (NappeResultList *list);                 /* piece-results.c */
void nappe_results_add_ledger (NappeResultList *list, const char *line);
void nappe_results_add_build (NappeResultList *list);                 /* build-results.c */
void nappe_results_add_power_cut (NappeResultList *list);
void nappe_results_add_heat (NappeResultList *list);                  /* heat-results.c */
void nappe_results_add_power (NappeResultList *list);
void nappe_results_add_equipment (NappeResultList *list);
void nappe_results_add_water (NappeResultList *list);
void nappe_results_add_loads (NappeResultList *list);                 /* load-results.c */
void nappe_results_add_panels (NappeResultList *list);

G_END_DECLS
