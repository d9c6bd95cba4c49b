"""A job with few runs, so that an atlas of some cases takes a second."""

from importlib.resources import files

import pytest

SITES = "denver-us,potsdam-de"


@pytest.fixture
def job(tmp_path):
    text = files("ampwright").joinpath("examples/vaccine-outreach.toml").read_text(encoding="utf-8")
    path = tmp_path / "outreach.toml"
    path.write_text(f"{text}\n[doubt]\nruns = 4\n", encoding="utf-8")
    return path
