"""Reading a job file: problems of its shape, in words and with lines."""

import datetime as dt
import hashlib

import pytest
from job_files import EXAMPLES, example_text, problems_of, put, saved, starting, starting_text, toml_text, van

from ampwright.errors import JobError
from ampwright.job.load import (
    JOB_FILE_BYTES,
    load_definition,
    load_job,
    shipped_definitions,
)
from ampwright.job.quantity import Measured

# (path and value, place said, words said)
SHAPES = {
    "unknown key": (("season", "monht", 6), "season > monht", "unknown key 'monht'; did you mean 'month'?"),
    "unknown table": (("laod", [{}]), "laod", "unknown key 'laod'; did you mean 'load'?"),
    "degrees Fahrenheit": (("season", "hottest_degc", 95), "season > hottest_degc", "must be at most 60; you gave 95; 95 °F are 35 °C"),
    "key in another unit": (("run", 1, "length_mm", 4500), "run 'W2' > length_mm", "unknown key 'length_mm'; did you mean 'length_m', in m?"),
    "key in degrees Fahrenheit": (("season", "hottest_degf", 95), "season > hottest_degf", "did you mean 'hottest_degc', in °C?"),
    "missing key": (("season", "month", None), "season > month", "missing; give a whole number"),
    "missing table": (("vehicle", None), "vehicle", "missing; give a table of keys"),
    "format": (("format", 2), "format", "must be 1; you gave 2"),
    "voltage": (("vehicle", "system_v", "12"), "vehicle > system_v", "must be one of 12, 24; you gave the text '12'"),
    "region": (("job", "region", "uk"), "job > region", "must be one of 'au-nz', 'uk-eu', 'us-ca'"),
    "date": (("job", "date", "May"), "job > date", "give a date without quotes, e.g. date = 2026-03-01; you gave the text 'May'"),
    "text for a number": (("load", 2, "power_w", "60"), "load 'laptop' > power_w", "must be a number in W; you gave the text '60'"),
    "true for a number": (("load", 2, "power_w", True), "load 'laptop' > power_w", "must be a number in W; you gave true"),
    "list for a number": (("load", 2, "power_w", [1, 2]), "load 'laptop' > power_w", "must be a number in W; you gave a list"),
    "number for a text": (("load", 2, "name", 7), "load 'laptop' > name", "must be a text in quotes; you gave 7"),
    "number for true": (("run", 0, "is_sheathed", 1), "run 'W1' > is_sheathed", "must be true or false; you gave 1"),
    "half a count": (("load", 1, "count", 1.5), "load 'lights' > count", "must be a whole number; you gave 1.5"),
    "negative": (("run", 0, "length_m", -1), "run 'W1' > length_m", "must be more than 0; you gave -1"),
    "zero": (("load", 2, "power_w", 0), "load 'laptop' > power_w", "must be more than 0; you gave 0"),
    "air too hot": (("zone", 0, "ambient_max_degc", 1200), "zone 'bench' > ambient_max_degc", "must be at most 150; you gave 1200"),
    "season too hot": (("season", "hottest_degc", 300), "season > hottest_degc", "must be at most 60; you gave 300"),
    "above one": (("day", 1, "shade_frac", 20), "day 'stay' > shade_frac", "must be at most 1; you gave 20"),
    "huge": (("load", 2, "power_w", 1e300), "load 'laptop' > power_w", "must be less than 1e+09"),
    "huge whole": (("load", 2, "power_w", 10**400), "load 'laptop' > power_w", "must be a finite number"),
    "nan": (("load", 2, "power_w", float("nan")), "load 'laptop' > power_w", "must be a finite number; you gave nan"),
    "inf": (("load", 2, "power_w", float("inf")), "load 'laptop' > power_w", "must be a finite number; you gave inf"),
    "nan inside": (("load", 2, "power_w", {"measured": float("nan")}), "load 'laptop' > power_w > measured", "must be a finite number"),
    "one end": (("load", 2, "power_w", {"unknown": [1]}), "load 'laptop' > power_w > unknown number 2", "give [low, high]"),
    "no quantity": (("load", 2, "power_w", {"guess": 1}), "load 'laptop' > power_w", 'give a number in W, or {measured = ..., how = "..."}, or {unknown = [low, high]}'),
    "quantity key": (("load", 2, "power_w", {"measured": 1, "hw": "x"}), "load 'laptop' > power_w > hw", "unknown key 'hw'; did you mean 'how'?"),
    "month": (("season", "month", 13), "season > month", "must be at most 12; you gave 13"),
    "eleven months": (("place", "max_degc", [1.0] * 11), "place > max_degc number 12", "the list has the wrong length"),
    "no days": (("use", "days", []), "use > days", "the list is empty; write at least one"),
    "table for list": (("run", {"id": "W1"}), "run", "must be a list of tables, each headed [[run]]; you gave a table"),
    "state": (("day", 0, "otherwise", "parked"), "day 'drive' > otherwise", "must be one of 'off', 'idle', 'road', 'hooked-up', 'stored'"),
}  # fmt: skip


