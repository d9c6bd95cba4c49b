import io
import re
import xml.etree.ElementTree as ET
from functools import cache
from itertools import pairwise

import ezdxf
import pypdfium2 as pdfium
import pytest
from bench.large_job import large_job_text
from geometry import crossings, faults
from jobs import generated
from materials import BASES, EXAMPLES, answer_of_file, material
from overlaps import faults as letter_faults

from ampwright.documents.diagram.compose import drawing_of
from ampwright.documents.diagram.diagram import diagram
from ampwright.documents.diagram.dxf import drawing_dxf
from ampwright.documents.diagram.svg import sheet_svg
from ampwright.documents.pack.records import Material
from ampwright.documents.words.words import load_words
from ampwright.job.load import LoadedJob
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.validation import validated

ALL = (*EXAMPLES, *BASES)
SVG = "{http://www.w3.org/2000/svg}"


class Made:
    """What a drawing needs of a job that was generated: its design, with the verdict of a draft."""

    def __init__(self, design):
        like = material("base-12v")
        self.design, self.answer, self.words, self.about = design, like.answer, like.words, design.job.job


def made(raw):
    job = validated(Job, raw)
    loaded = LoadedJob(job=job, file=None, text="", raw=raw, sha256="")
    return Made(resolve(job, shipped_catalogue(), definition=None, loaded=loaded))


@cache
def drawing(name):
    return drawing_of(material(name))


@cache
def files(name):
    return {file.name: file.content for file in diagram(material(name))}


@pytest.fixture(scope="module")
def sixty(tmp_path_factory):
    path = tmp_path_factory.mktemp("sixty") / "sixty-circuits.toml"
    path.write_text(large_job_text(), encoding="utf-8")
    answer, catalogue = answer_of_file(path)
    return Material(answer=answer, catalogue=catalogue, words=load_words("en"))


def pages(pdf):
    document = pdfium.PdfDocument(pdf)
    found = [" ".join(document[i].get_textpage().get_text_range().split()) for i in range(len(document))]
    document.close()
    return found


@pytest.mark.parametrize("name", ALL)
def test_nothing_overlaps_crosses_or_leaves_the_sheet(name):
    (sheet,) = drawing(name).sheets
    assert faults(sheet) == []
    assert drawing(name).reference_count == 0


@pytest.mark.parametrize("name", ALL)
def test_everything_of_the_design_is_drawn_once(name):
    design = material(name).design
    ids = [group.id for sheet in drawing(name).sheets for group in sheet.groups]
    wanted = [f"run-{run.id}" for run in design.runs]
    wanted += [f"part-{part.id}" for part in design.parts if part.part.kind != "enclosure"]
    wanted += [f"load-{load.id}" for load in design.loads]
    wanted += [f"device-{device.id}" for run in design.runs for device in run.devices]
    assert {each: ids.count(each) for each in wanted} == dict.fromkeys(wanted, 1)


@pytest.mark.parametrize("name", ALL)
def test_pdf_read_back_has_every_circuit_with_area_and_device(name):
    found = material(name)
    (text,) = pages(files(name)["diagram.pdf"])
    words = set(text.split())
    for run in found.design.runs:
        assert run.id in words, run.id
        assert f"{round(run.cable.area_mm2, 2):g}" in words
        for device in run.devices:
            assert device.id in words
            assert f"{device.part.rating_a:g} A" in text
    assert f"revision {found.about.revision}" in text
    assert "sheet 1 of 1" in text
    assert "cable schedule" in text


@pytest.mark.parametrize("name", EXAMPLES)
def test_letters_of_the_pdf_are_clear_of_one_another(name):
    document = pdfium.PdfDocument(files(name)["diagram.pdf"])
    assert [letter_faults(page) for page in document] == [[]]


@pytest.mark.parametrize("name", ALL)
def test_dxf_has_no_errors_and_holds_the_texts(name):
    document = ezdxf.read(io.StringIO(files(name)["diagram.dxf"].decode()))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    texts = {entity.dxf.text for entity in document.modelspace().query("TEXT")}
    assert {run.id for run in material(name).design.runs} <= texts
    layers = {entity.dxf.layer for entity in document.modelspace()}
    assert {"RUN", "BAR", "DEVICE", "PART", "TEXT", "FRAME"} <= layers
    assert document.header["$INSUNITS"] == 4


