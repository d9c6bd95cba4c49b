"""The compiler's types for numbers of several runs side by side in one vector register, and their arithmetic.

With these the step of one run serves all of them. What chooses and reads by type is in `values`.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from typing import Any, TypeVar, cast

from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.extending import lower_builtin, lower_cast, models, register_model, type_callable

from ampwright.energy.tables import LANES

__all__ = [
    "BITS",
    "NUMBERS",
    "NUMBER_OF",
    "TRUTH_OF",
    "LanesType",
    "MaskType",
    "code_for",
    "spread",
    "type_rule",
]

F = TypeVar("F", bound=Callable[..., Any])
NUMBERS, BITS = ir.VectorType(ir.DoubleType(), LANES), ir.VectorType(ir.IntType(1), LANES)


def type_rule(function: Callable[..., Any]) -> Callable[[F], F]:
    """Return the decorator of what gives the compiler the type of a function's result."""
    decorator: Any = type_callable
    return cast("Callable[[F], F]", decorator(function))


def code_for(function: Callable[..., Any], *kinds: Any) -> Callable[[F], F]:
    """Return the decorator of what makes the code of a function for these types."""
    decorator: Any = lower_builtin
    return cast("Callable[[F], F]", decorator(function, *kinds))


def cast_from(kind: Any, to: Any) -> Callable[[F], F]:
    """Return the decorator of what makes one type of another."""
    decorator: Any = lower_cast
    return cast("Callable[[F], F]", decorator(kind, to))


class LanesType(types.Type):
    """float64 of each lane."""

    def __init__(self) -> None:
        super().__init__(name="lanes")

    def unify(self, _typingctx: Any, other: types.Type) -> types.Type | None:
        """Return this type for a plain number beside it."""
        return self if isinstance(other, types.Float) else None


class MaskType(types.Type):
    """Truth of each lane."""

    def __init__(self) -> None:
        super().__init__(name="mask")

    def unify(self, _typingctx: Any, other: types.Type) -> types.Type | None:
        """Return this type for a plain truth beside it."""
        return self if isinstance(other, types.Boolean) else None


NUMBER_OF, TRUTH_OF = LanesType(), MaskType()


@register_model(LanesType)
class LanesModel(models.PrimitiveModel):
    """A vector of numbers."""

    def __init__(self, manager: Any, kind: types.Type) -> None:
        super().__init__(manager, kind, NUMBERS)


@register_model(MaskType)
class MaskModel(models.PrimitiveModel):
    """A vector of bits."""

    def __init__(self, manager: Any, kind: types.Type) -> None:
        super().__init__(manager, kind, BITS)


def _is_lanes(*kinds: types.Type) -> bool:
    return any(isinstance(kind, LanesType) for kind in kinds)


def spread(builder: Any, value: Any, whole: ir.VectorType) -> Any:
    """Return a value in every lane."""
    if value.type == whole:
        return value
    empty = ir.Constant(whole, ir.Undefined)
    first = builder.insert_element(empty, value, ir.Constant(ir.IntType(32), 0))
    return builder.shuffle_vector(
        first, empty, ir.Constant(ir.VectorType(ir.IntType(32), LANES), [0] * LANES)
    )


def _both(context: Any, builder: Any, signature: Any, values: Any) -> list[Any]:
    """Return operands as numbers of all lanes; a plain whole number first becomes a float."""
    plain = (
        value if kind == NUMBER_OF else context.cast(builder, value, kind, types.float64)
        for kind, value in zip(signature.args, values, strict=True)
    )
    return [spread(builder, value, NUMBERS) for value in plain]


