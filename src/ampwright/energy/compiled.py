"""The decorator of every compiled function of the energy step."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

from numba import njit

__all__ = ["compiled"]

F = TypeVar("F", bound=Callable[..., Any])


def compiled(**options: Any) -> Callable[[F], F]:
    """Return the compiler with the options that all functions of the step share.

    Without reference counting (`_nrt`) a step takes less than half the time. Nothing may be allocated then: scratch
    and state come from the caller.
    """
    compiler: Any = njit
    return cast("Callable[[F], F]", compiler(cache=True, error_model="numpy", _nrt=False, **options))
