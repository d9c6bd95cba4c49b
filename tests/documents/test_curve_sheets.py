import dataclasses
import io
import math
import re
import xml.etree.ElementTree as ET
from importlib.resources import as_file, files

import pypdfium2
import pytest
from test_curve_model import cable, circuit, device

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.documents.curve_sheets import curve_sheets, curves_pdf, sheet_of
from ampwright.documents.curve_svg import curve_svg
from ampwright.documents.curve_view import curve_circuits
from ampwright.parts.protection import Breaker, Fuse


@pytest.fixture(scope="module")
def assessment():
    with as_file(files("ampwright") / "examples" / "vaccine-outreach.toml") as path:
        loaded = api.load(path)
    return assess(loaded.design, loaded.sun)


def words(pdf):
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    return [page.get_textpage().get_text_range() for page in document]


def test_every_device_that_protects_a_run_has_one_chart(assessment):
    found = curve_circuits(assessment)
    devices = {
        device.id
        for run in assessment.design.runs
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker)
    }
    assert {each.own.id for each in found} == devices
    assert len(found) == len(devices)
    runs = [run for each in found for run in each.runs]
    assert len(runs) == len(set(runs))


def test_currents_are_those_of_the_network(assessment):
    network, runs = assessment.network, {run.id: run.index for run in assessment.design.runs}
    for each in curve_circuits(assessment):
        (largest,) = [fault.fault_a for fault in network.device_fault if fault.device == each.own.id]
        assert each.fault_a == largest
        smallest = [
            fault.fault_a
            for fault in network.far_fault
            if fault.device == each.own.id and fault.run in {runs[run] for run in each.runs}
        ]
        assert each.far_fault_a == min(smallest)
        assert each.far_fault_a < each.fault_a


def test_the_air_is_that_of_the_season_and_the_run(assessment):
    for each in curve_circuits(assessment):
        assert each.own.rated.coldest_degc == assessment.design.job.season.coldest_degc
        assert each.own.rated.hottest_degc >= each.own.rated.coldest_degc


def test_svg_is_well_formed_and_names_itself(assessment):
    for sheet in curve_sheets(assessment):
        root = ET.fromstring(curve_svg(sheet.chart))  # noqa: S314 - our own text
        ids = [each.get("id") for each in root.iter() if each.get("id")]
        assert len(ids) == len(set(ids))
        assert root.find("{http://www.w3.org/2000/svg}title").text == sheet.chart.title


def test_svg_keeps_strange_names_as_text():
    text = curve_svg(sheet_of(circuit(own=device("F<1>&"))).chart)
    ET.fromstring(text)  # noqa: S314 - our own text
    assert "F&lt;1&gt;&amp;" in text


def test_notes_take_the_run_with_the_least_margin():
    near = cable("W1", far_fault_a=800.0, fault_a=900.0)
    far = cable("W2", far_fault_a=90.0, fault_a=300.0)
    notes = " ".join(sheet_of(circuit(cables=(near, far))).notes)
    assert "Smallest fault of W1, 800" in notes
    # 90 A: open after at most 5 s (400 %), endured 26 s; 800 A: open after 0.4 s, endured 0.18 s.


def test_notes_give_the_times_of_the_table():
    notes = sheet_of(circuit(upstream=None)).notes
    assert re.match(
        r"Smallest fault of W1, 150\sA: open after at most 1.80\ss; the cable endures 5\.\d+\ss", notes[0]
    )
    assert notes[-1].startswith("Times: IEC 60934")
    assert notes[-1].endswith("second hand.")


def test_notes_say_what_is_not_known():
    text = " ".join(sheet_of(circuit(cables=(), unknown_runs=("W7",), far_fault_a=None)).notes)
    assert "smallest fault current is not known" in text
    assert "W7; its limit is not drawn" in text
    text = " ".join(sheet_of(circuit(own=device("F9", "iso-8820-5-sf30", 300.0))).notes)
    assert "No opening times are held" in text
    assert "no opening time is held" in text
    text = " ".join(sheet_of(circuit(cables=(cable(far_fault_a=22.0, fault_a=None),))).notes)
    assert "22.0\u00a0A: it need not open; the cable endures for ever" in text


def test_notes_say_how_far_the_device_above_stays_closed():
    note = sheet_of(circuit(upstream=device("F0", "thermal", 20.0))).notes[2]
    assert note.startswith("Nothing held says that it opens before F0: both may open from")
    note = sheet_of(
        circuit(own=device("F1", "iso-8820-3-c", 5.0), upstream=device("F0", "thermal", 50.0))
    ).notes[2]
    # 5 A: 350 % within 0.5 s, 600 % (30 A) within 0.1 s; the 50 A breaker stays closed 0.12 s up to 10 times.
    assert re.match(r"It opens before F0 from 6\.75\sA up to 500\sA; above, both may\.", note)
    note = sheet_of(
        circuit(own=device("F1", "thermal", 20.0), upstream=device("F0", "iso-8820-5-sf30", 300.0))
    ).notes[2]
    assert "Nothing held says" in note
    no_table = device("F9", "iso-8820-5-sf30", 300.0)
    assert sheet_of(circuit(own=no_table)).notes[2] == "Nothing held says that it opens before F0."


def test_total_discrimination_is_said():
    note = sheet_of(circuit(upstream=device("F0", "thermal", 20_000.0))).notes[2]
    assert note == "It opens before F0 at every current drawn."


def test_pdf_holds_every_chart_and_the_banner_on_every_page(assessment):
    pages = words(curves_pdf(assessment))
    text = " ".join(pages)
    for sheet in curve_sheets(assessment):
        assert sheet.heading in text
    assert len(pages) >= 2
    assert all("DRAFT, DO NOT ENERGISE" in page for page in pages)


def test_pdf_without_fault_has_no_banner_and_is_the_same_again(assessment):
    sound = dataclasses.replace(assessment, wiring_verdict="no fault found")
    first = curves_pdf(sound)
    assert first == curves_pdf(sound)
    assert not any("DRAFT" in page for page in words(first))


def test_pdf_of_a_job_without_devices_says_so(assessment):
    bare = dataclasses.replace(
        assessment.design,
        runs=tuple(dataclasses.replace(run, devices=()) for run in assessment.design.runs),
    )
    (page,) = words(curves_pdf(dataclasses.replace(assessment, design=bare)))
    assert "No fuse or breaker" in page


def test_a_cable_the_table_does_not_hold_is_named(assessment):
    design = assessment.design
    first = design.runs[0]
    thin = dataclasses.replace(first.cable, area_mm2=0.1)
    runs = (dataclasses.replace(first, cable=thin), *design.runs[1:])
    found = curve_circuits(dataclasses.replace(assessment, design=dataclasses.replace(design, runs=runs)))
    assert first.id in found[0].unknown_runs
    assert all(each.run != first.id for each in found[0].cables)


def test_cables_have_the_capacity_of_the_assessment(assessment):
    for each in curve_circuits(assessment):
        for laid in (each_cable.laid for each_cable in each.cables):
            assert 0.0 < laid.capacity_a < math.inf
            assert laid.rated_degc > laid.ambient_degc
