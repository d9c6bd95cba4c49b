"""Which of two devices in series opens first, over the faults that can be where the lower one stands.

Every pair is judged, not only neighbours: a fault below may open the second device above as well. The upper device is
taken to carry the fault current alone; what else flows through it at that moment is not known.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.circuits import Circuit, Circuits, Protection
from ampwright.assessment.fault_time import JUST_BELOW, opening_band, rated_device, steps_a
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.network.result import NetworkResult
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.said import said, said_together
from ampwright.standards.device_bands.discrimination import discrimination

__all__ = ["DISCRIMINATION", "DevicePair", "LeftOut", "Selectivity", "selectivity"]

WIRING = Group.WIRING


@record
class DevicePair:
    """Two devices in series, seen from the source."""

    above: Protection
    """The one nearer the source."""
    below: Protection
    """The one nearer the load."""
    far_fault_a: float | None
    """Smallest fault current that the lower one has to clear; None = not known."""
    fault_a: float | None
    """Largest fault current where the lower one stands; None = not known."""
    from_a: float | None
    """Smallest current asked at which the lower one must open; None = at none."""
    up_to_a: float | None
    """Largest current up to which surely only the lower one opens; None = at none."""
    is_total: bool
    """True when that holds up to the largest fault."""
    why_unknown: str
    """Why it could not be judged; empty where it could."""
    is_from_memory: bool
    """True when opening times of one of them were never read."""

    @property
    def is_overload_only(self) -> bool:
        """True when even the smallest fault exceeds what the lower one surely opens alone."""
        if self.is_total or self.up_to_a is None or self.far_fault_a is None:
            return False
        return self.up_to_a < self.far_fault_a


@record
class LeftOut:
    """A device that is in no pair, though something may stand above or below it."""

    device: str
    """Its id in the job."""
    why: str
    """Reason."""


@record
class Selectivity:
    """Every pair of devices in series."""

    pairs: tuple[DevicePair, ...]
    """In the order of the lower device's run, nearest upper device first."""
    left_out: tuple[LeftOut, ...]
    """Devices of runs that were not judged."""


def selectivity(design: Design, network: NetworkResult, found: Circuits) -> Selectivity:
    """Return every pair of devices in series with what is known of it."""
    pairs: list[DevicePair] = []
    left_out: list[LeftOut] = []
    for circuit in found.by_run:
        left_out += _left_out(design, circuit)
        if circuit.own is not None and not circuit.why_unknown:
            far_a = _smallest_a(network, found, circuit.own)
            pairs += [
                device_pair(design, network, above, circuit.own, far_fault_a=far_a)
                for above in _above(found, circuit)
            ]
    return Selectivity(pairs=tuple(pairs), left_out=tuple(left_out))


def _left_out(design: Design, circuit: Circuit) -> Iterator[LeftOut]:
    for device in design.runs[circuit.run].devices:
        if not isinstance(device.part, Fuse | Breaker):
            continue
        if circuit.why_unknown:
            yield LeftOut(device=device.id, why=circuit.why_unknown)
        elif circuit.own is None or circuit.own.device is not device:
            yield LeftOut(device=device.id, why=said("it is not the first of its run"))


def _above(found: Circuits, circuit: Circuit) -> Iterator[Protection]:
    """Yield the devices above a run's own, nearest first."""
    upstream = circuit.upstream
    while upstream is not None:
        yield upstream
        upstream = found.by_run[upstream.run].upstream


