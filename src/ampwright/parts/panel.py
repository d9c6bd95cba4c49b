"""Solar panels."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Gt, Le

from ampwright.parts.base import PartBase
from ampwright.records import Positive, record

__all__ = ["Panel"]

TemperatureCoefficient = Annotated[float, Gt(-0.02), Le(0.02)]


@record
class Panel(PartBase):
    """One solar panel, figures at standard test conditions (1000 W/m2, 25 degC cell)."""

    kind: Literal["panel"]
    """Kind of part."""
    power_w: Positive
    """Rated power."""
    open_circuit_v: Positive
    """Open-circuit voltage."""
    short_circuit_a: Positive
    """Short-circuit current."""
    max_power_v: Positive
    """Voltage at maximum power."""
    max_power_a: Positive
    """Current at maximum power."""
    open_circuit_v_frac_per_k: TemperatureCoefficient
    """Change of open-circuit voltage per kelvin as a fraction, e.g. -0.003."""
    power_frac_per_k: TemperatureCoefficient
    """Change of power per kelvin as a fraction, e.g. -0.0038."""
    system_max_v: Positive
    """Highest system voltage the panel is built for."""
    series_fuse_max_a: Positive
    """Largest series fuse the panel allows (reverse current)."""
    is_portable: bool = False
    """True for a folding panel set up beside the vehicle."""
