"""The workbook's formulas, recalculated by LibreOffice, give the sums of the bill to the cent."""

import io
import shutil
import subprocess
from decimal import Decimal

import openpyxl
import pytest
from materials import EXAMPLES, material
from quotes import quoted, unsaid, with_changes

from ampwright.documents.bill.document import bill
from ampwright.documents.bill.lines import bill_of
from ampwright.documents.bill.model import six_sums, sum_names
from ampwright.documents.bill.offers import offers
from ampwright.documents.words.words import english
from ampwright.job.quote import Quote

MATERIALS = {
    **{name: lambda name=name: material(name) for name in EXAMPLES},
    "nothing-said": lambda: quoted("vaccine-outreach"),
    "offers-of-a-job-that-says-nothing": lambda: unsaid(with_changes({})),
    "three-offers": lambda: with_changes({}, {"description": "The same again"}),
    "odd-cents": lambda: quoted(
        "base-24v", currency="NZD", rate_money_per_eur=1.8351, hour_money=95.55, fitting_money=0.07,
        margin_frac=0.1234, tax_frac=0.15, thin_run_hours=0.35,
    ),
}  # fmt: skip


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory):
    folder, out = tmp_path_factory.mktemp("bills"), tmp_path_factory.mktemp("recalculated")
    for name, make in MATERIALS.items():
        content = next(file.content for file in bill(make()) if file.name == "bill.xlsx")
        (folder / f"{name}.xlsx").write_bytes(content)
    (folder / "typed.xlsx").write_bytes(typed((folder / "three-offers.xlsx").read_bytes()))
    office = shutil.which("soffice")
    assert office, "LibreOffice is wanted: `make lint` installs libreoffice-calc"
    profile = f"-env:UserInstallation=file://{tmp_path_factory.mktemp('profile')}"
    subprocess.run(
        [office, profile, "--headless", "--convert-to", "xlsx", "--outdir", out, *sorted(folder.iterdir())],
        check=True,
        capture_output=True,
        timeout=240,
    )
    return {
        name: openpyxl.load_workbook(out / f"{name}.xlsx", data_only=True) for name in (*MATERIALS, "typed")
    }


def typed(content):
    """Return the workbook with the price of the panel and of an hour typed anew in the bill."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    sheet = book.worksheets[0]
    (panel,) = (row for row in sheet.iter_rows() if row[1].value == "panel-175")
    panel[6].value = 200.0
    (hour,) = (row for row in sheet.iter_rows() if row[0].value == "price of an hour")
    hour[1].value = 60.0
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def values(sheet, names, *, label_column, first_column):
    """Return the figures beside the names of the sums, a list for each."""
    found = {}
    for row in sheet.iter_rows(values_only=True):
        if row[label_column] in names and row[first_column] is not None:
            found.setdefault(row[label_column], [cell for cell in row[first_column:] if cell is not None])
    return [found[name] for name in names]


def said(money):
    return "not said" if money is None else money


def same(cell, money):
    if money is None or isinstance(cell, str):
        return cell == said(money)
    return Decimal(repr(cell)).quantize(Decimal("0.0001")) == money


@pytest.mark.parametrize("name", MATERIALS)
def test_sums_of_the_bill(recalculated, name):
    found = MATERIALS[name]()
    sums = bill_of(found.design, english()).sums
    names = sum_names(found.design.job.quote or Quote(), english())
    cells = values(recalculated[name].worksheets[0], names, label_column=3, first_column=7)
    wanted = list(six_sums(sums))
    assert [same(cell[0], money) for cell, money in zip(cells, wanted, strict=True)] == [True] * 6


@pytest.mark.parametrize("name", MATERIALS)
def test_lines_of_the_bill(recalculated, name):
    lines = bill_of(MATERIALS[name]().design, english()).lines
    rows = list(recalculated[name].worksheets[0].iter_rows(values_only=True))
    first = next(index for index, row in enumerate(rows) if row[0] == "sort") + 1
    for line, row in zip(lines, rows[first : first + len(lines)], strict=True):
        if line.total is None:
            assert row[7] in {None, ""}, line.name
        else:
            assert same(row[7], line.total), line.name


def test_a_price_typed_in_the_bill_counts_in_every_offer(recalculated):
    names = ("goods", "work")
    goods, work = values(recalculated["typed"].worksheets[1], names, label_column=0, first_column=1)
    # one panel more at 200, and 1.5 h at 60 to mount it
    assert [round(each - goods[0], 2) for each in goods[1:]] == [200.0, 200.0]
    assert [round(each - work[0], 2) for each in work[1:]] == [90.0, 90.0]


@pytest.mark.parametrize(("name", "count"), [("three-offers", 3), ("offers-of-a-job-that-says-nothing", 2)])
def test_sums_of_each_offer(recalculated, name, count):
    found = MATERIALS[name]()
    made = list(offers(found, bill_of(found.design, english())))
    names = sum_names(found.design.job.quote or Quote(), english())
    cells = values(recalculated[name].worksheets[1], names, label_column=0, first_column=1)
    assert len(made) == count
    for number, offer in enumerate(made):
        found_sums = [cell[number] for cell in cells]
        assert all(same(a, b) for a, b in zip(found_sums, six_sums(offer.sums), strict=True)), offer.title