def device_pair(
    design: Design,
    network: NetworkResult,
    above: Protection,
    below: Protection,
    *,
    far_fault_a: float | None = None,
) -> DevicePair:
    """Return what is known of two devices in series; the smallest fault is only handed on."""
    fault_a = _largest_a(network, below)
    make = partial(DevicePair, above=above, below=below, far_fault_a=far_fault_a, fault_a=fault_a)
    unknown = partial(make, from_a=None, up_to_a=None, is_total=False, is_from_memory=False)
    upper, lower = rated_device(design, above), rated_device(design, below)
    bare = [guard.device.id for guard, rated in ((above, upper), (below, lower)) if not steps_a(rated)]
    if fault_a is None:
        return unknown(why_unknown=said("the largest fault at {device} is not known", device=below.device.id))
    if bare:
        return unknown(
            why_unknown=said(
                "no opening times are held for {devices}", devices=said_together(bare, between=", ")
            )
        )
    steps = {*steps_a(upper), *steps_a(lower)}
    currents = sorted({c for step in steps for c in (step * JUST_BELOW, step) if c < fault_a} | {fault_a})
    bands = [opening_band(upper, c) for c in currents], [opening_band(lower, c) for c in currents]
    judged = discrimination(*bands, currents_a=currents)
    return make(
        from_a=judged.from_a,
        up_to_a=judged.up_to_a,
        is_total=judged.is_total,
        why_unknown="",
        is_from_memory=any(
            band is not None and band.source.standing == "from memory" for band in itertools.chain(*bands)
        ),
    )


def _largest_a(network: NetworkResult, guard: Protection) -> float | None:
    key = (guard.run, guard.device.id)
    return _known(
        max((f.fault_a for f in network.device_fault if (f.run, f.device) == key), default=math.nan)
    )


def _smallest_a(network: NetworkResult, found: Circuits, guard: Protection) -> float | None:
    """Return the smallest fault current a device has to clear; None unless it is known of every run it protects."""
    key = (guard.run, guard.device.id)
    runs = {c.run for c in found.by_run if (own := c.own or c.upstream) and (own.run, own.device.id) == key}
    seen = {f.run: f.fault_a for f in network.far_fault if (f.device_run, f.device) == key and f.run in runs}
    return _known(min(seen.values())) if runs and set(seen) == runs else None


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _discrimination(design: Design, studies: Studies) -> Iterator[Finding]:
    """Yield one finding for each device that has others below it."""
    below: dict[tuple[int, str], tuple[Protection, list[Protection]]] = {}
    for circuit in studies.circuits.by_run:
        if circuit.own is not None and circuit.upstream is not None and not circuit.why_unknown:
            key = (circuit.upstream.run, circuit.upstream.device.id)
            below.setdefault(key, (circuit.upstream, []))[1].append(circuit.own)
    for upstream, guards in below.values():
        yield _of_upstream(upstream, [device_pair(design, studies.network, upstream, own) for own in guards])


def _of_upstream(upstream: Protection, pairs: list[DevicePair]) -> Finding:
    make = partial(Finding, rule="discrimination", group=WIRING, subject=upstream.device.id)
    total = [pair.below.device.id for pair in pairs if pair.is_total]
    partly = [
        said("{device} up to {current_a:,.0f} A", device=pair.below.device.id, current_a=pair.up_to_a)
        if pair.up_to_a
        else said("{device} never", device=pair.below.device.id)
        for pair in pairs
        if not pair.is_total and not pair.why_unknown
    ]
    names = said_together((pair.below.device.id for pair in pairs), between=", ")
    stands = said(
        "Above {names} stands {device}, {rating_a:g} A.",
        names=names,
        device=upstream.device.id,
        rating_a=upstream.rating_a,
    )
    unknown = [pair for pair in pairs if pair.why_unknown]
    if unknown:
        ids = said_together((pair.below.device.id for pair in unknown), between=", ")
        return make(
            severity=Severity.NOT_CHECKED,
            message=said_together(
                (
                    stands,
                    said(
                        "Which opens first could not be judged for {ids} ({why}).",
                        ids=ids,
                        why=unknown[0].why_unknown,
                    ),
                )
            ),
        )
    if not partly:
        return make(
            severity=Severity.PASS,
            message=said_together((stands, said("At every fault the lower one opens first."))),
        )
    kept = said("Always alone: {devices}.", devices=said_together(total, between=", ")) if total else ""
    alone = said(
        "The lower one surely opens alone: {devices}; above that {device} may open too and everything behind it goes off.",
        devices=said_together(partly, between=", "),
        device=upstream.device.id,
    )
    return make(
        severity=Severity.ADVICE,
        message=said_together((stands, alone, kept)),
        way_out=said("A slower or larger upper device the cable still allows, or a faster lower one."),
    )


DISCRIMINATION = Rule(
    name="discrimination",
    group=WIRING,
    asks="Does the device nearest a fault open first?",
    check=_discrimination,
)
