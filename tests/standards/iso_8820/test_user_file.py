"""Fuse limits supplied by the user."""

from pathlib import Path

import pytest

from ampwright.errors import FileError, JobError
from ampwright.standards.iso_8820.band import opening_band
from ampwright.standards.iso_8820.limits import opening_limits, shipped_points
from ampwright.standards.iso_8820.user_file import load_limits

HEADER = "family,current_factor,opening_min_s,opening_max_s,rating_min_a,rating_max_a,standing,place\n"


def written(folder: Path, text: str, name: str = "my fuses.csv") -> Path:
    """Write a user's file and return its path."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def problems_of(folder: Path, text: str) -> list[tuple[int | None, str]]:
    """Return line and column of every problem."""
    with pytest.raises(JobError) as caught:
        load_limits(written(folder, text))
    assert caught.value.file == "my fuses.csv"
    return [(problem.line, problem.path) for problem in caught.value.problems]


def test_rows_replace_shipped_rows_and_are_marked(tmp_path):
    rows = (
        "# my copy\n" + HEADER + "iso-8820-3-c,2.0,0.2,4,1,30,read,table 4\niso-8820-3-c,2.0,0.3,6,31,40,,\n"
    )
    points = load_limits(written(tmp_path, rows))
    assert len(points) == len(shipped_points()) + 1
    limits = opening_limits("iso-8820-3-c", points=points)
    own = [point for point in limits.points if point.current_factor == 2.0]
    assert [(p.opening_min_s, p.opening_max_s) for p in own] == [(0.2, 4.0), (0.3, 6.0)]
    assert [str(p.source) for p in own] == [
        "user file my fuses.csv, table 4",
        "user file my fuses.csv, line 4",
    ]
    assert opening_band(limits, rating_a=10.0, current_a=20.0).opening_max_s == 4.0
    assert opening_band(limits, rating_a=40.0, current_a=80.0).opening_max_s == 6.0
    others = [point for point in points if (point.family, point.current_factor) != ("iso-8820-3-c", 2.0)]
    assert len(others) == len(shipped_points()) - 1


def test_four_columns_are_enough_and_describe_a_family_that_is_not_shipped(tmp_path):
    text = "family,current_factor,opening_min_s,opening_max_s\nul-248-15-t,1.35,,3600\nul-248-15-t,2,,240\n"
    limits = opening_limits("ul-248-15-t", points=load_limits(written(tmp_path, text)))
    assert opening_band(limits, rating_a=200.0, current_a=500.0).opening_max_s == 240.0
    assert limits.source.document == "user file my fuses.csv"


def test_byte_order_mark_and_blank_lines_do_no_harm(tmp_path):
    points = load_limits(
        written(tmp_path, "\ufeff" + HEADER + "\niec-60269-6-gpv , 1.45 ,, 3600 ,,,from memory,\n")
    )
    (point,) = (p for p in points if p.family == "iec-60269-6-gpv")
    assert (point.current_factor, point.source.standing) == (1.45, "from memory")


def test_every_problem_is_reported_at_once_with_its_line(tmp_path):
    rows = (
        "glass,2,1,2,,,,\n"
        "iso-8820-3-c,two,1,2,,,,\n"
        "iso-8820-3-c,,1,2,,,,\n"
        "iso-8820-3-c,2,,,,,,\n"
        "iso-8820-3-c,2,5,1,,,,\n"
        "iso-8820-3-c,2,1,5,80,20,,\n"
        "iso-8820-3-c,2,1,5,,,rumour,\n"
        "iso-8820-3-c,2,1\n"
        "iso-8820-3-c,-2,nan,inf,,,,\n"
        "iso-8820-3-f,2,1,5,,,,\n"
        "iso-8820-3-f,2.0,1,6,,,,\n"
    )
    assert problems_of(tmp_path, HEADER + rows) == [
        (2, "family"),
        (3, "current_factor"),
        (4, "current_factor"),
        (5, "opening_max_s"),
        (6, "opening_min_s"),
        (7, "rating_min_a"),
        (8, "standing"),
        (9, ""),
        (10, "current_factor"),
        (10, "opening_min_s"),
        (10, "opening_max_s"),
        (12, "family"),
    ]


def test_bad_number_does_not_hide_a_bad_family(tmp_path):
    assert problems_of(tmp_path, HEADER + "glass,x,1,2,,,,\n") == [(2, "current_factor"), (2, "family")]


def test_columns_missing_unknown_and_twice_are_named(tmp_path):
    text = "# comment\nfamily,current_factor,opening_min_s,colour,family\niso-8820-3-c,2,1,red,\n"
    assert problems_of(tmp_path, text) == [(2, "opening_max_s"), (2, "colour"), (2, "family")]


@pytest.mark.parametrize(("text", "line"), [("", None), ("# only words\n\n", None), (HEADER, 1)])
def test_file_without_rows_is_refused(tmp_path, text, line):
    assert problems_of(tmp_path, text) == [(line, "")]


def test_messages_say_how_to_mend(tmp_path):
    with pytest.raises(JobError) as caught:
        load_limits(written(tmp_path, HEADER + "iso-8820-3-c,2,5,1,,,,\n"))
    assert (
        str(caught.value.problems[0])
        == "line 2: opening_min_s: 5 s is above the longest time 1 s; exchange them"
    )


def test_missing_file_is_told(tmp_path):
    with pytest.raises(FileError, match="cannot be read"):
        load_limits(tmp_path / "absent.csv")


def test_file_that_is_no_text_is_told(tmp_path):
    path = tmp_path / "sheet.csv"
    path.write_bytes(b"\xff\xfe\x00family")
    with pytest.raises(FileError, match="save it as a UTF-8 CSV"):
        load_limits(path)
