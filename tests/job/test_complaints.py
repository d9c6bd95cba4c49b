"""Hints and ids."""

import pytest

from ampwright.errors import JobError
from ampwright.job.complaints import Complaints, bad_id_message, is_good_id, meant


@pytest.mark.parametrize(
    ("wrong", "known", "hint"),
    [
        ("benhc", ["bench", "roof"], "did you mean 'bench'?"),
        ("LFP-100", ["lfp-100", "lfp-200"], "did you mean 'lfp-100'?"),
        ("x", [], "none is defined"),
        ("x", ["roof", "bench", "roof"], "known: 'bench', 'roof'"),
        ("zone-1", ["zone-2", "zone-3"], "did you mean 'zone-3' or 'zone-2'?"),
    ],
)
def test_meant(wrong, known, hint):
    assert meant(wrong, known) == hint


def test_a_long_list_is_cut():
    hint = meant("x", [f"part{number:02}" for number in range(30)])
    assert hint.endswith("'part11' ...")


@pytest.mark.parametrize("name", ["W10", "night_van", "Kühlbox", "a" * 60])
def test_good_ids(name):
    assert is_good_id(name)


@pytest.mark.parametrize("name", ["", "a b", "pm.bar", "a/b", "a\n", "a" * 61, "'"])
def test_bad_ids_are_told_shortly(name):
    assert not is_good_id(name)
    assert len(bad_id_message(name)) < 150


def test_nothing_found_nothing_raised():
    Complaints().raise_if_any("job.toml", None, None)


def test_problems_are_sorted_by_line():
    complaints = Complaints()
    for path in (("run", 0, "id"), ("job", "id"), ()):
        complaints.add(path, "wrong")
    text = '[job]\nid = "a"\n[[run]]\nid = "b"\n'
    with pytest.raises(JobError) as caught:
        complaints.raise_if_any("job.toml", text, {"job": {"id": "a"}, "run": [{"id": "b"}]})
    assert [str(problem) for problem in caught.value.problems] == [
        "wrong",
        "line 2: job > id: wrong",
        "line 4: run 'b' > id: wrong",
    ]


def test_a_message_stays_on_one_line():
    complaints = Complaints()
    complaints.add(("job", "id"), "'\nnight' is no id")
    with pytest.raises(JobError) as caught:
        complaints.raise_if_any("job.toml", None, None)
    assert [problem.message for problem in caught.value.problems] == ["'\\nnight' is no id"]
