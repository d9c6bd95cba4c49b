"""Makes a short-lived process start faster; see docs/decisions/006-quick-start.md."""

from __future__ import annotations

import sys

__all__ = ["skip_unused_algebra"]


def skip_unused_algebra() -> None:
    """Start the compiler without loading scipy's linear algebra, which no kernel here uses.

    The compiler looks for it when first used and does without where it is missing; loading costs 0.2 s. The
    mask is lifted at once, so that anything else can still load it.
    """
    if "scipy.linalg" in sys.modules or "numba.np.arraymath" in sys.modules:
        return
    sys.modules["scipy.linalg"] = None  # type: ignore[assignment]
    try:
        import numba.np.arraymath  # noqa: F401, PLC0415 - loaded for its effect
    finally:
        del sys.modules["scipy.linalg"]
