"""The interface asked with what its own description allows, and with what it does not allow.

schemathesis makes the requests from /api/v1/openapi.json; the app answers through its real WSGI entry.
"""

from __future__ import annotations

import pytest
import schemathesis
from django.core.wsgi import get_wsgi_application
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from interface_jobs import BASE, as_network, token_of
from openapi_spec_validator import validate
from photo_files import photo as picture
from schemathesis import GenerationMode
from schemathesis.specs.openapi.checks import positive_data_acceptance
from web_jobs import job_from, text_of, whole

from ampwright.web.interface.description import described
from ampwright.web.interface.records import StateName
from ampwright.web.interface.routes import ROUTES
from ampwright.web.kept_files import keep_file
from ampwright.web.models import Event, JobEntry, State
from ampwright.web.photos import keep_photo

EXAMPLE_COUNT = 10
"""Requests made for one operation: all of them together take less than a minute on two cores."""
FILE_EXAMPLE_COUNT = 4
"""The same where a file is made each time."""
FUZZING = settings(
    deadline=None,
    derandomize=True,
    database=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture(scope="module")
def shop():
    """Return the network with one job that only is read, its answer reckoned, and one that is written."""
    with as_network():
        read, written = job_from("start"), job_from("start")
        keep_file(read.pk, "own.csv", b"hour,power_w\n", who="Ada")
        photo = keep_photo(read, picture(), subject="", caption="front", who="Ada")
        whole(read)
        yield {"photo": photo.pk, "read": read, "written": written, "token": token_of("admin")}
    Event.objects.filter(what="token refused").delete()


@pytest.fixture(scope="module")
def described_app(shop):
    """Return the description as the app gives it, with values that lead to something now and then."""
    schema = schemathesis.openapi.from_wsgi(
        f"{BASE}openapi.json",
        get_wsgi_application(),
        headers={"Authorization": f"Bearer {shop['token']}"},
    )

    @schema.hook
    def map_path_parameters(context, path_parameters):
        """Let three of four addresses lead somewhere, if they are said rightly."""
        job, *numbers = ((path_parameters or {}).get(name, 1) for name in ("job", "number", "photo"))
        is_right = all(isinstance(each, int) and 1 <= each <= 2_000_000_000 for each in (job, *numbers))
        if not path_parameters or not is_right or job % 4 == 0:
            return path_parameters
        is_read = context.operation.method.upper() == "GET"
        right = {"job": shop["read" if is_read else "written"].pk, "number": 1, "name": "labels"}
        right["photo"] = shop["photo"]
        right["file"] = "labels.pdf" if "documents" in context.operation.path else "own.csv"
        return {name: right[name] for name in path_parameters}

    @schema.hook
    def map_body(context, body):
        """Let half of the texts be a job's, made from the last revision or from the one before."""
        if not isinstance(body, dict) or not isinstance(body.get("text"), str):
            return body
        now = JobEntry.objects.get(pk=shop["written"].pk).number
        text, count = text_of(shop["written"]), len(body["text"])
        body = {**body, "text": f"{text}# {count}\n"} if count % 2 else body
        said = body.get("before")
        is_right = said is None or (type(said) is int and 1 <= said <= 2_000_000_000)
        is_put = context.operation.method.upper() == "PUT" and is_right
        return {**body, "before": max(1, now - count % 4 // 3)} if is_put else body

    @schema.hook
    def map_headers(context, headers):  # noqa: ARG001 - as it is called
        """Leave If-Match to the tests that say which one is right."""
        return {name: value for name, value in (headers or {}).items() if name != "If-Match"}

    return schema


@pytest.mark.parametrize("is_valid", [True, False], ids=["as described", "not as described"])
@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.name)
def test_every_answer_is_as_described(described_app, shop, route, is_valid):
    operation = described_app[f"{BASE}{route.path}"][route.method]
    headers = {"Authorization": f"Bearer {shop['token']}"}
    mode = GenerationMode.POSITIVE if is_valid else GenerationMode.NEGATIVE
    try:
        cases = operation.as_strategy(generation_mode=mode)
    except Unsatisfiable:
        pytest.skip("nothing can be said wrongly here")

    @given(case=cases)
    @settings(FUZZING, max_examples=EXAMPLE_COUNT if route.gives else FILE_EXAMPLE_COUNT)
    def ask(case):
        Event.objects.filter(what="token refused").delete()  # asked without a right token too
        answered = case.call_and_validate(headers=headers, excluded_checks=[positive_data_acceptance])
        seen.add(answered.status_code)

    seen = set()
    ask()
    assert 429 not in seen
    if is_valid:  # else nothing but refusals would have been looked at
        assert seen & {200, 201}, seen


def test_the_description_is_valid_and_names_every_operation():
    whole_text = described()
    validate(whole_text)
    listed = {
        (method.upper(), path.removeprefix(BASE))
        for path, methods in whole_text["paths"].items()
        for method in methods
    }
    assert listed == {(each.method, each.path) for each in ROUTES}
    names = [each.name for each in ROUTES]
    assert len(names) == len(set(names))


def test_the_description_has_the_words_of_the_records():
    schemas = described()["components"]["schemas"]
    assert schemas["Battery"]["properties"]["capacity_ah"]["description"]
    assert "findings" in schemas["PlainAnswer"]["required"]
    assert schemas["JobLine"]["properties"]["state"]["enum"] == list(StateName.__args__) == State.values
