"""Choosing, reading and writing in the step: plain for one run, lane by lane for several side by side.

In plain Python, and on plain numbers, each function does the plain thing its body says; for lanes the compiler is told
below what to do. A table of lanes has one axis more, the last, of `LANES` runs.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from llvmlite import ir
from numba import types
from numba.core import cgutils

from ampwright.energy.lanes.kinds import (
    BITS,
    NUMBER_OF,
    NUMBERS,
    TRUTH_OF,
    LanesType,
    MaskType,
    code_for,
    spread,
    type_rule,
)
from ampwright.energy.tables import LANES

__all__ = [
    "add1",
    "add2",
    "all_of",
    "any_of",
    "in_lane",
    "lane_count",
    "lane_of",
    "no",
    "number",
    "pick",
    "put1",
    "put2",
    "read1",
    "read2",
]

T = TypeVar("T")
PLAIN = (types.Float, types.Integer, types.Boolean)
BYTES, WHOLE = ir.VectorType(ir.IntType(8), LANES), ir.IntType(LANES)


def pick(condition: bool, yes: T, other: T) -> T:  # noqa: FBT001
    """Return one of two values by a condition, lane by lane."""
    return yes if condition else other


def any_of(condition: bool) -> bool:  # noqa: FBT001
    """Return whether a condition holds in any lane."""
    return condition


def all_of(condition: bool) -> bool:  # noqa: FBT001
    """Return whether a condition holds in every lane."""
    return condition


def no(condition: bool) -> bool:  # noqa: FBT001
    """Return the opposite of a condition."""
    return not condition


def number(value: Any) -> Any:
    """Return a plain number as it is, an array of one number for each lane as lanes."""
    return value


def read1(values: Any, i: int) -> Any:
    """Return one value of a table with one axis, of all lanes."""
    return values[i]


def read2(values: Any, i: int, j: int) -> Any:
    """Return one value of a table with two axes, of all lanes."""
    return values[i, j]


def put1(values: Any, i: int, value: Any) -> None:
    """Enter a value into a table with one axis, in all lanes."""
    values[i] = value


def put2(values: Any, i: int, j: int, value: Any) -> None:
    """Enter a value into a table with two axes, in all lanes."""
    values[i, j] = value


def add1(values: Any, i: int, value: Any) -> None:
    """Add a value to one of a table with one axis, in all lanes."""
    values[i] += value


def add2(values: Any, i: int, j: int, value: Any) -> None:
    """Add a value to one of a table with two axes, in all lanes."""
    values[i, j] += value


def lane_count(_value: Any) -> int:
    """Return how many lanes a value has; a plain one has one."""
    return 1


def lane_of(value: Any, _lane: int) -> Any:
    """Return the value of one lane."""
    return value


def in_lane(_value: Any, _lane: int, changed: Any) -> Any:
    """Return a value with that of one lane changed."""
    return changed


def _kind_of(kind: types.Type) -> types.Type | None:
    """Return the type of lanes that a plain type, or its lanes, become beside lanes."""
    if isinstance(kind, LanesType | types.Float | types.Integer):
        return NUMBER_OF
    return TRUTH_OF if isinstance(kind, MaskType | types.Boolean) else None


def _lanes_value(context: Any, builder: Any, kind: types.Type, value: Any) -> Any:
    """Return a value in every lane."""
    if isinstance(kind, types.Integer):
        value = context.cast(builder, value, kind, types.float64)
    return spread(builder, value, NUMBERS if _kind_of(kind) == NUMBER_OF else BITS)


@type_rule(pick)
def _pick_type(_context: Any) -> Callable[..., Any]:
    def typer(condition: types.Type, yes: types.Type, other: types.Type) -> types.Type | None:
        if condition == TRUTH_OF or yes in {NUMBER_OF, TRUTH_OF} or other in {NUMBER_OF, TRUTH_OF}:
            return _kind_of(yes)
        return types.boolean if isinstance(yes, types.Boolean) else types.float64

    return typer


@code_for(pick, types.Any, types.Any, types.Any)
def _pick(context: Any, builder: Any, signature: Any, values: Any) -> Any:
    condition, yes, other = values
    if signature.return_type in {NUMBER_OF, TRUTH_OF}:
        yes = _lanes_value(context, builder, signature.args[1], yes)
        other = _lanes_value(context, builder, signature.args[2], other)
    else:
        yes = context.cast(builder, yes, signature.args[1], signature.return_type)
        other = context.cast(builder, other, signature.args[2], signature.return_type)
    return builder.select(condition, yes, other)


def _of_condition(function: Callable[..., Any], result: types.Type | None, emit: Callable[..., Any]) -> None:
    """Teach the compiler a question about a condition; `result` None = as the condition."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        def typer(condition: types.Type) -> types.Type | None:
            if isinstance(condition, types.Boolean):
                return types.boolean
            return (result or TRUTH_OF) if condition == TRUTH_OF else None

        return typer

    def lowered(_context: Any, builder: Any, signature: Any, values: Any) -> Any:
        return emit(builder, signature.args[0] == TRUTH_OF, values[0])

    code_for(function, types.Boolean)(lowered)
    code_for(function, MaskType)(lowered)


