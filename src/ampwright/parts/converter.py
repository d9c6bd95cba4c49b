"""Step-down converters: they feed the 12 V side of a 24 V vehicle from both of its batteries."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import SuppliedPart
from ampwright.records import Fraction, NonNegative, Positive, Temperature, record

__all__ = ["Converter", "converter_input_w"]


@record
class Converter(SuppliedPart):
    """DC step-down converter with a regulated output; terminals "in" and "out"."""

    kind: Literal["converter"]
    """Kind of part."""
    input_nominal_v: Positive
    """Nominal voltage of the side that feeds it."""
    output_nominal_v: Positive
    """Nominal voltage of the loads it feeds."""
    output_v: Positive
    """Voltage it holds at its output."""
    input_start_v: Positive
    """Input voltage above which it starts again."""
    input_stop_v: Positive
    """Input voltage below which it switches off."""
    input_max_v: Positive
    """Highest input voltage it works at."""
    output_max_a: Positive
    """Continuous output current up to `derate_start_degc`."""
    output_peak_a: Positive
    """Output current for `output_peak_s`."""
    output_peak_s: Positive
    """How long it gives its peak from cold."""
    limit_a: Positive
    """Current it limits at, in an overload or a short circuit."""
    on_overload: Literal["limits", "shuts-off"]
    """Holds that current with sinking voltage, or switches off and tries again."""
    efficiency_frac: Fraction
    """Output power over input power at full output, its idle draw left out of the input."""
    idle_w: NonNegative
    """Input power while it is on without load."""
    derate_start_degc: Temperature
    """Ambient temperature where the continuous output begins to fall."""
    derate_end_degc: Temperature
    """Ambient temperature where the output reaches zero."""
    is_isolated: bool | None = None
    """True when nothing joins input and output inside; absent = not stated."""
    output_guard_v: Positive | None = None
    """Highest voltage its output can reach when its regulator fails, held by a second guard inside; absent = none or not stated."""


def converter_input_w(part: Converter, output_w: float) -> float:
    """Return the power a converter takes: what it gives over its efficiency, and its idle draw.

    Examples
    --------
    >>> from types import SimpleNamespace
    >>> converter_input_w(SimpleNamespace(efficiency_frac=0.9, idle_w=1.5), 90.0)
    101.5
    """
    return output_w / part.efficiency_frac + part.idle_w
