"""Functions the tests have called in the worker."""

import os
import signal
import sys
from pathlib import Path


def counted(steps, *, progress):
    for number in range(steps):
        progress(number + 1, steps)
    return sum(range(steps))


def died_once(mark):
    """End the process the first time, answer the second."""
    if not Path(mark).exists():
        Path(mark).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return "again"


def dies():
    os.kill(os.getpid(), signal.SIGKILL)


def loaded():
    return sorted({"django", "numba"} & set(sys.modules))


class StrangeError(Exception):
    """An error that cannot be made again from what it carries."""

    def __init__(self, one, two):
        super().__init__(one)
        self.two = two


def strange():
    raise StrangeError(1, two=2)


NOTED = []


def note(word):
    NOTED.append(word)


def noted():
    return list(NOTED)