def _some(builder: Any, is_mask: bool, value: Any) -> Any:  # noqa: FBT001
    return builder.icmp_unsigned("!=", builder.bitcast(value, WHOLE), WHOLE(0)) if is_mask else value


def _every(builder: Any, is_mask: bool, value: Any) -> Any:  # noqa: FBT001
    full = WHOLE(2**LANES - 1)
    return builder.icmp_unsigned("==", builder.bitcast(value, WHOLE), full) if is_mask else value


_of_condition(any_of, types.boolean, _some)
_of_condition(all_of, types.boolean, _every)
_of_condition(no, None, lambda builder, _is_mask, value: builder.not_(value))


def _element(table: Any, axes: int) -> Any:
    """Return what stands in a table with so many axes beside that of the lanes."""
    if table.ndim == axes:
        return table.dtype
    return _kind_of(table.dtype) if table.ndim == axes + 1 else None


def _place(context: Any, builder: Any, table: Any, value: Any, indices: list[Any]) -> Any:
    """Return where an entry of a table is; the index is never negative."""
    array = context.make_array(table)(context, builder, value)
    shape = cgutils.unpack_tuple(builder, array.shape, table.ndim)
    strides = cgutils.unpack_tuple(builder, array.strides, table.ndim)
    at = [*indices, *([context.get_constant(types.intp, 0)] * (table.ndim - len(indices)))]
    return cgutils.get_item_pointer2(
        context, builder, array.data, shape, strides, table.layout, at, wraparound=False
    )


def _loaded(context: Any, builder: Any, place: Any, kind: types.Type) -> Any:
    if kind == NUMBER_OF:
        return builder.load(builder.bitcast(place, NUMBERS.as_pointer()), align=8)
    if kind == TRUTH_OF:
        held = builder.load(builder.bitcast(place, BYTES.as_pointer()), align=1)
        return builder.icmp_unsigned("!=", held, ir.Constant(BYTES, [0] * LANES))
    return context.unpack_value(builder, kind, place)


def _store(context: Any, builder: Any, place: Any, *, kind: types.Type, value: Any) -> None:
    if kind == NUMBER_OF:
        builder.store(value, builder.bitcast(place, NUMBERS.as_pointer()), align=8)
    elif kind == TRUTH_OF:
        builder.store(builder.zext(value, BYTES), builder.bitcast(place, BYTES.as_pointer()), align=1)
    else:
        context.pack_value(builder, kind, value, place)


def _indices(context: Any, builder: Any, signature: Any, values: Any, axes: int) -> list[Any]:
    kinds = signature.args[1 : 1 + axes]
    return [
        context.cast(builder, value, kind, types.intp)
        for value, kind in zip(values[1 : 1 + axes], kinds, strict=True)
    ]


