"""How this project declares a record: frozen, slotted, keyword-only, closed to unknown keys.

Validation happens only where text enters the program; the decorator merely leaves the wishes
(`extra = forbid`, no NaN, docstrings as descriptions) where the validator finds them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, TypeVar, dataclass_transform

from annotated_types import Ge, Gt, Le, Lt

T = TypeVar("T")

__all__ = [
    "AirTemperature",
    "AnyNumber",
    "Count",
    "Fraction",
    "NonNegative",
    "Positive",
    "Temperature",
    "record",
]

AnyNumber = float
Positive = Annotated[float, Gt(0), Lt(1e9)]
NonNegative = Annotated[float, Ge(0), Lt(1e9)]
Fraction = Annotated[float, Ge(0), Le(1)]
Temperature = Annotated[float, Ge(-90), Le(1500)]
AirTemperature = Annotated[float, Ge(-90), Le(150)]
Count = Annotated[int, Ge(1), Le(10_000)]


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(cls: type[T]) -> type[T]:
    """Make `cls` a frozen, slotted, keyword-only dataclass that forbids unknown keys."""
    cls.__pydantic_config__ = {  # type: ignore[attr-defined]
        "extra": "forbid",
        "allow_inf_nan": False,
        "strict": True,
        "use_attribute_docstrings": True,
    }
    made: Any = dataclass(frozen=True, slots=True, kw_only=True)(cls)
    return made  # type: ignore[no-any-return]
