"""A test of the finished build with its predicted value, tolerance and limits: records that later hold the measured value.

Words are left to the documents: a test says by codes what is read, where, and in which state.
"""

from __future__ import annotations

import math
from typing import Literal

from ampwright.fieldwork.tolerance import Contribution, combined_tolerance
from ampwright.records import record

__all__ = ["Judgement", "PredictedTest", "State", "TestKind", "judgement"]

TestKind = Literal[
    "rest-voltage",
    "standby-current",
    "voltage-drop",
    "loop-resistance",
    "device-voltage",
    "load-current",
    "charger-output",
    "charger-drop",
    "charge-voltage",
    "threshold",
    "channel-limit",
]
"""What is read."""
State = Literal["rest", "off", "load", "road", "idle", "hooked-up", "sun", "bench"]
"""What is going on meanwhile: at rest, everything off, one load on, engine, mains, sun, supply on the bench."""
Judgement = Literal["within", "outside", "not predicted"]


@record
class PredictedTest:
    """One reading of the finished build."""

    kind: TestKind
    """What is read."""
    subject: str
    """Id of the load, charger, channel or device in the job."""
    at: str = ""
    """Node at which it is read; empty = said by the kind."""
    source_node: str = ""
    """Node from which a drop is read; empty = the posts of the battery that feeds it."""
    name: str = ""
    """Name of what is set, for a threshold, or legend of a channel."""
    state: State
    """What is going on meanwhile."""
    switched_on: tuple[str, ...] = ()
    """Ids of the loads that are on."""
    load_a: float | None = None
    """Current the prediction is for."""
    warm_up_minutes: float = 0.0
    """How long that state lasts before the reading."""
    soc_frac: float | None = None
    """State of charge the prediction is for."""
    unit: str
    """Unit of the reading."""
    expected: float | None
    """Predicted value; None = it could not be predicted."""
    contributions: tuple[Contribution, ...] = ()
    """What the tolerance is made of."""
    low: float | None = None
    """Lowest reading that passes; None = no lower limit."""
    high: float | None = None
    """Highest reading that passes; None = no upper limit."""
    note: str = ""
    """Why nothing is predicted; empty otherwise."""

    @property
    def tolerance(self) -> float:
        """Half width in which a sound build is read."""
        return combined_tolerance(self.contributions)

    @property
    def id(self) -> str:
        """Name that stays the same while kind, subject and state do."""
        return " ".join(
            each for each in (self.kind, self.subject, self.name, self.state, self._charge) if each
        )

    @property
    def _charge(self) -> str:
        return (
            f"{100.0 * self.soc_frac:.0f}%"
            if self.kind == "rest-voltage" and self.soc_frac is not None
            else ""
        )


def judgement(test: PredictedTest, measured: float) -> Judgement:
    """Say whether a measured value lies within the limits of a test.

    Examples
    --------
    >>> one = PredictedTest(kind="voltage-drop", subject="fridge", state="load", unit="V", expected=0.1, high=0.2)
    >>> judgement(one, 0.15), judgement(one, 0.25)
    ('within', 'outside')
    """
    if test.expected is None or not math.isfinite(measured):
        return "not predicted"
    is_low = test.low is not None and measured < test.low
    is_high = test.high is not None and measured > test.high
    return "outside" if is_low or is_high else "within"
