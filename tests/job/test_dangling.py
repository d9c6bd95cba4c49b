"""Names that lead nowhere are told together with keys that do not exist and fields of a wrong type."""

import pytest
from job_files import problems_of, put, saved, starting, van

from ampwright.errors import JobError
from ampwright.job.dangling import dangling_problems
from ampwright.job.load import NOT_LOOKED_UP, load_job


def told(folder, *changes, base=starting):
    raw = base()
    for change in changes:
        put(raw, *change)
    problems, _ = problems_of(saved(folder, raw))
    return [(problem.path, problem.message) for problem in problems]


def test_unknown_keys_wrong_fields_and_dangling_names_come_at_once(tmp_path):
    found = told(
        tmp_path,
        ("job", "colour", "red"),
        ("season", "month", 13),
        ("use", "days", 0, "drvie"),
        ("run", 1, "cable", "cable-52"),
        ("run", 1, "end", "charger"),
        ("load", 0, "zone", "benhc"),
        ("load", 2, "power_w", "60"),
    )
    assert [path for path, _ in found] == [
        "job > colour",
        "season > month",
        "use > days number 1",
        "run 'W2' > end",
        "run 'W2' > cable",
        "load 'fridge' > zone",
        "load 'laptop' > power_w",
    ]


# Wrong fields alone: whatever stands in for them must not be told as a fault of the file.
ALONE = {
    "cable missing": ("run", 0, "cable", None),
    "start missing": ("run", 0, "start", None),
    "length of wrong type": ("run", 0, "length_m", "50 cm"),
    "system voltage": ("vehicle", "system_v", "12"),
    "month": ("season", "month", 13),
    "latitude": ("place", "latitude_deg", "w"),
    "power": ("load", 2, "power_w", "60"),
    "measured": ("load", 2, "power_w", {"measured": "x"}),
    "no quantity": ("load", 2, "power_w", {"guess": 1}),
    "zones": ("run", 0, "zones", [3]),
    "device": ("run", 0, "device", 0, "part", 3),
    "distance": ("run", 0, "device", 0, "distance_m", None),
    "days": ("use", "days", []),
    "date": ("job", "date", "May"),
    "format": ("format", 2),
    "power misspelt": ("load", 2, {"id": "laptop", "name": "Laptop", "powr_w": 60}),
    "strings": ("part", 0, "strings", 0),
}


@pytest.mark.parametrize("case", ALONE)
def test_a_stand_in_is_never_blamed(tmp_path, case):
    raw = put(starting(), *ALONE[case])
    path = saved(tmp_path, raw)
    with pytest.raises(JobError):
        load_job(path)
    assert dangling_problems(raw, path.read_text(encoding="utf-8"), path) == ()


WHOLE = {
    "id of a load": (starting, ("load", 0, "id", 3)),
    "part of a part": (starting, ("part", 0, "part", 7)),
    "a table": (starting, ("zone", {"id": "x"})),
    "a misspelt table": (starting, ("laod", [{"id": "fan"}])),
    "no vehicle": (starting, ("vehicle", None)),
    "module": (van, ("module", "revision", 3)),
}


@pytest.mark.parametrize("case", WHOLE)
def test_where_others_depend_on_it_names_are_not_looked_up(tmp_path, case):
    base, change = WHOLE[case]
    found = told(tmp_path, change, ("run", 1, "cable", "cable-52"), base=base)
    assert found[-1] == ("", NOT_LOOKED_UP)
    assert not any("cable-52" in message for _, message in found)


def test_a_parts_file_that_cannot_be_read_leaves_names_alone(tmp_path):
    raw = put(starting(), "job", "date", "May")
    raw = {"format": raw.pop("format"), "parts_files": ["no.toml"], **raw}
    problems, _ = problems_of(saved(tmp_path, raw))
    assert [problem.message for problem in problems][-1] == NOT_LOOKED_UP
