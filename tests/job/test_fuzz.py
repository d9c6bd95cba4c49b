"""Whatever is done to a job file, it is either read or refused in words; nothing else comes out."""

import copy
import math
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from job_files import EXAMPLES, design_of, example_text, saved, starting, toml_text, van

from ampwright import api
from ampwright.errors import AmpwrightError, JobError
from ampwright.job.load import NOT_LOOKED_UP

WORDS = (
    "battery",
    "bar",
    "bench",
    "starter-battery",
    "road",
    "stay",
    "lfp-100",
    "cable-25",
    "fuse-t-100",
    "24:00",
)
NUMBERS = (0, -1, 1, 1e-9, 1e9, 1e300, 10**30, math.nan, math.inf, 0.5, 12, 24)
ODD = st.one_of(
    st.sampled_from(NUMBERS),
    st.sampled_from(WORDS),
    st.text(max_size=12).filter(lambda text: text.isprintable()),
    st.booleans(),
    st.just([]),
    st.just({}),
    st.sampled_from(NUMBERS).map(lambda number: {"measured": number}),
    st.tuples(st.sampled_from(NUMBERS), st.sampled_from(NUMBERS)).map(lambda ends: {"unknown": list(ends)}),
    st.lists(st.sampled_from(WORDS), max_size=3),
)
FEW = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def places(value, path=()):
    """Return the place of every value in nested tables and lists."""
    found = [path] if path else []
    if isinstance(value, dict):
        return found + [place for key, item in value.items() for place in places(item, (*path, key))]
    if isinstance(value, list):
        return found + [place for index, item in enumerate(value) for place in places(item, (*path, index))]
    return found


def at(raw, path):
    for step in path:
        raw = raw[step]
    return raw


@st.composite
def changed_tables(draw):
    raw = copy.deepcopy(draw(st.sampled_from((starting(), van()))))
    for _ in range(draw(st.integers(1, 4))):
        path = draw(st.sampled_from(places(raw)))
        above = at(raw, path[:-1])
        how = draw(st.sampled_from(("value", "drop", "double", "key", "swap")))
        if how == "drop":
            del above[path[-1]]
        elif how == "double" and isinstance(above, list):
            above.append(copy.deepcopy(above[path[-1]]))
        elif how == "key" and isinstance(above, dict):
            above[draw(st.sampled_from(("id", "part", "zone", "x", "start", "at", "through")))] = above.pop(
                path[-1]
            )
        elif how == "swap":
            above[path[-1]] = copy.deepcopy(at(raw, draw(st.sampled_from(places(raw)))))
        else:
            above[path[-1]] = draw(ODD)
        if not places(raw):
            break
    return toml_text(raw)


@st.composite
def changed_lines(draw):
    lines = example_text(draw(st.sampled_from(EXAMPLES))).splitlines()
    for _ in range(draw(st.integers(1, 5))):
        index = draw(st.integers(0, len(lines) - 1))
        how = draw(st.sampled_from(("drop", "double", "cut", "swap", "insert")))
        if how == "drop":
            del lines[index]
        elif how == "double":
            lines.insert(index, lines[index])
        elif how == "cut":
            lines[index] = lines[index][: draw(st.integers(0, 20))]
        elif how == "swap":
            other = draw(st.integers(0, len(lines) - 1))
            lines[index], lines[other] = lines[other], lines[index]
        else:
            where = draw(st.integers(0, len(lines[index])))
            sign = draw(st.sampled_from([*list("[]{}=\"'#,.\\\x00\x1b"), "é", "-", "1e999"]))
            lines[index] = lines[index][:where] + sign + lines[index][where:]
    return "\n".join(lines)


@st.composite
def stretched_jobs(draw):
    """Change only figures and drop only rows, so that many of the jobs are still read."""
    raw = copy.deepcopy(draw(st.sampled_from((starting(), van()))))
    for _ in range(draw(st.integers(1, 3))):
        numbers = [place for place in places(raw) if type(at(raw, place)) in (int, float) and len(place) > 2]
        path = draw(st.sampled_from(numbers))
        number = at(raw, path) * draw(st.sampled_from((0, 0.01, 0.3, 0.9, 1.1, 3, 100)))
        at(raw, path[:-1])[path[-1]] = number
    if draw(st.booleans()):
        rows = raw[draw(st.sampled_from(("load", "setting", "run", "part")))]
        del rows[draw(st.integers(0, len(rows) - 1))]
    return toml_text(raw)


def check_verdicts(path):
    answer = api.check(path)
    assert answer.use_verdict in {"suits", "suits with conditions", "does not suit"}
    assert answer.wiring_verdict in {"no fault found", "not fully checked", "do not energise"}


def refusal(call, path):
    """Return the error that refuses a job, or None; any other error comes through."""
    try:
        call(path)
    except AmpwrightError as error:
        return error
    return None


def read_or_refused(path):
    """Return whether a job is read; refusing must tell at least one problem in one line each."""
    error = refusal(design_of, path)
    if error is None:
        return True
    assert isinstance(error, JobError)
    assert error.problems
    lines = [problem.line or 0 for problem in error.problems if problem.message != NOT_LOOKED_UP]
    assert lines == sorted(lines)
    assert all(problem.message and "\n" not in problem.message for problem in error.problems)
    return False


@FEW
@given(text=changed_tables())
def test_changed_tables_are_read_or_refused(tmp_path, text):
    read_or_refused(saved(tmp_path, text))


@FEW
@given(text=changed_lines())
def test_changed_lines_are_read_or_refused(tmp_path, text):
    read_or_refused(saved(tmp_path, text))


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(raw=st.binary(max_size=300))
def test_any_bytes_are_refused(tmp_path, raw):
    path: Path = tmp_path / "job.toml"
    path.write_bytes(raw)
    assert not read_or_refused(path)


@pytest.mark.slow
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.one_of(stretched_jobs(), changed_tables()))
def test_a_changed_job_is_checked_or_refused(tmp_path, text):
    error = refusal(check_verdicts, saved(tmp_path, text))
    assert error is None or str(error)
