"""Which cables each run may have: those of its make that the rules on the run alone allow.

What hangs on other runs too (currents, voltages, faults) is left to the search.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ampwright.assessment.cables import CABLE_MINIMUM_SIZE
from ampwright.assessment.device_size import DEVICE_AGAINST_CABLE, OUTPUT_FAILS_SHORTED
from ampwright.assessment.rule import Studies
from ampwright.findings import Finding
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.cable import Cable
from ampwright.parts.catalogue import Catalogue
from ampwright.records import record
from ampwright.sizing.cable_records import By
from ampwright.sizing.standard import standard_of, worse
from ampwright.sizing.wiring_trial import rewired, same_make

__all__ = ["CableOption", "Options", "allowed", "every_cable", "without_figure"]

OF_THE_RUN = (CABLE_MINIMUM_SIZE, DEVICE_AGAINST_CABLE, OUTPUT_FAILS_SHORTED)
"""Rules that look at a run's own cable and at devices, and at no other cable."""


@record
class CableOption:
    """One cable for one run."""

    cable: Cable
    """The cable, out and back alike; of the present option the outgoing one."""
    is_present: bool
    """True for what the job has now."""
    by: By
    """What is to be less."""
    price_eur: float
    """Price of the whole run."""
    mass_kg: float
    """Mass of the whole run."""

    @property
    def total(self) -> float:
        """What is to be less, of the whole run."""
        return self.price_eur if self.by == "price" else self.mass_kg


Options = Mapping[int, tuple[CableOption, ...]]
"""Options of each run that may change, by its index, the least first; the present one among them."""


def _per_metre(cable: Cable, by: By) -> float:
    """Return price or mass of a metre; 0 where the part does not say."""
    return cable.price_eur_per_m if by == "price" else cable.mass_kg_per_m


def _option(run: DesignRun, by: By, *, cable: Cable | None = None) -> CableOption:
    """Return what a run has, or what it would have with another cable, out and back."""
    out = cable or run.cable
    back = None if run.back_cable is None else cable or run.back_cable
    laid = [(out, run.length_m)]
    if back is not None and out.core_count == 1:
        laid.append((back, run.back_length_m))
    return CableOption(
        cable=out,
        is_present=cable is None,
        by=by,
        price_eur=sum(each.price_eur_per_m * length_m for each, length_m in laid),
        mass_kg=sum(each.mass_kg_per_m * length_m for each, length_m in laid),
    )


def without_figure(design: Design, catalogue: Catalogue, by: By) -> tuple[str, ...]:
    """Return the cables that could be laid in this job but say no price or mass."""
    runs = [run for run in design.runs if not run.is_inside_module]
    return tuple(
        cable.id
        for cable in catalogue.of_kind(Cable)
        if _per_metre(cable, by) == 0.0 and any(same_make(cable, run.cable) for run in runs)
    )


def every_cable(design: Design, catalogue: Catalogue, by: By) -> Options:
    """Return the cables of its make for each run outside the module."""
    return {
        run.index: tuple(sorted(_of_run(run, catalogue, by), key=_least_first))
        for run in design.runs
        if not run.is_inside_module
    }


def _of_run(run: DesignRun, catalogue: Catalogue, by: By) -> Iterator[CableOption]:
    yield _option(run, by)
    is_alike = run.back_cable is None or run.back_cable.id == run.cable.id
    for cable in catalogue.of_kind(Cable):
        is_other = cable.id != run.cable.id or not is_alike
        if is_other and _per_metre(cable, by) > 0.0 and same_make(cable, run.cable):
            yield _option(run, by, cable=cable)


def _least_first(option: CableOption) -> tuple[float, float]:
    return option.total, option.cable.area_mm2


def allowed(options: Options, design: Design, studies: Studies) -> Options:
    """Return the options with which no rule on the run alone finds more than with the present cable.

    Parameters
    ----------
    studies : of the present design; these rules take from it what no cable changes
    """
    kept: dict[int, tuple[CableOption, ...]] = {}
    for index, each in options.items():
        before = standard_of(_found_alone(design, studies, index))
        kept[index] = tuple(
            option
            for option in each
            if option.is_present
            or not worse(_found_alone(rewired(design, {index: option.cable}, {}), studies, index), before)
        )
    return kept


def _found_alone(design: Design, studies: Studies, index: int) -> tuple[Finding, ...]:
    name = design.runs[index].id
    return tuple(f for rule in OF_THE_RUN for f in rule.check(design, studies) if f.subject == name)
