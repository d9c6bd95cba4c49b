"""Put the power module's inside and the job's own parts and runs into one list each."""

from __future__ import annotations

import dataclasses

from ampwright.job.complaints import Complaints, Path, meant
from ampwright.job.module import ModuleDefinition, ModuleOption, ModulePort
from ampwright.job.records import Job
from ampwright.job.wiring import PlacedPart, Run
from ampwright.records import record

__all__ = ["Assembly", "PartEntry", "RunEntry", "assembly"]


@record
class PartEntry:
    """A placed part, and where in the file it is written."""

    placed: PlacedPart
    """The part, its id made unique."""
    path: Path
    """Place in the job file; "module" and the part's name for parts inside it."""
    is_inside: bool
    """True for a part inside the module."""


@record
class RunEntry:
    """A cable run, and where in the file it is written."""

    run: Run
    """The run, node names made unique."""
    path: Path
    """Place in the job file; "module" and the run's name for runs inside it."""
    is_inside: bool
    """True for a run inside the module."""


@record
class Assembly:
    """Everything placed and wired."""

    parts: tuple[PartEntry, ...]
    """Parts of the module, then of the job."""
    runs: tuple[RunEntry, ...]
    """Runs of the module, then of the job."""
    ports: tuple[ModulePort, ...]
    """Ports of the module, ids as "module.port", nodes made unique."""


def assembly(job: Job, definition: ModuleDefinition | None, complaints: Complaints) -> Assembly:
    """Return the parts, runs and ports of job and module together."""
    parts: list[PartEntry] = []
    runs: list[RunEntry] = []
    ports: list[ModulePort] = []
    if job.module is not None and definition is not None:
        _check_module_use(job, definition, complaints)
        pieces: list[ModuleDefinition | ModuleOption] = [definition]
        pieces += [o for o in definition.option if o.id in job.module.options]
        changed = {change.part: change.becomes for change in job.module.change}
        prefix = job.module.id
        for piece in pieces:
            parts += [_inside_part(part, prefix, job.module.zone, changed) for part in piece.part]
            runs += [_inside_run(run, prefix, job.module.zone) for run in piece.run]
            ports += [
                dataclasses.replace(port, id=f"{prefix}.{port.id}", node=f"{prefix}.{port.node}")
                for port in piece.port
            ]
    parts += [
        PartEntry(placed=part, path=("part", index), is_inside=False) for index, part in enumerate(job.part)
    ]
    runs += [RunEntry(run=run, path=("run", index), is_inside=False) for index, run in enumerate(job.run)]
    return Assembly(parts=tuple(parts), runs=tuple(runs), ports=tuple(ports))


def _check_module_use(job: Job, definition: ModuleDefinition, complaints: Complaints) -> None:
    use = job.module
    if use is None:
        return
    if use.revision != definition.revision:
        complaints.add(
            ("module", "revision"),
            f"the definition of '{definition.id}' at hand is revision {definition.revision}, "
            f"the job says {use.revision}; give the matching definition_file or revision",
        )
    if use.definition != definition.id:
        complaints.add(
            ("module", "definition"),
            f"the definition at hand is of '{definition.id}', the job says '{use.definition}'; "
            "give the matching definition_file or definition",
        )
    known = [option.id for option in definition.option]
    for index, option in enumerate(use.options):
        if option not in known:
            complaints.add(
                ("module", "options", index), f"no option '{option}' in this module; {meant(option, known)}"
            )
    inside = [part.id for part in definition.part]
    inside += [part.id for option in definition.option for part in option.part]
    for index, change in enumerate(use.change):
        if change.part not in inside:
            complaints.add(
                ("module", "change", index, "part"),
                f"no part '{change.part}' inside the module; {meant(change.part, inside)}",
            )


def _inside_part(part: PlacedPart, prefix: str, zone: str, changed: dict[str, str]) -> PartEntry:
    placed = dataclasses.replace(
        part,
        id=f"{prefix}.{part.id}",
        part=changed.get(part.id, part.part),
        zone=zone,
        inside=f"{prefix}.{part.inside}" if part.inside else "",
    )
    return PartEntry(placed=placed, path=("module", f"part '{part.id}'"), is_inside=True)


def _inside_run(run: Run, prefix: str, zone: str) -> RunEntry:
    inside = dataclasses.replace(
        run,
        id=f"{prefix}.{run.id}",
        start=f"{prefix}.{run.start}",
        end=f"{prefix}.{run.end}",
        zones=(zone,),
        device=tuple(dataclasses.replace(item, id=f"{prefix}.{item.id}") for item in run.device),
    )
    return RunEntry(run=inside, path=("module", f"run '{run.id}'"), is_inside=True)
