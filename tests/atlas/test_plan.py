"""What is typed for an atlas."""

import shutil

import pytest

from ampwright.atlas.plan import months_of, planned_chunks, sites_of
from ampwright.climate.sources import shipped_sites
from ampwright.errors import FileError


@pytest.mark.parametrize("text", ["", "0", "13", "1-", "-3", "May", "1,,x"])
def test_months_that_are_none_are_refused(text):
    with pytest.raises(FileError, match="--months"):
        months_of(text)


def test_a_stretch_of_months_may_go_over_new_year():
    assert months_of("11-2,1, 6") == (11, 12, 1, 2, 6)


def test_a_place_typed_wrongly_is_named_with_the_nearest():
    with pytest.raises(FileError, match="no place 'denver'; did you mean 'denver-us'"):
        sites_of("potsdam-de,denver")
    with pytest.raises(FileError, match="give ids"):
        sites_of(" , ")
    assert sites_of("all") == tuple(shipped_sites())


def test_every_case_stands_in_one_chunk(job):
    chunks = planned_chunks((job,), sites="denver-us,potsdam-de,hof-de", months="all")
    cases = [(case.site, case.month) for chunk in chunks for case in chunk.cases]
    assert len(cases) == len(set(cases)) == 36
    assert [chunk.number for chunk in chunks] == [0, 1, 2]
    assert len({chunk.sha256 for chunk in chunks}) == 3


def test_two_jobs_of_one_name_are_refused(job, tmp_path):
    other = tmp_path / "other" / job.name
    other.parent.mkdir()
    shutil.copy(job, other)
    with pytest.raises(FileError, match="same name"):
        planned_chunks((job, other), sites="denver-us", months="7")
