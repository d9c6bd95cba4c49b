"""How long somebody who typed wrong passwords has to wait, told from the log."""

from __future__ import annotations

import datetime as dt

from django.db.models import Q
from django.utils import timezone

from ampwright.web.models import Event

__all__ = ["wait_minutes"]

WINDOW = dt.timedelta(minutes=15)
MOST_FOR_A_NAME = 5
MOST_FOR_AN_ADDRESS = 20
"""Wrong attempts in the window (our own choice): a workshop shares an address, a name is one person's."""


def wait_minutes(name: str, address: str, *, what: str = "login refused") -> int:
    """Return how many minutes a name, or an address, has to wait; 0 = it may try. A token has no name."""
    now = timezone.now()
    recent = Event.objects.filter(what=what, at__gt=now - WINDOW)
    limits = [(Q(address=address), MOST_FOR_AN_ADDRESS)]
    if name:
        limits.append((Q(who=name), MOST_FOR_A_NAME))
    for own, most in limits:
        times = list(recent.filter(own).order_by("-at").values_list("at", flat=True)[:most])
        if len(times) >= most:
            left = times[-1] + WINDOW - now
            return max(1, -(-int(left.total_seconds()) // 60))
    return 0
