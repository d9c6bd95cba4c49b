"""Which of two devices in series opens first, as a matrix: upper devices across, lower ones down."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.circuits import Protection
from ampwright.assessment.circuits import circuits as circuits_of
from ampwright.assessment.result import Assessment
from ampwright.assessment.selectivity import DevicePair, Selectivity, selectivity
from ampwright.documents.curve_records import CurveMatrix, MatrixBlock, MatrixRow
from ampwright.documents.curve_words import CLASS_WORDS, amperes, plain_text
from ampwright.documents.words.words import Words, english
from ampwright.job.own_tables import device_class

__all__ = ["cell_text", "device_selectivity", "matrix_of", "range_text"]

MOST_COLUMNS = 5
"""Upper devices beside each other on a sheet; more of them make another table."""
MEMORY_MARK = "*"
NOT_IN_SERIES = "–"


def device_selectivity(assessment: Assessment) -> Selectivity:
    """Return every pair of devices in series of an assessed design."""
    design, network = assessment.design, assessment.network
    return selectivity(design, network, circuits_of(design, network))


def matrix_of(found: Selectivity, words: Words | None = None) -> CurveMatrix:
    """Return the matrix as printed; in English where no words are given."""
    words = words or english()
    uppers: dict[str, Protection] = {}
    for pair in found.pairs:
        uppers.setdefault(pair.above.device.id, pair.above)
    guards = tuple(uppers.values())
    starts = range(0, len(guards), MOST_COLUMNS)
    blocks = tuple(_block(found, guards[start : start + MOST_COLUMNS], words) for start in starts)
    return CurveMatrix(blocks=blocks, notes=tuple(_notes(found, words)))


def _block(found: Selectivity, uppers: tuple[Protection, ...], words: Words) -> MatrixBlock:
    names = tuple(each.device.id for each in uppers)
    lower: dict[str, dict[str, DevicePair]] = {}
    for pair in found.pairs:
        if pair.above.device.id in names:
            lower.setdefault(pair.below.device.id, {})[pair.above.device.id] = pair
    rows = []
    for by_upper in lower.values():
        first = next(iter(by_upper.values()))
        cells = tuple(
            cell_text(by_upper[name], words) if name in by_upper else NOT_IN_SERIES for name in names
        )
        rows.append(
            MatrixRow(
                device=plain_text(first.below.device.id),
                kind=_kind(first.below, words),
                faults=range_text(first, words),
                cells=cells,
            )
        )
    return MatrixBlock(
        devices=tuple(plain_text(name) for name in names),
        kinds=tuple(_kind(each, words) for each in uppers),
        rows=tuple(rows),
    )


def _kind(guard: Protection, words: Words) -> str:
    return f"{words(CLASS_WORDS[device_class(guard.part)])}, {amperes(guard.rating_a, words)}"


def range_text(pair: DevicePair, words: Words) -> str:
    """Return the faults where the lower device stands, smallest to largest."""
    smallest = "?" if pair.far_fault_a is None else amperes(pair.far_fault_a, words)
    largest = "?" if pair.fault_a is None else amperes(pair.fault_a, words)
    return words("{low} to {high}", low=smallest, high=largest)


def cell_text(pair: DevicePair, words: Words) -> str:
    """Return what is known of two devices, in a few words."""
    if pair.why_unknown:
        return words("not checked")
    mark = f" {MEMORY_MARK}" if pair.is_from_memory else ""
    if pair.is_total:
        return words("all faults") + mark
    if pair.up_to_a is None:
        return words("not selective") + mark
    most = amperes(pair.up_to_a, words)
    if pair.is_overload_only:
        return words("overload, to {current}", current=most) + mark
    return words("up to {current}", current=most) + mark


def _notes(found: Selectivity, words: Words) -> Iterator[str]:
    if not found.pairs:
        yield words("No two fuses or breakers stand in series in a way that could be judged.")
    else:
        yield words(
            '"all faults": up to the largest fault where it stands the lower device surely opens before the upper one can. '
            '"up to": only up to that current; above it both may open and everything behind the upper one goes off. '
            '"overload, to": already the smallest fault may open both. "not selective": both may open at every current that '
            'opens the lower one. "{dash}": not in series.',
            dash=NOT_IN_SERIES,
        )
    if any(pair.is_from_memory for pair in found.pairs):
        yield words(
            "{mark} Opening times of at least one of the two are from memory: compare with the curves of the devices fitted.",
            mark=MEMORY_MARK,
        )
    for pair in found.pairs:
        if pair.why_unknown:
            yield words(
                "Not checked: {lower} below {upper}, {why}.",
                lower=pair.below.device.id,
                upper=pair.above.device.id,
                why=words.said(pair.why_unknown),
            )
    for each in found.left_out:
        yield words("Not in the table: {device}, {why}.", device=each.device, why=words.said(each.why))
    yield words(
        "Devices of parallel battery or panel strings and electronic output channels are not in the table."
    )
