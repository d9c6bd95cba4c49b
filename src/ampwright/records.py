"""How this project declares a record: frozen, slotted, keyword-only, closed to unknown keys.

Validation happens only where text enters the program; the decorator merely leaves the wishes
(`extra = forbid`, no NaN) where the validator finds them. Why the methods are not left to `dataclass`:
docs/decisions/007-records-made-quickly.md.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, fields
from operator import attrgetter
from typing import Annotated, Any, NoReturn, TypeVar, dataclass_transform

from annotated_types import Ge, Gt, Le, Lt

T = TypeVar("T")

__all__ = [
    "AirTemperature",
    "AnyNumber",
    "Count",
    "Fraction",
    "NonNegative",
    "OutdoorTemperature",
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
OutdoorTemperature = Annotated[float, Ge(-90), Le(60)]
"""Air outside: WMO World Weather and Climate Extremes Archive, -89.2 to 56.7 degC, from memory."""
Count = Annotated[int, Ge(1), Le(10_000)]


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(cls: type[T]) -> type[T]:
    """Make `cls` a frozen, slotted, keyword-only dataclass that forbids unknown keys."""
    cls.__pydantic_config__ = {  # type: ignore[attr-defined]
        "extra": "forbid",
        "allow_inf_nan": False,
        "strict": True,
    }
    made: Any = dataclass(init=False, repr=False, eq=False, slots=True, kw_only=True)(cls)
    known = fields(made)
    made.__init__ = _init(made, known)
    made._all_values = attrgetter(*(field.name for field in known))  # noqa: SLF001 - a name no field has
    made.__eq__, made.__hash__, made.__repr__ = _equal, _hash, _shown
    made.__setattr__, made.__delattr__ = _refuse, _refuse
    made.__getstate__, made.__setstate__ = _state, _restore
    return made  # type: ignore[no-any-return]


def _init(made: type, known: tuple[Field[Any], ...]) -> Callable[..., None]:
    """Return the method that takes the fields as keywords: the only one that needs code of its own."""
    space: dict[str, Any] = {"set_value": object.__setattr__}
    wanted, lines = [], []
    for field in known:
        if field.default is MISSING:
            wanted.append(field.name)
        else:
            wanted.append(f"{field.name}=default_{field.name}")
            space[f"default_{field.name}"] = field.default
        lines.append(f"    set_value(self, '{field.name}', {field.name})")
    if hasattr(made, "__post_init__"):
        lines.append("    self.__post_init__()")
    exec("\n".join((f"def __init__(self, *, {', '.join(wanted)}):", *lines)), space)  # noqa: S102 - names of fields alone
    method: Callable[..., None] = space["__init__"]
    method.__qualname__ = f"{made.__qualname__}.__init__"
    method.__annotations__ = {**{field.name: field.type for field in known}, "return": None}
    return method


def _equal(self: Any, other: Any) -> Any:
    if other.__class__ is not self.__class__:
        return NotImplemented
    return (self._all_values(self),) == (self._all_values(other),)


def _hash(self: Any) -> int:
    return hash(self._all_values(self))


def _refuse(self: object, name: str, value: object = None) -> NoReturn:  # noqa: ARG001 - as Python calls it
    raise FrozenInstanceError(f"a record does not change: {name}")


def _shown(self: Any) -> str:
    values = ", ".join(f"{field.name}={getattr(self, field.name)!r}" for field in fields(self))
    return f"{type(self).__qualname__}({values})"


def _state(self: Any) -> list[Any]:
    return [getattr(self, field.name) for field in fields(self)]


def _restore(self: Any, state: list[Any]) -> None:
    for field, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, field.name, value)
