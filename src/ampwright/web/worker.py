"""A process of its own for the calculation: started when something is to be reckoned, ended when nobody asks for long.

Two calls may be at work in it: a short one that somebody waits for, and a long one that says how far it has come.
Arguments and results are pickled; only functions that can be imported by name are called.
"""

from __future__ import annotations

import atexit
import contextlib
import ctypes
import gc
import multiprocessing as mp
import os
import pickle
import signal
import threading
import time
from collections.abc import Callable, Iterator
from multiprocessing import spawn
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from ampwright.errors import AmpwrightError

__all__ = ["REST_S", "StoppedError", "Worker", "WorkerLostError"]

REST_S = 600.0
"""Time without a call after which the process ends (our own choice: longer than a look at the vehicle)."""
TRIES = 2
Step = Callable[[int, int], bool]


class StoppedError(Exception):
    """A long call was ended because its answer is not wanted any more."""


class WorkerLostError(AmpwrightError):
    """The process ended while it worked, also when tried again."""


class Worker:
    """The process and the two lines to it."""

    def __init__(self, *, rest_s: float = REST_S) -> None:
        """Begin without a process."""
        self.rest_s = rest_s
        self._first: tuple[tuple[Callable[..., Any], tuple[Any, ...]], ...] = ()
        self._lock = threading.Lock()
        self._lines = {"short": threading.Lock(), "long": threading.Lock()}
        self._ends: dict[str, Connection] = {}
        self._process: BaseProcess | None = None
        self._at_work = 0
        self._last = 0.0
        self._is_closed = False
        atexit.register(self._close)

    @property
    def pid(self) -> int | None:
        """The process's number; None while there is none."""
        process = self._process
        return process.pid if process is not None and process.is_alive() else None

    def begin_with(self, function: Callable[..., Any], *args: Any) -> None:
        """Have every new process call a function before anything else."""
        self._first = (*self._first, (function, args))

    def call(self, function: Callable[..., Any], *args: Any) -> Any:
        """Return what a function gives in the process; errors are raised as if it had been called here.

        Raises
        ------
        WorkerLostError
            Where the process ended twice over it.
        """
        return self._asked("short", (function, args, False), None)

    def call_long(self, function: Callable[..., Any], *args: Any, step: Step) -> Any:
        """Return what a function with `progress` gives; `step` is told each step and says whether to go on.

        Raises
        ------
        StoppedError
            Where `step` said no.
        WorkerLostError
            As `call`.
        """
        return self._asked("long", (function, args, True), step)

    def end(self) -> None:
        """End the process; the next call starts another one."""
        with self._lock:
            self._end()

    def _asked(self, line: str, request: tuple[Any, ...], step: Step | None) -> Any:
        with self._lines[line]:
            for _ in range(TRIES):
                found = self._once(line, request, step)
                if found is not None:
                    kind, value = found
                    if kind == "raised":
                        raise value
                    return value
            raise WorkerLostError("the calculation ended unexpectedly, perhaps for want of memory; try again")

    def _once(self, line: str, request: tuple[Any, ...], step: Step | None) -> tuple[str, Any] | None:
        """Return how a request ended; None where the process is gone, with whatever it knew."""
        end = self._taken(line)
        try:
            end.send_bytes(pickle.dumps(request))
            return _answered(end, step)
        except (EOFError, OSError):
            self._drop(end)
            return None
        finally:
            with self._lock:
                self._at_work -= 1
                self._last = time.monotonic()

    def _taken(self, line: str) -> Connection:
        """Return this side of a line, in a process that is there and will not be ended meanwhile."""
        with self._lock:
            if self._is_closed:
                raise WorkerLostError("the program is being stopped")
            if self._process is None or not self._process.is_alive():
                self._end()
                self._start()
            self._at_work += 1
            return self._ends[line]

    def _start(self) -> None:
        context = mp.get_context("spawn")
        pairs = {line: context.Pipe() for line in self._lines}
        self._process = context.Process(
            target=work,
            args=(pairs["short"][1], pairs["long"][1], self._first),
            name="ampwright calculation",
            daemon=True,
        )
        with _quiet_start():
            self._process.start()
        for _, theirs in pairs.values():
            theirs.close()
        self._ends = {line: ours for line, (ours, _) in pairs.items()}
        self._last = time.monotonic()
        threading.Thread(target=self._watch, args=(self._process,), name="worker's rest", daemon=True).start()

    def _watch(self, process: BaseProcess) -> None:
        """End a process that nobody has asked for long."""
        while process.is_alive():
            with self._lock:
                left = self._last + self.rest_s - time.monotonic()
                if process is not self._process:
                    return
                if left <= 0.0 and not self._at_work:
                    self._end()
                    _give_back()
                    return
            time.sleep(min(max(left, 0.05), 5.0))

    def _drop(self, end: Connection) -> None:
        with self._lock:
            if end in self._ends.values():
                self._end()

    def _close(self) -> None:
        """End the process for good: a thread that still asks must not start another one."""
        with self._lock:
            self._is_closed = True
            self._end()

    def _end(self) -> None:
        for end in self._ends.values():
            end.close()
        self._ends = {}
        if self._process is not None:
            self._process.kill()
            self._process.join(5.0)
            self._process = None


