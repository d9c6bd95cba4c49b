"""The measuring procedure as text of 80 columns, and as JSON."""

from __future__ import annotations

import dataclasses
import json
import math
import textwrap
from collections.abc import Iterator
from pathlib import Path

from ampwright.fieldwork.measuring import MeasuringPlan, MeasuringStep

__all__ = ["measuring_json", "measuring_text"]

COLUMNS = 80


def measuring_json(plan: MeasuringPlan) -> str:
    """Return the procedure as JSON text; what is not foretold is null."""
    return json.dumps(dataclasses.asdict(plan), indent=2, ensure_ascii=False, allow_nan=False)


def measuring_text(plan: MeasuringPlan, *, written: Path | None = None) -> str:
    """Return the procedure to be printed and taken along."""
    lines = [f"Measuring on the vehicle: {plan.job}", ""]
    if plan.note:
        lines += _wrapped(plan.note, "")
    for caution in plan.cautions:
        lines += _wrapped(caution, "! ")
    for number, step in enumerate(plan.steps, start=1):
        lines += ["", *_step_lines(number, step)]
    if plan.steps:
        lines += ["", *_wrapped("Then run `ampwright check` again: the verdict follows the readings.", "")]
    if written is not None:
        lines += ["", f"Sheet to fill in: {written}"]
    return "\n".join(lines)


def _step_lines(number: int, step: MeasuringStep) -> Iterator[str]:
    yield from _wrapped(step.title, f"{number:2d}  ")
    yield from _wrapped(step.how, "    State:   ")
    yield from _wrapped(step.where, "    Where:   ")
    if step.expected is not None and math.isfinite(step.expected):
        yield f"    Expect:  {step.expected:.3g} {step.unit}        Read: ____________ {step.unit}"
    else:
        yield f"    Read:    ____________ {step.unit}"
    if step.also:
        yield from _wrapped("; ".join(step.also), "    Also:    ")
    yield from _wrapped(step.meaning, "    Differs: ")
    if step.field:
        yield from _wrapped(f"{step.field}", "    Replaces ")
        yield f"    {step.line}"


def _wrapped(text: str, first: str) -> list[str]:
    return textwrap.wrap(text, COLUMNS, initial_indent=first, subsequent_indent=" " * len(first))
