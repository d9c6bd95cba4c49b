"""`ampwright log` as a user runs it."""

import datetime as dt
import json
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from ampwright.cli.main import app

RUN = CliRunner()


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "van.toml"
    path.write_text(
        files("ampwright.examples").joinpath("night-survey-van.toml").read_text(encoding="utf-8"),
        encoding="utf-8",
    )
    return path


@pytest.fixture
def log(tmp_path):
    """Three days: 0.9 A never sleep, 4 A more half of the time, 20 A of charge from 10 to 15 h."""
    start = dt.datetime.fromisoformat("2026-10-03")
    lines = ["Zeit;U;I"]
    for minute in range(3 * 1440):
        amps = -0.9 - (4.0 if minute // 10 % 2 else 0.0)
        if 600 <= minute % 1440 < 900:
            amps = 20.0
        time = start + dt.timedelta(minutes=minute)
        lines.append(f"{time.isoformat(sep=' ')};{13.2 + 0.012 * amps:.3f};{amps:.2f}".replace(".", ","))
    path = tmp_path / "october.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


NAMES = ("--columns", "time=Zeit,battery_v=U,battery_a=I")


def test_the_screen_has_80_columns_and_says_what_differs_and_why(job, log):
    done = RUN.invoke(app, ["log", str(job), str(log), *NAMES])
    assert done.exit_code == 1, done.output
    assert max(map(len, done.stdout.split("\n"))) <= 80
    assert "quiet draw at night: more than foretold" in done.stdout
    assert "pull fuses one by one" in done.stdout
    assert "isolate the battery" in done.stdout


def test_json_says_the_same(job, log):
    said = json.loads(RUN.invoke(app, ["log", str(job), str(log), *NAMES, "--json"]).stdout)
    by_name = {line["what"]: line for line in said["lines"]}
    assert by_name["quiet draw at night"]["measured"] == pytest.approx(0.9)
    assert by_name["quiet draw at night"]["reading"] == "more"
    assert by_name["charged a day"]["measured"] == pytest.approx(100.0, rel=1e-3)
    assert said["facts"]["capacity_ah"] is None


def test_a_wrong_heading_and_a_wrong_option_are_told(job, log):
    done = RUN.invoke(app, ["log", str(job), str(log)])
    assert done.exit_code == 2
    assert "no column time, battery_v, battery_a; it has Zeit, U, I" in done.output.replace("\n", " ")
    done = RUN.invoke(app, ["log", str(job), str(log), "--columns", "volt=U"])
    assert done.exit_code == 2
    assert "battery_v=heading" in done.output.replace("\n", " ")