@pytest.mark.parametrize("case", SHAPES)
def test_problems_of_shape(tmp_path, case):
    change, place, words = SHAPES[case]
    problems, lines = problems_of(saved(tmp_path, put(starting(), *change)))
    told = [problem for problem in problems if problem.path == place]
    assert told, [str(problem) for problem in problems]
    assert words in told[0].message
    if case != "missing table":
        assert lines[told[0].line]


def test_all_problems_of_shape_come_at_once_sorted_by_line(tmp_path):
    raw = starting()
    put(raw, "load", 2, "power_w", "60")
    put(raw, "season", "month", 13)
    put(raw, "job", "colour", "red")
    problems, lines = problems_of(saved(tmp_path, raw))
    assert [problem.path for problem in problems] == [
        "job > colour",
        "season > month",
        "load 'laptop' > power_w",
    ]
    assert [lines[problem.line].split(" = ")[0] for problem in problems] == [
        '"colour"',
        '"month"',
        '"power_w"',
    ]


@pytest.mark.parametrize("name", EXAMPLES)
def test_shipped_jobs_are_read(tmp_path, name):
    text = example_text(name)
    loaded = load_job(saved(tmp_path, text))
    assert loaded.job.job.id == name
    assert loaded.sha256 == hashlib.sha256(text.encode()).hexdigest()
    assert (loaded.file.name, loaded.text, loaded.raw["format"]) == ("job.toml", text, 1)


def test_starting_job_is_read(tmp_path):
    job = load_job(saved(tmp_path, starting_text())).job
    assert job.job.date == dt.date(2026, 1, 15)
    assert job.load[1].count == 4


def test_the_writer_of_these_tests_writes_what_was_read(tmp_path):
    assert (
        load_job(saved(tmp_path, toml_text(starting()))).job == load_job(saved(tmp_path, starting_text())).job
    )


@pytest.mark.parametrize("change", [lambda text: text.replace("\n", "\r\n"), lambda text: f"\ufeff{text}"])
def test_foreign_line_ends_and_byte_order_mark_change_nothing(tmp_path, change):
    path = tmp_path / "job.toml"
    path.write_bytes(change(starting_text()).encode("utf-8"))
    loaded = load_job(path)
    assert loaded.text == starting_text()


def test_measured_amounts_keep_how(tmp_path):
    raw = put(starting(), "load", 2, "power_w", {"measured": 58, "how": "plug meter", "tolerance_frac": 0.02})
    amount = load_job(saved(tmp_path, raw)).job.load[2].power_w
    assert amount == Measured(measured=58.0, how="plug meter", tolerance_frac=0.02)


def test_a_file_too_large_is_refused(tmp_path):
    path = saved(tmp_path, "# " + "x" * JOB_FILE_BYTES)
    with pytest.raises(JobError) as caught:
        load_job(path)
    assert "larger than 2 MB" in caught.value.problems[0].message


def test_shipped_definitions_are_read(tmp_path):
    assert "touring-12v" in shipped_definitions()
    for name in shipped_definitions():
        raw = put(van(), "module", "definition", name)
        assert load_definition(load_job(saved(tmp_path, raw))).id == name


def test_no_module_no_definition(tmp_path):
    assert load_definition(load_job(saved(tmp_path, starting()))) is None
