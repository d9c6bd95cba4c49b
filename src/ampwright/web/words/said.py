"""Words that come from lists of the program and are shown as they are, marked for translation."""

from __future__ import annotations

from django.utils.translation import gettext_noop

__all__ = ["SAID"]

STATES = (
    gettext_noop("asked"),
    gettext_noop("quoted"),
    gettext_noop("ordered"),
    gettext_noop("built"),
    gettext_noop("tested"),
    gettext_noop("delivered"),
    gettext_noop("supported"),
)
ROLES = (
    gettext_noop("admin"),
    gettext_noop("designer"),
    gettext_noop("bench"),
    gettext_noop("electrician"),
    gettext_noop("read-only"),
)
SEVERITIES = (
    gettext_noop("pass"),
    gettext_noop("advice"),
    gettext_noop("not checked"),
    gettext_noop("condition"),
    gettext_noop("fail"),
)
VERDICTS = (
    gettext_noop("suits"),
    gettext_noop("suits with conditions"),
    gettext_noop("does not suit"),
    gettext_noop("no fault found"),
    gettext_noop("not fully checked"),
    gettext_noop("do not energise"),
)
GROUPS = (gettext_noop("Fit for the use"), gettext_noop("Wiring and protection"))
EVENTS = (
    gettext_noop("login"),
    gettext_noop("login refused"),
    gettext_noop("logout"),
    gettext_noop("account made"),
    gettext_noop("account changed"),
    gettext_noop("state"),
    gettext_noop("archived"),
    gettext_noop("fetched from archive"),
    gettext_noop("documents fetched"),
    gettext_noop("exported"),
    gettext_noop("imported"),
    gettext_noop("not allowed"),
    gettext_noop("token made"),
    gettext_noop("token revoked"),
    gettext_noop("token refused"),
    gettext_noop("backup made"),
    gettext_noop("photo added"),
    gettext_noop("photo taken away"),
    gettext_noop("restored"),
)
SAID = (*STATES, *ROLES, *SEVERITIES, *VERDICTS, *GROUPS, *EVENTS)
