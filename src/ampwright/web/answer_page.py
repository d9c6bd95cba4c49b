"""What the page of an answer shows: the same lines as the report, and the figures of its chart as a table."""

from __future__ import annotations

from typing import Any

import numpy as np
from django.utils.translation import gettext

from ampwright.documents.chart import soc_chart
from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.electrician import electrician_list
from ampwright.documents.energy_view import use_course
from ampwright.documents.report_model import report_model
from ampwright.documents.use_course import UseCourse
from ampwright.findings import Finding, Group, Severity
from ampwright.records import record
from ampwright.said import Said
from ampwright.web.answers import Live
from ampwright.web.signs import finding_sign
from ampwright.web.words.reader import reader_words

__all__ = ["DayLine", "answer_words"]

CHART_MM = 182.0
HEAVY = (Severity.FAIL, Severity.CONDITION, Severity.NOT_CHECKED, Severity.ADVICE)


@record
class DayLine:
    """One day of the chart in figures."""

    day: str
    """Day of the use, from 1, and its place in a use that moves on."""
    start: str
    """State of charge at its first midnight."""
    lowest: str
    """Lowest, and when."""
    highest: str
    """Highest, and when."""
    end: str
    """At its last midnight."""


@record
class FindingLine:
    """One finding as the page prints it."""

    sign: str
    """Shape of how it weighs."""
    severity: str
    """How it weighs."""
    rule: str
    """Rule in words."""
    subject: str
    """What it speaks of."""
    message: str
    """What was found, and the way out."""
    caution: str
    """What may hurt."""
    source: str
    """Where the limit comes from."""
    override: str
    """Who took it on."""
    language: str
    """Code of the message's language where it is not the page's own."""


def answer_words(live: Live) -> dict[str, Any]:
    """Return what the page prints of what is known."""
    if live.assessment is None:
        return {}
    found, course = live.assessment, use_course(live.assessment)
    chart = soc_chart(course, width_mm=CHART_MM, units=found.design.job.job.units, words=reader_words())
    words: dict[str, Any] = {
        "run_out": reader_words().said(found.run_out.message),
        "chart": chart_svg(chart, family="inherit") if chart is not None else "",
        "days": day_lines(course),
        "groups": [_group(found.findings, group) for group in Group],
    }
    if live.answer is None:
        return words
    answer, sheet = live.answer, electrician_list(found)
    report = report_model(answer, reader_words())
    return {
        **words,
        "report": report,
        "day_count": course.day_count,
        "electrician": sheet,
        "facts": "; ".join(sheet.facts) if sheet is not None else "",
    }


def day_lines(course: UseCourse) -> tuple[DayLine, ...]:
    """Return the course of the charge, one line for each day."""
    per_day = round(24.0 / course.step_h)
    return tuple(_day(course, day, per_day) for day in range(course.day_count))


def _day(course: UseCourse, day: int, per_day: int) -> DayLine:
    values = course.soc_frac[day * per_day : (day + 1) * per_day + 1]
    low, high = int(np.argmin(values)), int(np.argmax(values))
    return DayLine(
        day=f"{day + 1}, {course.legs[day]}" if course.legs else str(day + 1),
        start=_percent(values[0]),
        lowest=_moment(values[low], low * course.step_h),
        highest=_moment(values[high], high * course.step_h),
        end=_percent(values[-1]),
    )


def _moment(frac: float, hours: float) -> str:
    return gettext("{percent} at {clock}").format(percent=_percent(frac), clock=_clock(hours))


def _percent(frac: float) -> str:
    return f"{100.0 * float(frac):.0f} %"


def _clock(hours: float) -> str:
    minutes = round(60.0 * hours)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _group(findings: tuple[Finding, ...], group: Group) -> dict[str, Any]:
    own = [finding for finding in findings if finding.group == group]
    return {
        "title": gettext(str(group).capitalize()),
        "heavy": [_line(each) for each in own if each.severity in HEAVY],
        "passed": [_line(each) for each in own if each.severity not in HEAVY],
    }


def _line(finding: Finding) -> FindingLine:
    words = reader_words()
    return FindingLine(
        sign=finding_sign(finding.severity),
        severity=gettext(finding.severity),
        rule=words.rule(finding.rule),
        subject=words.said(finding.subject),
        message=f"{words.said(finding.message)} {words.said(finding.way_out)}".strip(),
        caution=words.said(finding.caution),
        source=words.source(finding.source) if finding.source else "",
        override=words.said(finding.override.sentence) if finding.override else "",
        language="" if isinstance(finding.message, Said) else "en",
    )
