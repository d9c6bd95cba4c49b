"""Settings as wanted and as left: where a device was read back, the reading counts.

Answers which value the checks use. Whether the two agree is a rule's question.
"""

from __future__ import annotations

import dataclasses

from ampwright.job.records import Job
from ampwright.job.wiring import AsLeft, Channel, ChannelAsLeft, CutoffAsLeft, LoadCutoff, Setting

__all__ = ["CHANNEL_VALUES", "CUTOFF_VALUES", "VALUES", "job_as_left", "with_setting"]

ABOUT = ("by", "date", "how", "firmware")
VALUES = tuple(field.name for field in dataclasses.fields(AsLeft) if field.name not in ABOUT)
"""Names of the figures of a device that can be read back."""
CUTOFF_VALUES = tuple(field.name for field in dataclasses.fields(CutoffAsLeft) if field.name not in ABOUT)
"""Names of the figures of the load cut-off that can be read back."""
CHANNEL_VALUES = tuple(field.name for field in dataclasses.fields(ChannelAsLeft) if field.name not in ABOUT)
"""Names of the figures of an output channel that can be read back."""


def job_as_left(job: Job) -> Job:
    """Return the job with every reading in place of the value wanted; the job itself where nothing was read."""
    is_read = any(each.as_left for each in job.setting) or any(each.as_left for each in job.channel)
    if not is_read and (job.load_cutoff is None or job.load_cutoff.as_left is None):
        return job
    return dataclasses.replace(
        job,
        setting=tuple(_setting_as_left(each) for each in job.setting),
        load_cutoff=_cutoff_as_left(job.load_cutoff) if job.load_cutoff else None,
        channel=tuple(_channel_as_left(each) for each in job.channel),
    )


def _setting_as_left(setting: Setting) -> Setting:
    if setting.as_left is None:
        return setting
    read = {name: getattr(setting.as_left, name) for name in VALUES}
    return dataclasses.replace(setting, **{name: value for name, value in read.items() if value is not None})


def _channel_as_left(channel: Channel) -> Channel:
    if channel.as_left is None or channel.as_left.limit_a is None:
        return channel
    return dataclasses.replace(channel, limit_a=channel.as_left.limit_a)


def _cutoff_as_left(cutoff: LoadCutoff) -> LoadCutoff:
    if cutoff.as_left is None:
        return cutoff
    read = {name: getattr(cutoff.as_left, name) for name in CUTOFF_VALUES}
    return dataclasses.replace(cutoff, **{name: value for name, value in read.items() if value is not None})


def with_setting(job: Job, part: str, **values: float | None) -> Job:
    """Return the job with these values wanted of a device, and their old readings dropped.

    Examples
    --------
    A charger that was left at 14.4 V and shall now be set to 14.2 V is reckoned with 14.2 V.
    """
    old = next((each for each in job.setting if each.part == part), Setting(part=part))
    left = old.as_left
    if left is not None:
        cleared = dict.fromkeys(values, None)
        left = dataclasses.replace(left, **cleared)  # type: ignore[arg-type]
    changed = dataclasses.replace(old, as_left=left, **values)  # type: ignore[arg-type]
    others = tuple(each for each in job.setting if each.part != part)
    if len(others) == len(job.setting):
        return dataclasses.replace(job, setting=(*others, changed))
    kept = tuple(changed if each.part == part else each for each in job.setting)
    return dataclasses.replace(job, setting=kept)
