"""Where answers are reckoned: quick ones at once, full ones by one thread that gives way to the quick.

Knows texts and numbers of revisions, not the database: who keeps an answer is told by a call.
"""

from __future__ import annotations

import datetime as dt
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Generic, TypeVar

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.assessment.result import Assessment
from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.records import record
from ampwright.sizing.result import Answer

__all__ = ["Desk", "Quick", "Task"]

QUICK_KEPT = 24
FULL_KEPT = 8
"""Answers kept in memory; a few MB each (our own choice)."""
PATIENCE_S = 2.0
"""Longest time the full answer gives way at one step, so that it always ends (our own choice)."""

V = TypeVar("V")
Key = tuple[int, dt.date]


@record
class Task:
    """One revision to be reckoned."""

    job_id: int
    """Which job; a full answer that waits gives way to a newer one of the same job. Below 0: of no job's last revision."""
    revision_id: int
    """Which revision of all that are kept."""
    number: int
    """Its number in the job."""
    load: Callable[[], api.Loaded]
    """Reads the revision and all it names."""
    on: dt.date
    """Day on which overrides must be in force."""

    @property
    def key(self) -> Key:
        """What tells it from others."""
        return self.revision_id, self.on


@record
class Quick:
    """What is known of a revision at once."""

    assessment: Assessment | None
    """At the likely values, one typical day; None where the job cannot be built."""
    problems: tuple[Problem, ...] = ()
    """Why it cannot be built."""


class _OvertakenError(Exception):
    """The job was changed while its full answer was reckoned."""


class _Kept(Generic[V]):
    """The last few values by key."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._values: OrderedDict[Key, V] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, key: Key) -> V | None:
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def put(self, key: Key, value: V) -> None:
        with self._lock:
            self._values[key] = value
            while len(self._values) > self._size:
                self._values.popitem(last=False)


class Desk:
    """Reckons quick answers when asked, and full answers one after the other in the background."""

    def __init__(self) -> None:
        """Begin with nothing to do."""
        self._quick: _Kept[Quick] = _Kept(QUICK_KEPT)
        self._full: _Kept[Answer | str] = _Kept(FULL_KEPT)
        self._change = threading.Condition()
        self._waiting: OrderedDict[int, tuple[Task, Callable[[Answer], None]]] = OrderedDict()
        self._at_work: Task | None = None
        self._steps = (0, 0)
        self._asking = 0
        self._thread: threading.Thread | None = None
        self._one_at_a_time = threading.Lock()

    def quick(self, task: Task) -> Quick:
        """Return the quick answer of a revision."""
        found = self._quick.get(task.key)
        if found is not None:
            return found
        with self.waiting_person(), self._one_at_a_time:
            found = self._quick.get(task.key) or _quick(task)
        self._quick.put(task.key, found)
        return found

    @contextmanager
    def waiting_person(self) -> Iterator[None]:
        """Let the full answers rest while somebody waits for something short."""
        with self._change:
            self._asking += 1
        try:
            yield
        finally:
            with self._change:
                self._asking -= 1
                self._change.notify_all()

    def known(self, task: Task) -> Quick | None:
        """Return the quick answer of a revision where it is there already."""
        return self._quick.get(task.key)

    def full(self, task: Task) -> Answer | str | None:
        """Return the full answer of a revision, or why there is none; None while it is not reckoned yet."""
        return self._full.get(task.key)

    def steps(self, task: Task) -> tuple[int, int]:
        """Return steps done and steps in all of a full answer at work; (0, 0) while it waits."""
        with self._change:
            at_work = self._at_work
            return self._steps if at_work is not None and at_work.key == task.key else (0, 0)

    def want_full(self, task: Task, keep: Callable[[Answer], None]) -> None:
        """Ask for the full answer of a revision; an older one of the same job is dropped."""
        with self._change:
            if self._full.get(task.key) is not None or (self._at_work and self._at_work.key == task.key):
                return
            self._waiting[task.job_id] = (task, keep)
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, name="full answers", daemon=True)
                self._thread.start()
            self._change.notify_all()

    def _work(self) -> None:
        while True:
            with self._change:
                self._change.wait_for(lambda: self._waiting)
                _, (task, keep) = self._waiting.popitem(last=False)
                self._at_work, self._steps = task, (0, 0)
            try:
                self._reckon(task, keep)
            finally:
                with self._change:
                    self._at_work = None

    def _reckon(self, task: Task, keep: Callable[[Answer], None]) -> None:
        try:
            found = api.answer(task.load(), on=task.on, progress=self._listener(task))
        except _OvertakenError:
            return
        except AmpwrightError as error:
            self._full.put(task.key, str(error))
            return
        except (
            ArithmeticError,
            LookupError,
            TypeError,
            ValueError,
        ) as error:  # a fault of the program: say so
            self._full.put(
                task.key, f"the calculation failed ({type(error).__name__}); please report this job"
            )
            raise
        keep(found)
        self._full.put(task.key, found)

    def _listener(self, task: Task) -> Callable[[int, int], None]:
        """Return what is called at each step: it notes progress, gives way, and ends what is overtaken."""

        def listen(done: int, total: int) -> None:
            with self._change:
                self._steps = (done, total)
                self._change.wait_for(lambda: not self._asking, timeout=PATIENCE_S)
                if task.job_id in self._waiting:
                    raise _OvertakenError

        return listen


def _quick(task: Task) -> Quick:
    try:
        loaded = task.load()
        return Quick(assessment=assess(loaded.design, loaded.sun, on=task.on))
    except JobError as error:
        return Quick(assessment=None, problems=error.problems)
    except AmpwrightError as error:
        return Quick(assessment=None, problems=(Problem(path="", message=str(error)),))
