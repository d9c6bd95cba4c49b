import dataclasses

from materials import material

from ampwright.documents.mains_sheet.mains_sheet import electrician_sheet, no_mains
from ampwright.documents.pack.publish import pack_of


def sections(found):
    return {section.title: section for section in electrician_sheet(found).sections}


def test_jobs_without_mains_have_no_sheet_and_say_why():
    assert no_mains(material("base-mains")) == ""
    pack = pack_of(material("night-survey-van"), only=("electrician",))
    assert pack.left_out == (("electrician", "nothing in this job touches mains voltage"),)


def test_certificate_says_what_it_covers():
    covered = dict(sections(material("base-mains"))["What the certificate covers"].table.rows)
    assert covered["number"] == "T-0001"
    assert covered["date"] == "2026-01-10"
    assert covered["number of sockets"] == "2"
    assert covered["signed by"] == "____"


def test_without_certificate_the_mains_side_stays_off():
    found = material("base-mains")
    mains = dataclasses.replace(found.design.job.mains, certificate=None)
    design = dataclasses.replace(found.design, job=dataclasses.replace(found.design.job, mains=mains))
    answer = dataclasses.replace(found.answer, assessment=dataclasses.replace(found.found, design=design))
    texts = sections(dataclasses.replace(found, answer=answer))["What the certificate covers"].text
    assert "stays off" in texts[0]


def test_tests_have_no_limit_of_our_own():
    rows = sections(material("base-mains"))["Tests"].table.rows
    assert len(rows) >= 8
    assert all(row[1:] == ("____", "____", "[ ]", "____") for row in rows)


def test_points_of_the_rules_are_all_there():
    found = material("bicycle-repair-truck")
    points = sections(found)["What to decide, mend or measure"].notes
    assert any("residual-current" in point for point in points)
