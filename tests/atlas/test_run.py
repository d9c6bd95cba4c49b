"""An atlas on threads and on worker processes: the same rows, no work done twice, nothing lost with a worker."""

import os
import signal

import pytest

from ampwright import api
from ampwright.atlas import run
from ampwright.atlas.plan import planned_chunks
from ampwright.atlas.records import chunks_of
from ampwright.atlas.run import LOCAL, run_atlas
from ampwright.atlas.store import has_chunk, read_rows
from ampwright.errors import FileError
from ampwright.sizing.interval import share_interval


def chunks_for(job, *, sites="denver-us,potsdam-de", months="1,7", size_count=1):
    whole = planned_chunks((job,), sites=sites, months=months)
    places = tuple(dict.fromkeys(case.site for chunk in whole for case in chunk.cases))
    found = tuple(dict.fromkeys(case.month for chunk in whole for case in chunk.cases))
    return chunks_of((whole[0].job,), sites=places, months=found, size_count=size_count)


def test_a_row_says_what_a_check_of_such_a_job_says(job, tmp_path):
    run_atlas(chunks_for(job, sites="denver-us", months="1"), tmp_path / "atlas", worker_count=1)
    (row,) = read_rows(tmp_path / "atlas")
    lines = job.read_text(encoding="utf-8").splitlines()
    changed = ['site = "denver-us"' if line.startswith("site = ") else line for line in lines]
    changed = ["month = 1" if line.startswith("month = ") else line for line in changed]
    there = tmp_path / "denver.toml"
    there.write_text("\n".join(changed), encoding="utf-8")
    found = api.check(there)
    assert found.chance is not None
    assert (row.run_count, row.held_count) == (4, found.chance.held_count)
    assert (row.held_low_frac, row.held_high_frac) == share_interval(row.held_count, 4)
    assert row.use_verdict == found.assessment.use_verdict
    assert row.wiring_verdict == found.assessment.wiring_verdict
    assert row.lowest_soc_frac == pytest.approx(float(found.assessment.energy.soc_frac.min()))
    assert (row.problem, row.country) == ("", "USA")


def test_what_is_there_is_not_done_again(job, tmp_path):
    folder, chunks = tmp_path / "atlas", chunks_for(job)
    assert run_atlas(chunks[:2], folder, worker_count=2) == 2
    first = (folder / "chunk-00000.parquet").stat().st_mtime_ns
    (folder / "chunk-00001.parquet").write_bytes(b"PAR1 cut off")
    told = []
    assert run_atlas(chunks, folder, worker_count=2, progress=lambda *done: told.append(done)) == 3
    assert told == [(1, 4), (2, 4), (3, 4), (4, 4)]
    assert (folder / "chunk-00000.parquet").stat().st_mtime_ns == first
    assert [(row.site, row.month) for row in read_rows(folder)] == [
        ("denver-us", 1), ("denver-us", 7), ("potsdam-de", 1), ("potsdam-de", 7)
    ]  # fmt: skip
    assert not list(folder.glob("*.half"))


def test_a_folder_with_another_atlas_is_left_alone(job, tmp_path):
    folder = tmp_path / "atlas"
    run_atlas(chunks_for(job, sites="denver-us", months="1"), folder, worker_count=1)
    with pytest.raises(FileError, match="another atlas"):
        run_atlas(chunks_for(job, sites="denver-us", months="2"), folder, worker_count=1)


def test_a_case_that_cannot_be_says_why_and_the_others_go_on(job, tmp_path):
    text = job.read_text(encoding="utf-8").replace("[vehicle]", "[vehicle]\nextra = 1", 1)
    (whole,) = chunks_of((chunks_for(job)[0].job,), sites=("denver-us",), months=(1,), size_count=5)
    broken = type(whole)(
        number=0, job=type(whole.job)(name="x.toml", folder=".", text=text), cases=whole.cases
    )
    run_atlas((broken,), tmp_path / "atlas", worker_count=1)
    (row,) = read_rows(tmp_path / "atlas")
    assert "extra" in row.problem
    assert row.use_verdict == ""


def test_without_the_libraries_it_says_what_to_install(job, tmp_path, monkeypatch):
    monkeypatch.setattr(run, "NEEDED", ("pyarrow", "no_such_library"))
    with pytest.raises(FileError, match=r"no_such_library; install ampwright\[cluster\]"):
        run_atlas(chunks_for(job), tmp_path / "atlas", worker_count=1)


def test_no_scheduler_is_told(job, tmp_path):
    with pytest.raises(FileError, match="no scheduler answers"):
        run_atlas(chunks_for(job), tmp_path / "a", worker_count=1, cluster="tcp://127.0.0.1:9")


def test_a_killed_worker_loses_nothing(job, tmp_path):
    """Two worker processes of a cluster; one is killed with chunks in work: all rows come, the same as on threads."""
    from distributed import LocalCluster  # noqa: PLC0415 - heavy

    chunks = chunks_for(job, months="1,2,3,4,5,6")
    folder, killed = tmp_path / "cluster", []
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:

        def kill_one(done, _total):
            if not killed and done >= 2:
                killed.append(next(iter(cluster.workers.values())).pid)
                os.kill(killed[0], signal.SIGKILL)

        run_atlas(chunks, folder, worker_count=2, cluster=cluster.scheduler_address, progress=kill_one)
    assert killed
    assert all(has_chunk(folder, chunk) for chunk in chunks)
    run_atlas(chunks, tmp_path / "threads", worker_count=2)
    assert read_rows(folder) == read_rows(tmp_path / "threads")


def test_worker_processes_of_its_own(job, tmp_path):
    chunks = chunks_for(job, months="1")
    assert run_atlas(chunks, tmp_path / "atlas", worker_count=2, cluster=LOCAL) == 2
    assert [row.problem for row in read_rows(tmp_path / "atlas")] == ["", ""]


def test_a_use_that_moves_on_stays_at_each_place_of_the_atlas(job, tmp_path):
    moving = tmp_path / "moving.toml"
    leg = '\n[[leg]]\nid = "north"\nfrom_day = 2\nplace = { site = "hamburg-de" }\n'
    moving.write_text(job.read_text(encoding="utf-8") + leg, encoding="utf-8")
    for name, source in (("still", job), ("moving", moving)):
        run_atlas(chunks_for(source, sites="denver-us", months="1"), tmp_path / name, worker_count=1)
    (still,), (moved,) = (read_rows(tmp_path / name) for name in ("still", "moving"))
    assert (moved.problem, moved.held_count) == ("", still.held_count)
    assert moved.lowest_soc_frac == pytest.approx(still.lowest_soc_frac)
