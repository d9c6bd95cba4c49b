"""The Python API: load a job, assess it, search around it, publish it. Composition only."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ampwright import __version__
from ampwright.assessment.override_names import check_override_names
from ampwright.climate.series import SunSeries
from ampwright.errors import FileError
from ampwright.job.design import Design
from ampwright.job.load import LoadedJob, job_from_text, load_definition, load_job
from ampwright.job.module import ModuleDefinition
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.job.surroundings import real_years_of, sun_of, weather_of
from ampwright.job.workshop import Workshop
from ampwright.parts.catalogue import Catalogue, catalogue_with, shipped_catalogue
from ampwright.records import record
from ampwright.sizing.answer import answer_of
from ampwright.sizing.bench import Bench
from ampwright.sizing.result import Answer

if TYPE_CHECKING:
    from ampwright.documents.comparison.records import Comparison, Side
    from ampwright.documents.pack.records import Pack
    from ampwright.documents.words.words import Language
    from ampwright.fieldwork.log_file import BatteryLog
    from ampwright.fieldwork.log_study import LogStudy
    from ampwright.fieldwork.measuring import MeasuringPlan
    from ampwright.job.intake.story import Story
    from ampwright.sizing.cable_records import By, CableAnswer
    from ampwright.sizing.channel_answer import ChannelAnswer

__all__ = [
    "Loaded",
    "answer",
    "cables",
    "channels",
    "check",
    "clock_offset_h",
    "compare",
    "first_job",
    "load",
    "load_text",
    "log_study_of",
    "measuring",
    "publish",
    "report",
    "study_log",
    "substitute",
    "write_beside",
    "write_cables",
    "write_channels",
]

Progress = Callable[[int, int], None]


@record
class Loaded:
    """A job file with everything it names, ready to be assessed."""

    source: LoadedJob
    """The job and its text."""
    catalogue: Catalogue
    """Shipped parts and the job's own."""
    definition: ModuleDefinition | None
    """Definition of the module it includes."""
    design: Design
    """The design at the likely values."""
    sun: SunSeries
    """Sun and air of the place and season."""


def load(path: Path, *, workshop: Workshop | None = None) -> Loaded:
    """Read a job file and all it names, of a workshop's own things too where they are given.

    Raises
    ------
    JobError
        With every problem of the job and its parts files.
    ClimateError
        When the weather cannot be read or used.
    """
    return _with_all_it_names(load_job(path, workshop=workshop))


def load_text(text: str, path: Path, *, workshop: Workshop | None = None) -> Loaded:
    """Read a job from its text and all it names; files lie beside `path`, which need not exist."""
    return _with_all_it_names(job_from_text(text, path, workshop=workshop))


def _with_all_it_names(source: LoadedJob) -> Loaded:
    own_files = [source.file.parent / name for name in source.job.parts_files]
    base = shipped_catalogue() if source.workshop is None else source.workshop.catalogue
    catalogue = catalogue_with(base, own_files)
    definition = load_definition(source)
    design = resolve(source.job, catalogue, definition=definition, loaded=source)
    check_override_names(source)
    return Loaded(
        source=source,
        catalogue=catalogue,
        definition=definition,
        design=design,
        sun=sun_of(design, source.file.parent),
    )


def check(
    path: Path,
    *,
    on: dt.date | None = None,
    progress: Progress | None = None,
    workshop: Workshop | None = None,
) -> Answer:
    """Return the whole answer for one job file.

    Parameters
    ----------
    on : day on which overrides must be in force; the job's date where none is given
    progress : called with (steps done, steps in all) as the search goes on
    """
    return answer(load(path, workshop=workshop), on=on, progress=progress)


def compare(
    before: Path,
    after: Path,
    *,
    on: dt.date | None = None,
    progress: Progress | None = None,
    workshop: Workshop | None = None,
) -> Comparison:
    """Return what differs between two job files and between their answers; `on` and `progress` as for `check`."""
    sides = []
    for path in (before, after):
        loaded = load(path, workshop=workshop)
        title = f"{path.name}, revision {loaded.source.job.job.revision}"
        sides.append(_side(loaded, title, on=on, progress=progress))
    return _compared(*sides)


