/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results/state-words.h"

#include <glib/gi18n-lib.h>

const char *
nappe_drain_state_word (NappeDrainState state)
{
  switch (state)
    {
    case NAPPE_DRAIN_DRY:
      /* Translators: how a drain runs */
      return _("dry");
    case NAPPE_DRAIN_QUIET:
      return _("quiet");
    case NAPPE_DRAIN_ENTRAINING:
      return _("draws air, loud");
    case NAPPE_DRAIN_SWEEPING:
      return _("sweeps air down");
    case NAPPE_DRAIN_FULL:
      return _("full bore");
    default:
      return "";
    }
}

const char *
nappe_inlet_control_word (NappeInletControl control)
{
  switch (control)
    {
    case NAPPE_INLET_DRY:
      /* Translators: what holds a drain's flow down */
      return _("nothing: no water reaches it");
    case NAPPE_INLET_CREST:
      return _("the crest of its inlet");
    case NAPPE_INLET_ORIFICE:
      return _("the drowned mouth of its inlet");
    case NAPPE_INLET_FULL:
      return _("the full pipe");
    default:
      return "";
    }
}

const char *
nappe_loss_word (NappeLossKind kind)
{
  switch (kind)
    {
    case NAPPE_LOSS_ENTRANCE:
      /* Translators: what head is lost in */
      return _("entrance");
    case NAPPE_LOSS_PIPE:
      return _("pipe");
    case NAPPE_LOSS_BEND:
      return _("bend of the hose");
    case NAPPE_LOSS_FITTING:
      return _("fitting");
    case NAPPE_LOSS_BRANCH:
      return _("into the branch");
    case NAPPE_LOSS_VALVE:
      return _("valve");
    case NAPPE_LOSS_BORE:
      return _("change of bore");
    case NAPPE_LOSS_EXIT:
      return _("exit");
    default:
      return "";
    }
}
