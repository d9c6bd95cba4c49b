import pypdfium2 as pdfium
import pytest
from materials import BASES, EXAMPLES, material

from ampwright.documents.fault_finding.fault_finding import fault_finding, fault_finding_card


def rows(name):
    (table,) = [section.table for section in fault_finding_card(material(name)).sections if section.table]
    return {row[0]: tuple(cell.replace("\u00a0", " ") for cell in row) for row in table.rows}


def test_figures_are_this_job_s():
    found = rows("bicycle-repair-truck")
    assert "at most 15.3 mΩ" in found["alternator-charger charges weakly"][2]
    assert "above 23.6 V to start" in found["alternator-charger never starts"][2]
    assert "at most 72 mA; it then stands 120 days" in found["battery flat after standing"][2]
    assert "21.0 V" in found["inverter stops under load"][2]


def test_regulated_alternator_is_told():
    assert "may fall to 12.6 V" in rows("night-survey-van")["pm.alternator-charger never starts"][3]
    assert "may fall" not in rows("bicycle-repair-truck")["alternator-charger never starts"][3]


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_card_has_every_cause_and_at_most_two_pages(name):
    found = rows(name)
    text = " ".join(" ".join(row) for row in found.values())
    for cause in ("thin", "bad joint", "uncounted drain", "blew", "low battery", "takes no charge on a cold"):
        assert cause in text, cause
    assert all(all(row) for row in found.values())
    (file,) = fault_finding(material(name))
    assert len(pdfium.PdfDocument(file.content)) <= 2


def test_fuses_are_never_bridged():
    first = fault_finding_card(material("base-12v")).sections[0]
    assert any("never bridged" in caution for caution in first.cautions)
    assert any("licensed electrician" in caution for caution in first.cautions)


def test_no_inverter_and_no_outputs_no_such_lines():
    found = rows("vaccine-outreach")
    assert not any("inverter" in symptom for symptom in found)
    assert "an output trips again and again" not in found