def substitute(
    path: Path,
    parts: tuple[str, str],
    *,
    on: dt.date | None = None,
    progress: Progress | None = None,
    workshop: Workshop | None = None,
) -> tuple[Comparison, str]:
    """Return what changes with one part of a job put for another, and the text of the job with it.

    Parameters
    ----------
    parts : id of the part replaced, id of the part in its place
    """
    from ampwright.job.substitute import with_other_part  # noqa: PLC0415 - only this command needs it

    old, new = parts
    loaded = load(path, workshop=workshop)
    loaded.catalogue.find(new)
    text = with_other_part(loaded.source.text, old, new)
    changed = load_text(text, path, workshop=workshop)
    before = _side(loaded, path.name, on=on, progress=progress)
    return _compared(before, _side(changed, f"with {new} for {old}", on=on, progress=progress)), text


def _side(loaded: Loaded, title: str, *, on: dt.date | None, progress: Progress | None) -> Side:
    from ampwright.documents.comparison.records import Side  # noqa: PLC0415 - only comparisons need it

    found, job = answer(loaded, on=on, progress=progress), loaded.source.job
    return Side(title=f"{job.job.title} ({title})", job=job, assessment=found.assessment, answer=found)


def _compared(before: Side, after: Side) -> Comparison:
    from ampwright.documents.comparison.compare import comparison_of  # noqa: PLC0415 - only comparisons need it

    return comparison_of(before, after)


def answer(loaded: Loaded, *, on: dt.date | None = None, progress: Progress | None = None) -> Answer:
    """Return the whole answer for a job that is loaded; `on` and `progress` as for `check`."""
    bench = dataclasses.replace(bench_of(loaded, on=on), progress=progress)
    name = loaded.source.file.name
    return answer_of(bench, file=name, job_hash=loaded.source.sha256[:12], program_version=__version__)


def bench_of(loaded: Loaded, *, on: dt.date | None = None) -> Bench:
    """Return where variants of a loaded job are assessed."""
    folder = loaded.source.file.parent

    def design_of(job: Job) -> Design:
        return resolve(job, loaded.catalogue, definition=loaded.definition, loaded=loaded.source)

    return Bench(
        job=loaded.source.job,
        design=loaded.design,
        design_of=design_of,
        catalogue=loaded.catalogue,
        sun=loaded.sun,
        on=on,
        weather=lambda: weather_of(loaded.design, folder),
        real_years=real_years_of(loaded.design, folder),
    )


def first_job(story: Story, *, on: dt.date, language: Language | None = None) -> str:
    """Return the text of a first job from what a customer told; `language` is that of plain names, the customer's where none is given."""
    from ampwright.documents.words.words import load_words  # noqa: PLC0415 - only here
    from ampwright.sizing.intake import StoryClimate, first_job_text  # noqa: PLC0415 - only here

    return first_job_text(
        story,
        on=on,
        catalogue=shipped_catalogue(),
        climate=StoryClimate(
            sun_of=lambda design: sun_of(design, Path()),
            weather_of=lambda design: weather_of(design, Path()),
        ),
        say=load_words(language or story.language),
    )


def cables(
    path: Path, *, by: By = "price", on: dt.date | None = None, workshop: Workshop | None = None
) -> CableAnswer:
    """Return a set of cables for a job that costs or weighs less, and in which nothing found is worse."""
    from ampwright.sizing.cable_answer import cable_answer  # noqa: PLC0415 - only this command needs it

    return cable_answer(bench_of(load(path, workshop=workshop), on=on), by)


def write_cables(path: Path, answer: CableAnswer, target: Path, *, workshop: Workshop | None = None) -> None:
    """Write the job with the cables of an answer to a new file, comments kept.

    Raises
    ------
    FileError
        Where there is such a file, or the job's other files would not be found from there.
    """
    from ampwright.job.cable_edit import with_cables  # noqa: PLC0415 - only here

    loaded = load_job(path, workshop=workshop)
    text = with_cables(loaded, {each.run: each.new_cable.id for each in answer.choices if each.is_changed})
    write_beside(path, loaded.raw, target, text)


def channels(path: Path, *, spare_count: int = 0, workshop: Workshop | None = None) -> ChannelAnswer:
    """Return the best output channel for each circuit of a job and for each load that is not wired."""
    from ampwright.network.solve import network_result  # noqa: PLC0415 - heavy
    from ampwright.sizing.channel_answer import channel_answer  # noqa: PLC0415 - only this command needs it

    loaded = load(path, workshop=workshop)
    network = network_result(loaded.design)
    return channel_answer(loaded.design, network, loaded.catalogue, spare_count=spare_count)


def write_channels(
    path: Path, answer: ChannelAnswer, target: Path, *, workshop: Workshop | None = None
) -> None:
    """Write the job with its circuits on the channels of an answer to a new file; errors as `write_cables`."""
    from ampwright.job.channel_edit import with_channels  # noqa: PLC0415 - only here

    loaded = load_job(path, workshop=workshop)
    write_beside(path, loaded.raw, target, with_channels(loaded, answer.moves))


