"""Which of two devices in series opens first, as text of 80 columns, and with every circuit as JSON."""

from __future__ import annotations

import json
import textwrap
from pathlib import Path
from typing import Any

from ampwright.assessment.result import Assessment
from ampwright.assessment.selectivity import DevicePair
from ampwright.documents.curve_matrix import cell_text, device_selectivity, matrix_of, range_text
from ampwright.documents.curve_records import CurveCircuit
from ampwright.documents.curve_view import curve_circuits
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.words.words import english

__all__ = ["curves_json", "curves_text"]

COLUMNS = 80


def curves_text(found: Assessment, *, written: Path | None) -> str:
    """Return the pairs as a table, one line each, with what the words mean."""
    study, words = device_selectivity(found), english()
    lines = [_row("lower device", "upper device", "faults there", "lower alone")] if study.pairs else []
    lines += [
        _row(_named(pair, "below"), _named(pair, "above"), range_text(pair, words), cell_text(pair, words))
        for pair in study.pairs
    ]
    lines += [""] if lines else []
    for note in matrix_of(study).notes:
        lines += textwrap.wrap(note, COLUMNS)
    if written is not None:
        lines += ["", f"Charts: {written}"]
    return "\n".join(lines).replace(UNIT_SPACE, " ")


def _row(lower: str, upper: str, faults: str, cell: str) -> str:
    return f"{lower:16} {upper:16} {faults:21} {cell}".rstrip()


def _named(pair: DevicePair, side: str) -> str:
    guard = pair.below if side == "below" else pair.above
    return f"{guard.device.id[:9]} {guard.rating_a:g} A"


def curves_json(found: Assessment) -> str:
    """Return every circuit with its currents and every pair of devices as JSON text; what is not known is null."""
    study = device_selectivity(found)
    plain = {
        "job": found.design.job.job.id,
        "circuits": [_circuit(each) for each in curve_circuits(found)],
        "pairs": [_pair(each) for each in study.pairs],
        "left_out": [{"device": each.device, "why": each.why} for each in study.left_out],
    }
    return json.dumps(plain, indent=2, ensure_ascii=False, allow_nan=False)


def _circuit(circuit: CurveCircuit) -> dict[str, Any]:
    return {
        "device": circuit.own.id,
        "kind": circuit.own.kind,
        "rating_a": circuit.own.rated.rating_a,
        "upstream": circuit.upstream.id if circuit.upstream else None,
        "runs": list(circuit.runs),
        "load_a": circuit.load_a,
        "far_fault_a": circuit.far_fault_a,
        "fault_a": circuit.fault_a,
    }


def _pair(pair: DevicePair) -> dict[str, Any]:
    return {
        "lower": pair.below.device.id,
        "upper": pair.above.device.id,
        "result": _result(pair),
        "selective_from_a": pair.from_a,
        "selective_to_a": pair.up_to_a,
        "far_fault_a": pair.far_fault_a,
        "fault_a": pair.fault_a,
        "is_from_memory": pair.is_from_memory,
        "why_unknown": pair.why_unknown,
    }


def _result(pair: DevicePair) -> str:
    if pair.why_unknown:
        return "not checked"
    if pair.is_total:
        return "all faults"
    if pair.up_to_a is None:
        return "not selective"
    return "overload only" if pair.is_overload_only else "part of the faults"
