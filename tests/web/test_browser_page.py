"""The job page as one file in a real browser: phone and screen, axe, paper, nothing asked of anybody."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from axe_playwright_python.sync_playwright import Axe

from ampwright.documents.job_page.job_page import job_page

sys.path.insert(0, str(Path(__file__).parents[1] / "documents"))
from materials import material


def opened(page, tmp_path, name, language="en"):
    file = tmp_path / "page.html"
    file.write_text(job_page(material(name, language=language)), encoding="utf-8")
    page.goto(file.as_uri())


@pytest.mark.parametrize(
    ("width", "scheme", "job"),
    [(390, "light", ("night-survey-van", "de")), (1280, "dark", ("base-mains", "en"))],
)
def test_the_page_is_narrow_axe_finds_nothing_and_nobody_is_asked(chromium, tmp_path, width, scheme, job):
    context = chromium.new_context(
        viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page, asked, said = context.new_page(), [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    opened(page, tmp_path, *job)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    violations = Axe().run(page).response["violations"]
    assert [(each["id"], each["nodes"][0]["html"][:200]) for each in violations] == []
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    assert said == []
    context.close()


def test_every_printed_page_of_a_draft_says_so(page, tmp_path):
    opened(page, tmp_path, "base-12v")
    pages = pdfium.PdfDocument(io.BytesIO(page.pdf(format="A4")))
    texts = [each.get_textpage().get_text_range() for each in pages]
    assert len(texts) > 3
    assert [number for number, text in enumerate(texts, 1) if "DRAFT, DO NOT ENERGISE" not in text] == []