def write_beside(path: Path, raw: Mapping[str, Any], target: Path, text: str) -> None:
    """Write a changed job to a new file from which its other files are found; errors as `write_cables`."""
    from ampwright.job.cable_edit import relative_files  # noqa: PLC0415 - only here

    beside = [name for name in relative_files(raw) if not Path(name).is_absolute()]
    if beside and target.parent.resolve() != path.parent.resolve():
        raise FileError(f"{target}: the job names {beside[0]} beside itself; write into its own folder")
    try:
        with target.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError:
        raise FileError(f"{target} exists already; choose another name") from None
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"{target}: cannot be written ({reason}); choose another place") from error


def measuring(path: Path, *, workshop: Workshop | None = None) -> MeasuringPlan:
    """Return what to measure on the vehicle of a job, what to expect, and which line each reading replaces."""
    from ampwright.energy.simulate import energy_model  # noqa: PLC0415 - heavy
    from ampwright.fieldwork.measuring import measuring_plan  # noqa: PLC0415 - only this command needs it
    from ampwright.network.solve import network_result  # noqa: PLC0415 - heavy

    loaded = load(path, workshop=workshop)
    network = network_result(loaded.design)
    model = energy_model(loaded.design, loaded.sun, path_ohm=network.path_ohm)
    return measuring_plan(loaded.design, network, model.alternator)


def log_study_of(
    path: Path,
    log_file: Path,
    *,
    names: Mapping[str, str],
    discharge_is_positive: bool = False,
    workshop: Workshop | None = None,
) -> LogStudy:
    """Return a log of the finished vehicle against what its job foretells at the likely values.

    Parameters
    ----------
    names : heading in the log by name of the column, where it is not the name itself
    """
    from ampwright.fieldwork.log_file import read_log  # noqa: PLC0415 - only this command needs it

    loaded = load(path, workshop=workshop)
    log = read_log(
        log_file,
        names=names,
        discharge_is_positive=discharge_is_positive,
        utc_offset_h=clock_offset_h(loaded),
    )
    return study_log(loaded, log)


def clock_offset_h(loaded: Loaded) -> float:
    """Return by how much the clock of a job's place is ahead of UTC; 0 where the job does not say."""
    site = loaded.design.site
    return (site.utc_offset_h or 0.0) if site is not None else 0.0


def study_log(loaded: Loaded, log: BatteryLog) -> LogStudy:
    """Return a log against a job at the likely values."""
    from ampwright.assessment.assess import studies_of  # noqa: PLC0415 - heavy
    from ampwright.energy.simulate import energy_model  # noqa: PLC0415 - heavy
    from ampwright.fieldwork.log_study import log_study  # noqa: PLC0415 - only this command needs it

    warm, studies = studies_of(loaded.design, loaded.sun)
    model = energy_model(warm, loaded.sun, path_ohm=studies.network.path_ohm)
    return log_study(warm, model, studies.energy, log)


def report(answer: Answer, *, with_curves: bool = False, language: Language | None = None) -> bytes:
    """Return the two-page report of an answer as PDF, on request with the time-current charts as its appendix.

    Parameters
    ----------
    language : of the texts; the job's where none is given
    """
    from ampwright.documents.report_pdf import report_pdf  # noqa: PLC0415 - heavy
    from ampwright.documents.words.words import load_words  # noqa: PLC0415 - heavy

    words = load_words(language or answer.assessment.design.job.job.language)
    return report_pdf(answer, words, with_curves=with_curves)


def publish(
    path: Path,
    *,
    on: dt.date | None = None,
    only: Sequence[str] = (),
    language: Language | None = None,
    progress: Progress | None = None,
    workshop: Workshop | None = None,
) -> Pack:
    """Return every document of a job, or those named.

    Parameters
    ----------
    only : names of documents; empty = all
    language : of the texts; the job's where none is given
    """
    from ampwright.documents.pack.publish import check_names, pack_of  # noqa: PLC0415 - heavy
    from ampwright.documents.pack.records import Material  # noqa: PLC0415 - heavy
    from ampwright.documents.words.words import load_words  # noqa: PLC0415 - heavy

    check_names(only)
    loaded = load(path, workshop=workshop)
    found = answer(loaded, on=on, progress=progress)
    words = load_words(language or loaded.source.job.job.language)
    return pack_of(Material(answer=found, catalogue=loaded.catalogue, words=words), only=only)
