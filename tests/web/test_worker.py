"""The calculation's own process: errors come over, death is outlived, rest ends it, it never outlives the server."""

import operator
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import worker_calls

from ampwright.errors import JobError
from ampwright.web.reckoning import JobText, full_answer, quick_answer
from ampwright.web.worker import StoppedError, Worker, WorkerLostError


@pytest.fixture
def worker():
    made = Worker(rest_s=60.0)
    yield made
    made.end()


def is_there(pid):
    """Say whether a process runs; one that only waits to be counted out does not."""
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def gone_within(pid, seconds):
    end = time.monotonic() + seconds
    while is_there(pid) and time.monotonic() < end:
        time.sleep(0.05)
    return not is_there(pid)


def test_calls_run_in_one_other_process(worker):
    first = worker.call(os.getpid)
    assert first == worker.pid != os.getpid()
    assert worker.call(os.getpid) == first
    assert worker.call(operator.add, 2, 3) == 5


def test_errors_are_raised_as_if_called_here(worker):
    with pytest.raises(ZeroDivisionError):
        worker.call(operator.truediv, 1, 0)
    with pytest.raises(FileNotFoundError):
        worker.call(os.stat, "/nowhere/at/all")
    with pytest.raises(RuntimeError, match="StrangeError: 1"):
        worker.call(worker_calls.strange)
    assert worker.call(operator.add, 2, 3) == 5


def test_problems_of_a_job_come_over_whole(worker, tmp_path):
    job = JobText(text="format = 1\nnonsense = 2\n", path=tmp_path / "job.toml")
    with pytest.raises(JobError) as caught:
        worker.call_long(full_answer, job, None, step=lambda *_: True)
    assert "nonsense" in {problem.path for problem in caught.value.problems}
    assert worker.call(quick_answer, job, None).problems == caught.value.problems


def test_a_file_elsewhere_is_not_read_even_where_it_was_kept(worker, tmp_path):
    job = JobText(
        text='format = 1\n[place]\nweather_file = "../other/year.epw"\n', path=tmp_path / "job.toml"
    )
    (problem,) = worker.call(quick_answer, job, None).problems
    assert problem.path == "../other/year.epw"


def test_a_long_call_tells_its_steps_and_stops_when_told(worker):
    told = []
    assert worker.call_long(worker_calls.counted, 4, step=lambda *step: told.append(step) or True) == 6
    assert told == [(1, 4), (2, 4), (3, 4), (4, 4)]
    with pytest.raises(StoppedError):
        worker.call_long(worker_calls.counted, 4, step=lambda done, _: done < 2)
    assert worker.call_long(worker_calls.counted, 2, step=lambda *_: True) == 1


def test_a_killed_process_is_replaced_and_the_call_tried_again(worker, tmp_path):
    before = worker.call(os.getpid)
    os.kill(before, signal.SIGKILL)
    assert worker.call(os.getpid) != before
    assert worker.call(worker_calls.died_once, str(tmp_path / "mark")) == "again"
    with pytest.raises(WorkerLostError):
        worker.call(worker_calls.dies)
    assert worker.call(operator.add, 2, 3) == 5


def test_the_process_ends_when_nobody_asks_and_comes_back():
    worker = Worker(rest_s=0.3)
    first = worker.call(os.getpid)
    assert gone_within(first, 10.0)
    assert worker.pid is None
    assert worker.call(os.getpid) != first
    worker.end()


def test_every_new_process_begins_with_what_it_was_told(worker):
    worker.begin_with(worker_calls.note, "begun")
    assert worker.call(worker_calls.noted) == ["begun"]
    worker.end()
    assert worker.call(worker_calls.noted) == ["begun"]
    assert worker_calls.noted() == []


def test_the_process_knows_no_django_and_the_server_no_compiler(worker):
    worker.call(quick_answer, JobText(text="format = 1\n", path=Path("job.toml")), None)
    assert "django" not in worker.call(worker_calls.loaded)
    shown = subprocess.run(
        [sys.executable, "-c", "import sys; from ampwright.web import desk; print('numba' in sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert shown.stdout == "False\n"


def test_the_process_does_not_outlive_a_killed_server():
    code = (
        "import os, sys, time\n"
        "from ampwright.web.worker import Worker\n"
        "if __name__ == '__main__':\n"
        "    worker = Worker()\n"
        "    print(worker.call(os.getpid), flush=True)\n"
        "    time.sleep(60)\n"
    )
    server = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
    pid = int(server.stdout.readline())
    assert is_there(pid)
    server.kill()
    server.wait()
    server.stdout.close()
    assert gone_within(pid, 10.0)


GONE = """
import operator, os
from multiprocessing import popen_spawn_posix
from ampwright.web.worker import Worker
usual = popen_spawn_posix.util.spawnv_passfds

def and_then_gone(*args):
    number = usual(*args)
    if "spawn_main" in str(args):
        os._exit(0)  # the process is there and was told nothing yet
    return number

if __name__ == "__main__":
    popen_spawn_posix.util.spawnv_passfds = and_then_gone
    Worker(rest_s=60.0).call(operator.add, 1, 2)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="the standard library starts processes otherwise there")
def test_a_server_that_ends_while_the_process_starts_leaves_no_traceback(tmp_path):
    script = tmp_path / "gone.py"
    script.write_text(GONE, encoding="utf-8")
    ended = subprocess.run(  # returns once the process that was started has closed its error stream too
        [sys.executable, script], capture_output=True, text=True, check=False, timeout=60
    )
    assert (ended.returncode, ended.stdout, ended.stderr) == (0, "", "")
