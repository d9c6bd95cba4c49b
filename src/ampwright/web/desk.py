"""Where answers are asked for: quick ones at once, full ones one after the other, giving way to the quick.

Knows texts and numbers of revisions, not the database: who keeps an answer is told by a call.
"""

from __future__ import annotations

import datetime as dt
import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, Generic, TypeVar

from ampwright.documents.pack.records import Pack
from ampwright.errors import AmpwrightError, Problem
from ampwright.records import record
from ampwright.sizing.result import Answer
from ampwright.web.reckoning import JobText, Quick, full_answer, pack_of_job, quick_answer
from ampwright.web.worker import StoppedError, Worker, WorkerLostError

__all__ = ["Desk", "Task"]

QUICK_KEPT = 6
FULL_KEPT = 4
"""Answers kept in memory; a few MB each (our own choice)."""
PATIENCE_S = 2.0
"""Longest time the full answer gives way at one step, so that it always ends (our own choice)."""

V = TypeVar("V")
Key = tuple[int, dt.date, str]


@record
class Task:
    """One revision to be reckoned."""

    job_id: int
    """Which job; a full answer that waits gives way to a newer one of the same job. Below 0: of no job's last revision."""
    revision_id: int
    """Which revision of all that are kept."""
    number: int
    """Its number in the job."""
    job: JobText
    """Its text and where the files it names are."""
    on: dt.date
    """Day on which overrides must be in force."""
    stamp: str = ""
    """Tells what the workshop kept, and a trial from the revision it changes."""

    @property
    def key(self) -> Key:
        """What tells it from others."""
        return self.revision_id, self.on, self.stamp


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

    def __init__(self, worker: Worker) -> None:
        """Begin with nothing to do."""
        self.worker = worker
        self._quick: _Kept[Quick] = _Kept(QUICK_KEPT)
        self._full: _Kept[Answer | str] = _Kept(FULL_KEPT)
        self._change = threading.Condition()
        self._waiting: OrderedDict[int, tuple[Task, Callable[[Answer], None]]] = OrderedDict()
        self._at_work: Task | None = None
        self._steps = (0, 0)
        self._asking = 0
        self._epoch = 0
        self._thread: threading.Thread | None = None
        self._one_at_a_time = threading.Lock()

    def forget(self) -> None:
        """Drop every answer, kept, waiting or at work: numbers of revisions no longer mean what they meant."""
        with self._change:
            self._epoch += 1
            self._waiting.clear()
            self._quick, self._full = _Kept(QUICK_KEPT), _Kept(FULL_KEPT)

    def quick(self, task: Task) -> Quick:
        """Return the quick answer of a revision."""
        found = self._quick.get(task.key)
        if found is not None:
            return found
        with self.waiting_person(), self._one_at_a_time:
            try:
                found = self._quick.get(task.key) or self.worker.call(quick_answer, task.job, task.on)
            except WorkerLostError as error:
                return Quick(assessment=None, problems=(Problem(path="", message=str(error)),))
        self._quick.put(task.key, found)
        return found

    def pack(self, task: Task, answer: Answer, only: tuple[str, ...] = ()) -> Pack:
        """Return the pack of some documents of a revision, or of all; the list of contents is its last file."""
        found: Pack = self.ask(pack_of_job, task.job, answer, only)
        return found

    def ask(self, function: Callable[..., Any], *args: Any) -> Any:
        """Return what a function of `reckoning` gives, called in the worker; somebody waits for it."""
        with self.waiting_person():
            return self.worker.call(function, *args)

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
        full, epoch = self._full, self._epoch
        try:
            found = self.worker.call_long(full_answer, task.job, task.on, step=self._listener(task))
        except StoppedError:
            return
        except AmpwrightError as error:
            full.put(task.key, str(error))
            return
        except Exception as error:  # a fault of the program: say so, and go on with other jobs
            logging.getLogger("django").exception("full answer of job %s", task.job_id)
            full.put(task.key, f"the calculation failed ({type(error).__name__}); please report this job")
            return
        if epoch == self._epoch:
            keep(found)
        full.put(task.key, found)

    def _listener(self, task: Task) -> Callable[[int, int], bool]:
        """Return what is called at each step: it notes progress, gives way, and says no to what is overtaken."""
        epoch = self._epoch

        def listen(done: int, total: int) -> bool:
            with self._change:
                self._steps = (done, total)
                self._change.wait_for(lambda: not self._asking, timeout=PATIENCE_S)
                return task.job_id not in self._waiting and epoch == self._epoch

        return listen