def _give_back() -> None:
    """Give memory that is free in this process back to the system, where its C library can (glibc)."""
    gc.collect()
    trim = getattr(ctypes.CDLL(None), "malloc_trim", None) if os.name == "posix" else None
    if trim is not None:
        trim(0)


@contextlib.contextmanager
def _quiet_start() -> Iterator[None]:
    """Have a process that finds its server gone before it was told what to do end without a traceback."""
    usual = spawn.get_command_line

    def command(**words: Any) -> list[str]:
        *head, code, flag = usual(**words)
        lines = "\n".join(f"    {line}" for line in code.splitlines())
        return [*head, f"try:\n{lines}\nexcept EOFError:\n    pass", flag]

    spawn.get_command_line = command
    try:
        yield
    finally:
        spawn.get_command_line = usual


def _answered(end: Connection, step: Step | None) -> tuple[str, Any]:
    """Return how a request ended, telling its steps meanwhile."""
    while True:
        kind, value = pickle.loads(end.recv_bytes())  # noqa: S301 - from our own process, over a line of our own
        if kind == "step" and step is not None:
            end.send_bytes(pickle.dumps(step(*value)))
        else:
            return kind, value


def work(
    short: Connection, long: Connection, first: tuple[tuple[Callable[..., Any], tuple[Any, ...]], ...]
) -> None:
    """Answer requests until the other side is gone; this is what the process runs."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server that started it ends it
    gc.disable()
    for function, args in first:
        function(*args)
    gc.collect()
    gc.freeze()
    gc.enable()
    threading.Thread(target=_serve, args=(long,), name="long calls", daemon=True).start()
    _serve(short)


def _serve(end: Connection) -> None:
    try:
        while True:
            function, args, is_long = pickle.loads(end.recv_bytes())  # noqa: S301 - from the server over its own line
            end.send_bytes(_result(end, function, args, is_long=is_long))
    except (EOFError, OSError):
        os._exit(0)  # the server is gone: nothing here is worth keeping


def _result(end: Connection, function: Callable[..., Any], args: tuple[Any, ...], *, is_long: bool) -> bytes:
    def progress(done: int, total: int) -> None:
        try:
            end.send_bytes(pickle.dumps(("step", (done, total))))
            is_wanted = pickle.loads(end.recv_bytes())  # noqa: S301 - as above
        except (EOFError, OSError):
            os._exit(0)
        if not is_wanted:
            raise StoppedError

    try:
        value = function(*args, progress=progress) if is_long else function(*args)
        return pickle.dumps(("done", value), protocol=pickle.HIGHEST_PROTOCOL)
    except Exception as error:  # noqa: BLE001 - raised again on the other side
        return _raised(error)


def _raised(error: Exception) -> bytes:
    with contextlib.suppress(Exception):  # an error that cannot be taken apart is told in words
        packed = pickle.dumps(("raised", error))
        pickle.loads(packed)  # noqa: S301 - only to see whether it can be read
        return packed
    return pickle.dumps(("raised", RuntimeError(f"{type(error).__name__}: {error}")))
