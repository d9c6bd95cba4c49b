"""Reading and writing a customer's answers: a small text (JSON) that came by file, mail or code, never trusted."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

from ampwright.climate.sources import shipped_sites
from ampwright.errors import JobError, Problem
from ampwright.job.complaints import meant
from ampwright.job.intake.story import Story
from ampwright.toml_positions import read_bytes
from ampwright.validation import problems_from, validated

__all__ = ["ANSWERS_BYTES", "answers_text", "load_story", "story_from_raw", "story_from_text"]

ANSWERS_BYTES = 20_000
"""Largest answers read; 30 appliances told in full have about 5 kB (our own choice)."""
DEEPEST = 8
"""Deepest nesting read; answers have four levels (our own choice)."""


def load_story(path: Path) -> Story:
    """Read a file of answers; raises JobError with every problem."""
    raw = read_bytes(path, max_bytes=ANSWERS_BYTES)
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError:
        raise _refused(path.name, "is no text in UTF-8; ask for the file again") from None
    return story_from_text(text, name=str(path))


def story_from_text(text: str, *, name: str) -> Story:
    """Return the story that a text of answers tells.

    Raises
    ------
    JobError
        With every problem, each with its place and what would be right.
    """
    if len(text.encode("utf-8", "replace")) > ANSWERS_BYTES:
        raise _refused(name, f"is longer than {ANSWERS_BYTES // 1000} kB; answers of the form have a few kB")
    try:
        raw = json.loads(text.strip(), parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        where = f"line {error.lineno}: " if isinstance(error, json.JSONDecodeError) else ""
        raise _refused(
            name, f"{where}is not whole, or no answers of the form; ask for the file or the code again"
        ) from None
    if not isinstance(raw, dict) or _depth(raw) > DEEPEST:
        raise _refused(name, "is no answers of the form; it begins with { and names its form")
    return story_from_raw(raw, name=name)


def story_from_raw(raw: dict[str, Any], *, name: str) -> Story:
    """Return the story that tables of answers tell; errors as `story_from_text`."""
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    try:
        story = validated(Story, raw)
    except ValidationError as error:
        raise JobError(name, tuple(problems_from(error, raw, kind=Story))) from None
    sites = shipped_sites()
    if story.stay.site not in sites:
        message = f"no place '{story.stay.site[:60]}' in the table; {meant(story.stay.site, sites)}"
        problem = Problem(path="stay > site", message=f"{message} (all: `ampwright sites`)")
        raise JobError(name, (problem,))
    return story


def answers_text(story: Story) -> str:
    """Return the answers as one line of JSON; what was not said is left out.

    Examples
    --------
    >>> from ampwright.job.intake.story import StoryAppliance, StoryStay, StoryTrip, StoryVehicle
    >>> told = Story(
    ...     vehicle=StoryVehicle(kind="truck"),
    ...     appliance=(StoryAppliance(kind="fridge"),),
    ...     stay=StoryStay(site="potsdam-de", month=7),
    ...     trip=StoryTrip(),
    ... )
    >>> story_from_text(answers_text(told), name="answers") == told
    True
    """
    return json.dumps(_said(story), ensure_ascii=False, separators=(",", ":"))


def _said(value: Any) -> Any:
    if dataclasses.is_dataclass(value):
        pairs = ((each.name, getattr(value, each.name)) for each in dataclasses.fields(value))
        return {key: _said(each) for key, each in pairs if each is not None and each != ""}
    return [_said(each) for each in value] if isinstance(value, tuple) else value


def _no_number(word: str) -> float:
    raise ValueError(word)


def _depth(value: Any, level: int = 0) -> int:
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return max((_depth(each, level + 1) for each in inside), default=level)


def _refused(name: str, message: str) -> JobError:
    return JobError(name, (Problem(path="", message=message),))
