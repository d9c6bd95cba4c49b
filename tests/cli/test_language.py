"""The language of documents, asked for on the command line or written in the job."""

import pypdfium2
import pytest
from typer.testing import CliRunner

from ampwright.cli.main import app

RUN = CliRunner()
COMMANDS = (
    ("check", "--report", "Kleinste Änderungen", "Smallest changes"),
    (
        "settings",
        "--pdf",
        "Die Anleitung des verbauten Geräts geht vor.",
        "The manual of the device fitted",
    ),
    ("curves", "--to", "Zeit nach oben", "Time upwards"),
    ("measure", "--pdf", "Bei Abweichung:", "If it differs:"),
)


@pytest.fixture
def job(tmp_path):
    target = tmp_path / "job.toml"
    assert RUN.invoke(app, ["new", str(target)]).exit_code == 0
    return target


def printed(path):
    document = pypdfium2.PdfDocument(path)
    return "\n".join(page.get_textpage().get_text_range() for page in document)


@pytest.mark.parametrize("case", COMMANDS, ids=lambda case: case[0])
def test_each_command_that_writes_a_document_takes_a_language(job, tmp_path, case):
    command, option, german, english = case
    target = tmp_path / "sheet.pdf"
    RUN.invoke(app, [command, str(job), option, str(target), "--language", "de"])
    text = printed(target)
    assert german in text
    assert english not in text


@pytest.mark.parametrize("case", COMMANDS, ids=lambda case: case[0])
def test_the_job_says_the_language_where_the_command_does_not(job, tmp_path, case):
    command, option, german, english = case
    written = job.read_text(encoding="utf-8")
    job.write_text(written.replace("[job]\n", '[job]\nlanguage = "de"\n', 1), encoding="utf-8")
    target = tmp_path / "sheet.pdf"
    RUN.invoke(app, [command, str(job), option, str(target)])
    assert german in printed(target)
    RUN.invoke(app, [command, str(job), option, str(target), "--language", "en"])
    assert english in printed(target)
