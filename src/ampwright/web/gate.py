"""One gate that every request passes: closed while everything behind it is exchanged."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.http import HttpRequest, HttpResponseBase

from ampwright.web.views.refusals import being_restored

__all__ = ["Gate", "StillPassingError", "passing", "the_gate"]

PATIENCE_S = 30.0
"""Longest wait for requests at work before the gate is given up (our own choice)."""


class StillPassingError(Exception):
    """Others were still at work when the gate should have closed."""


class Gate:
    """Counts who is behind it; closes when nobody but the one who closes it is."""

    def __init__(self) -> None:
        """Begin open."""
        self._change = threading.Condition()
        self._count = 0
        self._is_closed = False

    def enter(self) -> bool:
        """Let one more through; False where the gate is closed."""
        with self._change:
            if self._is_closed:
                return False
            self._count += 1
            return True

    def leave(self) -> None:
        """Count one out."""
        with self._change:
            self._count -= 1
            self._change.notify_all()

    @contextmanager
    def closed(self, *, inside: int = 1, patience_s: float = PATIENCE_S) -> Iterator[None]:
        """Keep others out, once those who passed before are through; `inside` of them are who closes it.

        Raises
        ------
        StillPassingError
            Where it is closed by another one, or others stay too long.
        """
        with self._change:
            if self._is_closed:
                raise StillPassingError
            self._is_closed = True
        try:
            with self._change:
                if not self._change.wait_for(lambda: self._count <= inside, timeout=patience_s):
                    raise StillPassingError
            yield
        finally:
            with self._change:
                self._is_closed = False


_GATE = Gate()


def the_gate() -> Gate:
    """Return the gate of this process."""
    return _GATE


def passing(
    answering: Callable[[HttpRequest], HttpResponseBase],
) -> Callable[[HttpRequest], HttpResponseBase]:
    """Let a request through, or ask it to come back in a moment."""

    def answered(request: HttpRequest) -> HttpResponseBase:
        if not the_gate().enter():
            return being_restored(request)
        try:
            return answering(request)
        finally:
            the_gate().leave()

    return answered
