"""Title block, running foot and fixed words of the report, in the reader's language."""

from __future__ import annotations

import calendar

from ampwright.assessment.added_mass import mass_line
from ampwright.documents.report_records import Fact
from ampwright.documents.words.words import Words, noted
from ampwright.job.records import About, Job
from ampwright.sizing.result import Answer

__all__ = ["report_facts", "report_labels", "revision_line", "running_line"]

LABELS = {
    "page": noted("page {page} of {count}"),
    "outlook": noted("How sure, how long, what is to spare"),
    "from_to": noted("from and to"),
    "wh_a_day": noted("Wh a day"),
    "share": noted("share"),
    "changes": noted("Smallest changes"),
    "ask_first": noted("Ask first"),
    "caution": noted("Caution:"),
    "way_out": noted("Way out:"),
    "weight_subject": noted("weight, subject"),
    "found_way_out": noted("what was found, way out"),
    "figures": noted("figures"),
    "rule_source": noted("rule, source"),
    "findings": noted("Findings that matter"),
    "no_fail": noted("No fail and no condition."),
    "by_hand": noted("Not checked for the whole job: do it by hand"),
    "advice": noted("Advice"),
    "passed": noted("Passed"),
    "assumed": noted("Assumed"),
    "cautions": noted("Cautions for this job"),
    "limits": noted("What this report does not do"),
    "appendix": noted("Appendix: fuses and breakers"),
}
"""Fixed words of the page by the names under which the template reads them."""


def report_labels(words: Words) -> dict[str, str]:
    """Return the fixed words of the page."""
    return {name: words(text) for name, text in LABELS.items()}


def running_line(answer: Answer, words: Words) -> str:
    """Return the line at the foot of every page."""
    about = answer.assessment.design.job.job
    return words(
        "{job}, revision {revision}, {date}. Job file {hash}. Ampwright {version}.",
        job=about.id,
        revision=about.revision,
        date=about.date.isoformat(),
        hash=answer.job_hash,
        version=answer.program_version,
    )


def revision_line(about: About, words: Words) -> str:
    """Return the line at the foot of a page that knows the assessment alone."""
    return words(
        "{job}, revision {revision}, {date}.",
        job=about.id,
        revision=about.revision,
        date=about.date.isoformat(),
    )


def report_facts(answer: Answer, words: Words) -> tuple[Fact, ...]:
    """Return the title block."""
    design = answer.assessment.design
    job, about = design.job, design.job.job
    place = job.place.name or job.place.site or job.place.weather_file or _coordinates(job, words)
    entries = (
        (words("Job"), about.id),
        (words("Customer"), about.customer or words("not said")),
        (words("Responsible"), about.author or words("not said")),
        (
            words("Revision"),
            words("{revision} of {date}", revision=about.revision, date=about.date.isoformat()),
        ),
        (words("Vehicle"), job.vehicle.description),
        (words("Place, month"), f"{place}, {words(calendar.month_name[job.season.month])}"),
        *(
            (words("Then"), words("{place}, from day {day}", place=leg.name, day=leg.first + 1))
            for leg in answer.assessment.design.legs[1:]
        ),
        (words("Use"), words.days(len(design.days))),
        (words("Region"), words(design.region.title)),
        (words("Mass"), words.said(mass_line(design, answer.assessment.mass))),
        (words("Program"), f"Ampwright {answer.program_version}"),
        (words("Job file"), answer.file),
        (words("File hash"), answer.job_hash),
        (words("Unknown"), _amounts(answer.unknown_count, words)),
    )
    return tuple(Fact(label=label, text=text) for label, text in entries)


def _coordinates(job: Job, words: Words) -> str:
    if job.place.latitude_deg is None or job.place.longitude_deg is None:
        return words("place not said")
    return words.decimal(f"{job.place.latitude_deg:.2f}°; {job.place.longitude_deg:.2f}°")


def _amounts(count: int, words: Words) -> str:
    if count == 0:
        return words("no amount")
    return words("1 amount") if count == 1 else words("{count} amounts", count=count)
