"""What documents are made from, for tests: jobs assessed once, without the search and the runs of weather."""

from functools import cache
from importlib.resources import files
from pathlib import Path

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.documents.pack.records import Material
from ampwright.documents.words.words import load_words
from ampwright.sizing.outlook import outlook_of
from ampwright.sizing.result import Answer

EXAMPLES = ("night-survey-van", "bicycle-repair-truck", "vaccine-outreach")
BASES = ("base-12v", "base-24v", "base-module", "base-mains")
CASES = Path(__file__).parents[1] / "cases"


def job_file(name):
    if name in EXAMPLES:
        return files("ampwright") / "examples" / f"{name}.toml"
    return CASES / name / "job.toml"


@cache
def answer_of_file(path):
    loaded = api.load(path)
    found = assess(loaded.design, loaded.sun)
    answer = Answer(
        file=path.name,
        job_hash=loaded.source.sha256[:12],
        program_version="0.0.0",
        assessment=found,
        worst=found,
        use_verdict=found.use_verdict,
        wiring_verdict=found.wiring_verdict,
        use_sentence="sentence of the use",
        wiring_sentence="sentence of the wiring",
        unknown_count=0,
        questions=(),
        changes=(),
        assumptions=(),
        outlook=outlook_of(found, loaded.sun, None),
    )
    return answer, loaded.catalogue


def material(name, *, language="en"):
    answer, catalogue = answer_of_file(job_file(name))
    return Material(answer=answer, catalogue=catalogue, words=load_words(language))