def _reader(function: Callable[..., Any], axes: int) -> None:
    """Teach the compiler to read from a table."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        one_axis: Callable[..., Any] = lambda table, _i: _element(table, 1)  # noqa: E731
        return one_axis if axes == 1 else lambda table, _i, _j: _element(table, 2)

    @code_for(function, types.Array, *([types.Integer] * axes))
    def lowered(context: Any, builder: Any, signature: Any, values: Any) -> Any:
        at = _indices(context, builder, signature, values, axes)
        place = _place(context, builder, signature.args[0], values[0], at)
        return _loaded(context, builder, place, signature.return_type)


def _writer(function: Callable[..., Any], axes: int, *, adds: bool = False) -> None:
    """Teach the compiler to write into a table, or to add to what stands there."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        one_axis: Callable[..., Any] = lambda table, _i, _value: types.void if _element(table, 1) else None  # noqa: E731
        return (
            one_axis
            if axes == 1
            else lambda table, _i, _j, _value: types.void if _element(table, 2) else None
        )

    @code_for(function, types.Array, *([types.Integer] * axes), types.Any)
    def lowered(context: Any, builder: Any, signature: Any, values: Any) -> Any:
        table, given = signature.args[0], signature.args[-1]
        kind, value = _element(table, axes), values[-1]
        if kind in {NUMBER_OF, TRUTH_OF}:
            value = _lanes_value(context, builder, given, value)
        else:
            value = context.cast(builder, value, given, kind)
        place = _place(
            context, builder, table, values[0], _indices(context, builder, signature, values, axes)
        )
        if adds:
            value = builder.fadd(_loaded(context, builder, place, kind), value)
        _store(context, builder, place, kind=kind, value=value)
        return context.get_dummy_value()


_reader(read1, 1)
_reader(read2, 2)
_writer(put1, 1)
_writer(put2, 2)
_writer(add1, 1, adds=True)
_writer(add2, 2, adds=True)


@type_rule(number)
def _number_type(_context: Any) -> Callable[..., Any]:
    return lambda value: NUMBER_OF if isinstance(value, types.Array) else value


@code_for(number, types.Any)
def _number(context: Any, builder: Any, signature: Any, values: Any) -> Any:
    kind = signature.args[0]
    if not isinstance(kind, types.Array):
        return values[0]
    return _loaded(context, builder, _place(context, builder, kind, values[0], []), NUMBER_OF)


@type_rule(lane_count)
def _count_type(_context: Any) -> Callable[..., Any]:
    return lambda _value: types.intp


@code_for(lane_count, types.Any)
def _count(context: Any, _builder: Any, signature: Any, _values: Any) -> Any:
    return context.get_constant(types.intp, LANES if _is_wide(signature.args[0]) else 1)


def _is_wide(kind: types.Type) -> bool:
    return kind in {NUMBER_OF, TRUTH_OF}


def _plain_kind(kind: types.Type) -> types.Type:
    return {NUMBER_OF: types.float64, TRUTH_OF: types.boolean}.get(kind, kind)


@type_rule(lane_of)
def _lane_of_type(_context: Any) -> Callable[..., Any]:
    return lambda value, _lane: _plain_kind(value)


@code_for(lane_of, types.Any, types.Integer)
def _lane_of(_context: Any, builder: Any, signature: Any, values: Any) -> Any:
    return builder.extract_element(values[0], values[1]) if _is_wide(signature.args[0]) else values[0]


@type_rule(in_lane)
def _in_lane_type(_context: Any) -> Callable[..., Any]:
    return lambda value, _lane, _changed: value


@code_for(in_lane, types.Any, types.Integer, types.Any)
def _in_lane(_context: Any, builder: Any, signature: Any, values: Any) -> Any:
    value, lane, changed = values
    return builder.insert_element(value, changed, lane) if _is_wide(signature.args[0]) else changed