def _operation(function: Callable[..., Any], result: types.Type, emit: Callable[..., Any]) -> None:
    """Teach the compiler an operation of two numbers, one or both in lanes."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        def typer(one: types.Type, two: types.Type) -> types.Type | None:
            plain = all(isinstance(kind, LanesType | types.Float | types.Integer) for kind in (one, two))
            return result if plain and _is_lanes(one, two) else None

        return typer

    def lowered(context: Any, builder: Any, signature: Any, values: Any) -> Any:
        return emit(builder, *_both(context, builder, signature, values))

    for one, two in ((LanesType, LanesType), (LanesType, types.Number), (types.Number, LanesType)):
        code_for(function, one, two)(lowered)


def _smaller(builder: Any, one: Any, two: Any) -> Any:
    return builder.select(builder.fcmp_ordered("<", two, one), two, one)


def _larger(builder: Any, one: Any, two: Any) -> Any:
    return builder.select(builder.fcmp_ordered(">", two, one), two, one)


def _compared(sign: str) -> Callable[..., Any]:
    return lambda builder, one, two: builder.fcmp_ordered(sign, one, two)


for _function, _emit in (
    (operator.add, lambda builder, one, two: builder.fadd(one, two)),
    (operator.sub, lambda builder, one, two: builder.fsub(one, two)),
    (operator.mul, lambda builder, one, two: builder.fmul(one, two)),
    (operator.truediv, lambda builder, one, two: builder.fdiv(one, two)),
    (operator.iadd, lambda builder, one, two: builder.fadd(one, two)),
    (operator.imul, lambda builder, one, two: builder.fmul(one, two)),
    (operator.isub, lambda builder, one, two: builder.fsub(one, two)),
    (min, _smaller),
    (max, _larger),
):
    _operation(_function, NUMBER_OF, _emit)
for _function, _sign in ((operator.lt, "<"), (operator.le, "<="), (operator.gt, ">"), (operator.ge, ">=")):
    _operation(_function, TRUTH_OF, _compared(_sign))
_operation(operator.eq, TRUTH_OF, _compared("=="))
_operation(
    operator.ne, TRUTH_OF, lambda builder, one, two: builder.not_(builder.fcmp_ordered("==", one, two))
)


def _of_one(function: Callable[..., Any], emit: Callable[..., Any]) -> None:
    """Teach the compiler an operation of one number in lanes."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        return lambda one: NUMBER_OF if _is_lanes(one) else None

    @code_for(function, LanesType)
    def lowered(_context: Any, builder: Any, _signature: Any, values: Any) -> Any:
        return emit(builder, values[0])


def _intrinsic(name: str) -> Callable[..., Any]:
    def emit(builder: Any, value: Any) -> Any:
        kind = ir.FunctionType(NUMBERS, [NUMBERS])
        called = cgutils.get_or_insert_function(builder.module, kind, f"llvm.{name}.v{LANES}f64")
        return builder.call(called, [value])

    return emit


_of_one(operator.neg, lambda builder, value: builder.fneg(value))
_of_one(abs, _intrinsic("fabs"))
_of_one(math.sqrt, _intrinsic("sqrt"))


def _of_truths(function: Callable[..., Any], emit: Callable[..., Any]) -> None:
    """Teach the compiler an operation of two truths, one or both in lanes."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        def typer(one: types.Type, two: types.Type) -> types.Type | None:
            fits = all(isinstance(kind, MaskType | types.Boolean) for kind in (one, two))
            return TRUTH_OF if fits and TRUTH_OF in {one, two} else None

        return typer

    def lowered(_context: Any, builder: Any, _signature: Any, values: Any) -> Any:
        return emit(builder, *(spread(builder, value, BITS) for value in values))

    for one, two in ((MaskType, MaskType), (MaskType, types.Boolean), (types.Boolean, MaskType)):
        code_for(function, one, two)(lowered)


for _function in (operator.and_, operator.iand):
    _of_truths(_function, lambda builder, one, two: builder.and_(one, two))
for _function in (operator.or_, operator.ior):
    _of_truths(_function, lambda builder, one, two: builder.or_(one, two))


@cast_from(types.Float, LanesType)
def _number_cast(_context: Any, builder: Any, _kind: Any, _to: Any, value: Any) -> Any:
    return spread(builder, value, NUMBERS)


@cast_from(types.Boolean, MaskType)
def _truth_cast(_context: Any, builder: Any, _kind: Any, _to: Any, value: Any) -> Any:
    return spread(builder, value, BITS)
