"""Single values at an address, for compiled code that reads and writes the tables of several runs at once.

Nothing checks the address: whoever passes one keeps its table alive and knows its size.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from typing import Any

from llvmlite import ir
from numba import types

from ampwright.energy.lanes.kinds import code_for, type_rule

__all__ = ["index_at", "number_at", "put_number", "put_truth", "truth_at"]


def number_at(address: int, index: int) -> float:
    """Return the number of a table at an address."""
    return ctypes.c_double.from_address(address + 8 * index).value


def index_at(address: int, index: int) -> int:
    """Return the whole number of a table at an address."""
    return ctypes.c_int64.from_address(address + 8 * index).value


def truth_at(address: int, index: int) -> bool:
    """Return the truth of a table at an address."""
    return ctypes.c_bool.from_address(address + index).value


def put_number(address: int, index: int, value: float) -> None:
    """Enter a number into a table at an address."""
    ctypes.c_double.from_address(address + 8 * index).value = value


def put_truth(address: int, index: int, value: bool) -> None:  # noqa: FBT001
    """Enter a truth into a table at an address."""
    ctypes.c_bool.from_address(address + index).value = value


def _entry(builder: Any, address: Any, index: Any, kind: ir.Type) -> Any:
    return builder.gep(builder.inttoptr(address, kind.as_pointer()), [index])


def _reader(function: Callable[..., Any], result: Any, kind: ir.Type) -> None:
    """Teach the compiler to read at an address."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        return lambda _address, _index: result

    @code_for(function, types.Integer, types.Integer)
    def lowered(_context: Any, builder: Any, _signature: Any, values: Any) -> Any:
        found = builder.load(_entry(builder, values[0], values[1], kind))
        return builder.icmp_unsigned("!=", found, ir.Constant(kind, 0)) if result == types.boolean else found


def _writer(function: Callable[..., Any], given: Any, kind: ir.Type) -> None:
    """Teach the compiler to write at an address."""

    @type_rule(function)
    def typed(_context: Any) -> Callable[..., Any]:
        return lambda _address, _index, value: types.void if value == given else None

    @code_for(function, types.Integer, types.Integer, type(given))
    def lowered(context: Any, builder: Any, _signature: Any, values: Any) -> Any:
        value = builder.zext(values[2], kind) if given == types.boolean else values[2]
        builder.store(value, _entry(builder, values[0], values[1], kind))
        return context.get_dummy_value()


_reader(number_at, types.float64, ir.DoubleType())
_reader(index_at, types.int64, ir.IntType(64))
_reader(truth_at, types.boolean, ir.IntType(8))
_writer(put_number, types.float64, ir.DoubleType())
_writer(put_truth, types.boolean, ir.IntType(8))
