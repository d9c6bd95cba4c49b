import dataclasses
import json
import os
import subprocess
import sys
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.cli.main import app
from ampwright.documents.settings_model import settings_model, value_text, window_text
from ampwright.documents.settings_pdf import settings_pdf, settings_pdf_bytes
from ampwright.documents.words.words import english

RUN = CliRunner()
FOLDER = files("ampwright") / "examples"


def example(name):
    return FOLDER / f"{name}.toml"


@pytest.fixture(scope="module")
def found():
    loaded = api.load(example("night-survey-van"))
    return assess(loaded.design, loaded.sun)


def test_model_has_every_device_with_lines(found):
    model = settings_model(found)
    headings = [device.heading for device in model.devices]
    assert headings == ["load cut-off", "pm.outputs", "pm.panel-controller", "pm.alternator-charger"]
    assert model.draft == "DRAFT, DO NOT ENERGISE"
    charge = next(line for line in model.devices[-1].lines if line.what == "absorption voltage")
    assert (charge.value, charge.window, charge.origin, charge.as_left) == (
        "14.20 V",
        "14.0 to 14.6 V",
        "job",
        "",
    )


def test_draft_leaves_when_nothing_is_open(found):
    sound = dataclasses.replace(found, wiring_verdict="no fault found")
    assert settings_model(sound).draft == ""


def test_texts(found):
    model_line = next(iter(settings_plan_lines(found)))
    off = dataclasses.replace(model_line, name="equalise_v", unit="V", low=0.0, high=0.0)
    assert (value_text(0.0, off, english()), window_text(off, english())) == ("off", "off")
    slope = dataclasses.replace(model_line, name="compensation_v_per_k", unit="V/K", low=0.0, high=None)
    assert (value_text(0.024, slope, english()), window_text(slope, english())) == ("24 mV/K", "")
    one = dataclasses.replace(model_line, name="output_limit_a", unit="A", low=None, high=30.0)
    assert (value_text(12.0, one, english()), window_text(one, english())) == ("12 A", "up to 30 A")
    assert window_text(dataclasses.replace(one, low=5.0, high=None), english()) == "from 5 A"
    assert window_text(dataclasses.replace(one, is_fixed=True), english()) == "fixed: read it"


def settings_plan_lines(found):
    from ampwright.assessment.settings_plan import settings_plan  # noqa: PLC0415 - only here

    return settings_plan(found).devices[0].lines


def test_pdf_is_tagged_and_the_same_each_time(found):
    first = settings_pdf(found)
    assert first.startswith(b"%PDF")
    assert first == settings_pdf(found)
    model = settings_model(found)
    longer = dataclasses.replace(
        model, devices=(dataclasses.replace(model.devices[0], lines=model.devices[0].lines * 20),)
    )
    assert settings_pdf_bytes(longer).startswith(b"%PDF")


def test_command_prints_80_columns(tmp_path):
    target = tmp_path / "sheet.pdf"
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "from ampwright.cli.main import main; main()",
            "settings",
            str(example("night-survey-van")),
            "--pdf",
            str(target),
        ],
        capture_output=True,
        encoding="utf-8",
        check=True,
        env={**os.environ, "COLUMNS": "80", "NO_COLOR": "1", "PYTHONIOENCODING": "utf-8"},
    )
    lines = done.stdout.splitlines()
    assert max(len(line) for line in lines if not line.startswith("Sheet:")) <= 80
    assert "DRAFT, DO NOT ENERGISE" in lines[0]
    assert "________" in done.stdout
    assert target.read_bytes().startswith(b"%PDF")


def test_command_as_json():
    result = RUN.invoke(app, ["settings", str(example("night-survey-van")), "--json"])
    assert result.exit_code == 0, result.output
    said = json.loads(result.output)
    assert said["job"] == "night-survey-van"
    assert {"id", "lines", "by", "date"} <= set(said["devices"][0])


def test_command_shows_readings_that_are_off(tmp_path):
    text = example("night-survey-van").read_text(encoding="utf-8")
    left = 'as_left = { by = "R. Lind", date = 2026-10-02, how = "display", charge_v = 14.4, float_v = 13.5 }'
    job = tmp_path / "job.toml"
    wanted = 'part = "pm.alternator-charger"\n'
    job.write_text(text.replace(wanted, f'{wanted}{left}\nas_left_note = "warm day"\n'), encoding="utf-8")
    result = RUN.invoke(app, ["settings", str(job)])
    assert result.exit_code == 0, result.output
    assert "NOT AS WANTED" in result.output
    assert "Read by R. Lind, 2026-10-02, display." in " ".join(result.output.split())
    assert "warm day" in result.output


@pytest.mark.parametrize(
    ("name", "word"), [("a.txt", ".pdf"), ("nowhere/a.pdf", "folder"), ("dir.pdf", "written")]
)
def test_command_refuses_a_place_that_cannot_be(tmp_path, name, word):
    (tmp_path / "dir.pdf").mkdir()
    result = RUN.invoke(app, ["settings", str(example("vaccine-outreach")), "--pdf", str(tmp_path / name)])
    assert result.exit_code == 2
    assert word in result.output
