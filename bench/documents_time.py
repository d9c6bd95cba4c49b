"""What each document of the build pack costs for a job of 60 circuits."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from bench.large_job import large_job_text
from bench.measure import Figure, call_ms

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.documents.pack.documents import DOCUMENTS
from ampwright.documents.pack.records import Document, Material
from ampwright.documents.words.words import english
from ampwright.sizing.result import Answer

PACK_LIMIT_MS = 3000.0
RUNS = 5


def documents_figures() -> Iterator[Figure]:
    """Yield the time of each document, and of all of them together against the limit."""
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "sixty-circuits.toml"
        job.write_text(large_job_text(), encoding="utf-8")
        material = _material(job)
    total_ms = 0.0
    for document in DOCUMENTS:
        if document.left_out(material):
            continue
        made_ms = call_ms(lambda each=document: _size(each, material), runs=RUNS)  # type: ignore[misc]
        total_ms += made_ms
        size = _size(document, material)
        yield Figure(
            what=f"60 circuits: {document.name}", value=made_ms, unit="ms", note=f"{size / 1000:.0f} kB"
        )
    yield Figure(what="  all of the pack", value=total_ms, unit="ms", limit=PACK_LIMIT_MS)


def _size(document: Document, material: Material) -> int:
    return sum(len(file.content) for file in document.make(material))


def _material(job: Path) -> Material:
    """Return what the documents are made from, without the search and the runs of weather."""
    loaded = api.load(job)
    found = assess(loaded.design, loaded.sun)
    answer = Answer(
        file=job.name,
        job_hash=loaded.source.sha256[:12],
        program_version="",
        assessment=found,
        worst=found,
        use_verdict=found.use_verdict,
        wiring_verdict=found.wiring_verdict,
        use_sentence="",
        wiring_sentence="",
        unknown_count=0,
        questions=(),
        changes=(),
        assumptions=(),
    )
    return Material(answer=answer, catalogue=loaded.catalogue, words=english())