def test_dxf_stands_upright():
    document = ezdxf.read(io.StringIO(files("base-12v")["diagram.dxf"].decode()))
    heights = {entity.dxf.text: entity.get_placement()[1].y for entity in document.modelspace().query("TEXT")}
    assert heights["starter-battery"] > heights["bar"] > heights["fridge"] > heights["title"] > 0


@pytest.mark.parametrize("name", ALL)
def test_svg_groups_can_be_reached_and_read(name):
    root = ET.fromstring(files(name)["diagram.svg"])  # noqa: S314 - our own file
    groups = {each.get("id"): each for each in root.iter(f"{SVG}g")}
    ids = [each.get("id") for each in root.iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    for run in material(name).design.runs:
        group = groups[f"run-{run.id}"]
        assert group.get("role") == "img"
        assert group.get("tabindex") == "0"
        assert f"Circuit {run.id} from " in group.get("aria-label")
    assert root.find(f"{SVG}title").text
    assert all(f"Circuit {run.id} " in root.find(f"{SVG}desc").text for run in material(name).design.runs)


def test_output_channels_have_numbers_and_legends():
    (text,) = pages(files("night-survey-van")["diagram.pdf"])
    for words in ("5 Fridge 10 A", "8 Red lamps 3 A", "not used: 1–4, 11, 12"):
        assert words in text


def test_gauge_stands_beside_the_area_in_us_units():
    (text,) = pages(files("bicycle-repair-truck")["diagram.pdf"])
    assert "W9 2.08 mm² 14 AWG" in text


def test_mains_side_is_dashed_and_left_to_the_electrician():
    (sheet,) = drawing("base-mains").sheets
    mains = [group for group in sheet.groups if group.layer == "mains"]
    assert len(mains) == 4
    assert {path.dash for group in mains for path in group.paths} == {"dashed"}


def test_module_has_one_border():
    (group,) = [each for each in drawing("base-module").sheets[0].groups if each.id == "module"]
    assert len(group.paths) == 1
    assert group.paths[0].dash == "chain"


@pytest.mark.parametrize("name", ["base-module", "night-survey-van"])
def test_border_of_the_module_has_no_tiny_steps(name):
    (group,) = [each for each in drawing(name).sheets[0].groups if each.id == "module"]
    points = group.paths[0].points_mm
    assert min(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(points)) > 2.0


def test_names_of_any_length_stay_on_the_sheet():
    raw = generated(0, 3)
    raw["run"][-1]["id"] = "W-" + "averylongname" * 4
    raw["run"][-1]["device"][0]["id"] = "F-" + "averylongname" * 4
    raw["load"][-1]["name"] = "word " * 60
    assert [fault for sheet in drawing_of(made(raw)).sheets for fault in faults(sheet)] == []


def test_sources_are_above_the_bar_and_loads_below():
    (sheet,) = drawing("base-mains").sheets
    tops = {
        group.id: min(y for path in group.paths for _, y in path.points_mm)
        for group in sheet.groups
        if group.paths
    }
    bar = tops["part-bar"]
    for name in ("battery", "charger", "starter-battery", "controller", "panel", "mains-charger", "inlet"):
        assert tops[f"part-{name}"] < bar, name
    for name in ("part-outputs", "part-inverter", "load-fridge", "load-lights", "load-mixer"):
        assert tops[name] > bar, name


def test_sixty_circuits_go_over_sheets_with_references_at_both_ends(sixty):
    plan = drawing_of(sixty)
    assert len(plan.sheets) > 1
    assert [fault for sheet in plan.sheets for fault in faults(sheet)] == []
    texts = pages(next(file.content for file in diagram(sixty) if file.name == "diagram.pdf"))
    assert len(texts) == len(plan.sheets)
    holding = [number for number, text in enumerate(texts, 1) if "W100 53.48" in text]
    assert len(holding) == 2
    assert f"to sheet {holding[1]} at blocks" in texts[holding[0] - 1]
    assert f"from sheet {holding[0]} at bar" in texts[holding[1] - 1]
    assert f"to sheet {holding[1] + 1}" in texts[holding[1] - 1]
    assert f"from sheet {holding[1]}" in texts[holding[1]]
    for run in sixty.design.runs:
        assert any(run.id in text.split() for text in texts), run.id
    names = [file.name for file in diagram(sixty)]
    assert names[: len(texts)] == [f"diagram-{number}.svg" for number in range(1, len(texts) + 1)]


@pytest.mark.parametrize("circuits", [5, 20, 40, 60])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_generated_radial_jobs_have_no_crossing_and_no_overlap(seed, circuits):
    plan = drawing_of(made(generated(seed, circuits)))
    assert [fault for sheet in plan.sheets for fault in faults(sheet)] == []


@pytest.mark.parametrize("seed", [4, 5, 6])
def test_generated_meshes_cross_at_most_once_in_ten_circuits_and_lose_none(seed):
    found = made(generated(seed, 40, loops=5))
    plan = drawing_of(found)
    assert sum(len(crossings(sheet)) for sheet in plan.sheets) <= len(found.design.runs) / 10
    assert [fault for sheet in plan.sheets for fault in faults(sheet) if fault[0] != "crossings"] == []
    ids = {group.id for sheet in plan.sheets for group in sheet.groups}
    assert {f"run-{run.id}" for run in found.design.runs} <= ids


def relayed():
    raw = generated(0, 0)
    raw["part"].append({"id": "relay", "part": "relay-200-start", "zone": "bench"})
    common = {"cable": "cable-25", "length_m": 2, "zones": ["bench"]}
    raw["run"].append({"id": "W20", "start": "starter-battery", "end": "relay.in", **common})
    raw["run"].append({"id": "W21", "start": "bar", "end": "relay.out", **common})
    return raw


def test_second_way_from_the_starter_battery_is_drawn_through():
    plan = drawing_of(made(relayed()))
    assert plan.reference_count == 0
    (sheet,) = plan.sheets
    assert faults(sheet) == []
    lines = {group.id: [point for path in group.paths for point in path.points_mm] for group in sheet.groups}
    x, y = lines["run-W20"][-1]
    assert all(each == pytest.approx(x) for each, _ in lines["run-W2"])
    assert min(each for _, each in lines["run-W2"]) < y < max(each for _, each in lines["run-W2"])


def test_job_without_a_bus_bar_shows_the_terminal_as_one():
    raw = generated(0, 0)
    raw["part"] = [part for part in raw["part"] if part["id"] in {"battery", "charger"}]
    raw["run"] = [run for run in raw["run"] if run["id"] in {"W2", "W3", "W6"}]
    for run in raw["run"]:
        run["start"] = run["start"].replace("bar", "battery")
    raw["load"] = [load for load in raw["load"] if load["id"] == "fridge"]
    raw["channel"], raw["setting"] = [], []
    raw["bond"][0]["at"] = "battery"
    (sheet,) = drawing_of(made(raw)).sheets
    assert faults(sheet) == []
    assert {"bar-battery", "part-battery", "run-W3", "run-W6"} <= {group.id for group in sheet.groups}


def test_same_drawing_gives_the_same_bytes():
    one = drawing_of(material("base-12v"))
    assert drawing_dxf(one) == files("base-12v")["diagram.dxf"]
    assert sheet_svg(one.sheets[0]).encode() == files("base-12v")["diagram.svg"]


def test_drawing_needs_no_colour():
    text = files("night-survey-van")["diagram.svg"].decode()
    strokes = set(re.findall(r'stroke="(#[0-9a-f]+)"', text))
    assert strokes == {"#1a1a1a"}


@pytest.mark.parametrize("name", ["night-survey-van", "base-mains"])
def test_drawing_in_german_fits_too(name):
    assert [
        fault for sheet in drawing_of(material(name, language="de")).sheets for fault in faults(sheet)
    ] == []
