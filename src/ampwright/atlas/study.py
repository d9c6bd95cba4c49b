"""One chunk of an atlas: each case checked as `ampwright check` would, without its search for changes.

Nothing here knows where it runs; it takes and gives plain records that travel between processes.
"""

from __future__ import annotations

import dataclasses
from functools import lru_cache
from pathlib import Path

from ampwright import api
from ampwright.atlas.records import Case, Chunk, JobText, Row
from ampwright.climate.site import Site
from ampwright.climate.sources import shipped_sites
from ampwright.errors import AmpwrightError, JobError
from ampwright.job.place import Place
from ampwright.job.surroundings import sun_of, weather_of
from ampwright.job.workshop import load_workshop
from ampwright.sizing.bench import Bench
from ampwright.sizing.chance import chance_of
from ampwright.sizing.interval import share_interval
from ampwright.sizing.sureness import chance_finding, trial_of, with_finding

__all__ = ["rows_of"]

LOW_ROW = 0
"""Row of the runs' band that 1 run in 20 stays below."""


def rows_of(chunk: Chunk) -> tuple[Row, ...]:
    """Return one row for each case; a case that cannot be checked says why in `problem`."""
    return tuple(_row(chunk.job, case) for case in chunk.cases)


@lru_cache(maxsize=4)
def _loaded(job: JobText) -> api.Loaded:
    workshop = load_workshop(Path(job.workshop)) if job.workshop else None
    return api.load_text(job.text, Path(job.folder) / job.name, workshop=workshop)


def _row(job: JobText, case: Case) -> Row:
    site = shipped_sites()[case.site]
    bare = Row(
        job=job.name,
        site=site.id,
        site_name=site.name,
        country=site.country,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        month=case.month,
    )
    try:
        return _checked(_bench_at(_loaded(job), site, case.month), bare)
    except JobError as error:
        return dataclasses.replace(bare, problem=f"{error.file}: {error.problems[0]}")
    except AmpwrightError as error:
        return dataclasses.replace(bare, problem=str(error))


def _bench_at(loaded: api.Loaded, site: Site, month: int) -> Bench:
    """Return the bench of a job as if it were written for this place and month."""
    written = loaded.source.job
    season = dataclasses.replace(written.season, month=month, first_day=None)
    doubt = dataclasses.replace(written.doubt, weather_from="synthetic")
    job = dataclasses.replace(written, place=Place(site=site.id), season=season, doubt=doubt, leg=())
    bench = api.bench_of(loaded)
    design, folder = bench.design_of(job), loaded.source.file.parent
    return dataclasses.replace(
        bench,
        job=job,
        design=design,
        sun=sun_of(design, folder),
        weather=lambda: weather_of(design, folder),
        real_years=None,
    )


def _checked(bench: Bench, bare: Row) -> Row:
    found = bench.assessed_design(bench.design)
    lowest_frac = float(found.energy.soc_frac.min())
    row = dataclasses.replace(
        bare,
        use_verdict=found.use_verdict,
        wiring_verdict=found.wiring_verdict,
        lowest_soc_frac=lowest_frac,
        low_soc_frac=lowest_frac,
    )
    trial = trial_of(bench, bench.job, found)
    if trial is None:
        return row
    chance = chance_of(trial, bench.job.doubt, has_shares=False)
    low_frac, high_frac = share_interval(chance.held_count, chance.run_count)
    return dataclasses.replace(
        row,
        use_verdict=with_finding(found, chance_finding(chance)).use_verdict,
        run_count=chance.run_count,
        held_count=chance.held_count,
        held_low_frac=low_frac,
        held_high_frac=high_frac,
        low_soc_frac=float(chance.daily_low_frac[LOW_ROW].min()),
        missing_wh=sum(load.missing_wh for load in chance.loads if load.is_essential),
        worst=chance.worst_message if chance.held_count < chance.run_count else "",
    )
