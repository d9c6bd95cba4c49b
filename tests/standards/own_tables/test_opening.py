"""A user's opening times. Expected values by hand from the rows below."""

import pytest

from ampwright.errors import JobError
from ampwright.standards.own_tables.opening import opening_times, own_points

HEAD = "# document: Data sheet 7\n# page: 2\n# by: A. Example\n"
COLUMNS = "device,current_factor,current_a,shortest_s,longest_s\n"
TIMES = opening_times(
    HEAD + COLUMNS + "iso-8820-5-sf51,6,,0.1,1\niso-8820-5-sf51,2,,1,15\nmy-fuse,,300,20,100\n", file="t.csv"
)


def test_points_of_a_class_and_of_a_part():
    of_class = own_points(TIMES, part_id="fuse-51-100", device_class="iso-8820-5-sf51", rating_a=100.0)
    assert [(p.current_factor, p.opening_min_s, p.opening_max_s) for p in of_class] == [
        (2, 1, 15),
        (6, 0.1, 1),
    ]
    of_part = own_points(TIMES, part_id="my-fuse", device_class="iso-8820-5-sf51", rating_a=150.0)
    assert [(p.current_factor, p.opening_max_s) for p in of_part] == [(2.0, 100.0)]
    assert own_points(TIMES, part_id="other", device_class="thermal", rating_a=10.0) is None
    assert str(of_class[0].source) == "Data sheet 7, page 2, typed by A. Example in t.csv"


def test_a_class_may_be_bound_to_ratings():
    text = HEAD + COLUMNS.strip() + ",rating_min_a,rating_max_a\nthermal,2,,5,50,10,30\n"
    times = opening_times(text, file="t.csv")
    assert own_points(times, part_id="x", device_class="thermal", rating_a=30.0) is not None
    assert own_points(times, part_id="x", device_class="thermal", rating_a=31.0) is None


@pytest.mark.parametrize(
    ("row", "path", "said"),
    [
        (",2,,1,15", "device", "is empty"),
        ("thermal,2,40,1,15", "current_factor", "give either"),
        ("thermal,,,1,15", "current_factor", "give either"),
        ("thermal,,40,1,15", "current_a", "holds for one rating"),
        ("thermal,2,,,", "longest_s", "both times are empty"),
        ("thermal,2,,15,1", "shortest_s", "exchange them"),
        ("thermal,-2,,1,15", "current_factor", "must be above 0"),
        ("thermal,two,,1,15", "current_factor", "is no number"),
        ("thermal,2,,1", "", "4 cells for 5 columns"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(row, path, said):
    with pytest.raises(JobError) as caught:
        opening_times(HEAD + COLUMNS + "thermal,6,,0.1,1\n" + row + "\n", file="t.csv")
    (problem,) = caught.value.problems
    assert (problem.line, problem.path) == (6, path)
    assert said in problem.message


def test_times_that_grow_with_the_current_and_rows_said_twice():
    rows = "thermal,2,,1,15\nthermal,6,,0.1,20\nthermal,2,,1,15\n"
    with pytest.raises(JobError) as caught:
        opening_times(HEAD + COLUMNS + rows, file="t.csv")
    assert {(p.line, p.path) for p in caught.value.problems} == {(6, "longest_s"), (7, "current_factor")}
