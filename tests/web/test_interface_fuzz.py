"""The interface asked with what its own description allows, and with what it does not allow.

schemathesis makes the requests from /api/v1/openapi.json; the app answers through its real WSGI entry.
"""

from __future__ import annotations

from importlib.resources import files

import pytest
import schemathesis
from django.core.wsgi import get_wsgi_application
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from interface_jobs import BASE, Program, as_network, token_of
from openapi_spec_validator import validate
from photo_files import photo as picture
from schemathesis import GenerationMode
from schemathesis.specs.openapi.checks import positive_data_acceptance
from test_interface_own import BAR as OWN_BAR
from test_interface_own import CAMP as OWN_CAMP
from web_jobs import job_from, text_of, whole

from ampwright.web.app import workshop_folder
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
BAR = {**OWN_BAR, "id": "fuzz-bar"}
CAMP = {**OWN_CAMP, "id": "fuzz-camp"}
MODULE = (files("ampwright.job") / "modules" / "touring-12v.toml").read_text(encoding="utf-8")
MODULE = MODULE.replace('revision = "B"', 'revision = "fuzz.1"')
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
        away = keep_photo(written, picture(), subject="", caption="back", who="Ada")
        whole(read)
        words = {"photo": photo.pk, "away": away.pk}
        yield {**words, "read": read, "written": written, "token": token_of("admin")}
        for name in ("parts/fuzz-bar.toml", "places/fuzz-camp.toml", "modules/touring-12v--fuzz.1.toml"):
            (workshop_folder() / name).unlink(missing_ok=True)
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
        return led(shop, context, path_parameters or {})

    @schema.hook
    def map_query(context, query):
        """Let the photos be of something that is there."""
        is_of_photos = context.operation.path.endswith("/photos") and "subject" in (query or {})
        return {**query, "subject": "fridge"} if is_of_photos and shop["is_valid"] else query

    @schema.hook
    def map_body(context, body):
        return made_right(shop, context, body)

    @schema.hook
    def map_headers(context, headers):  # noqa: ARG001 - as it is called
        """Leave If-Match to the tests that say which one is right."""
        return {name: value for name, value in (headers or {}).items() if name != "If-Match"}

    return schema


def led(shop, context, names):
    """Return an address that leads somewhere in three of four cases, if it is said rightly."""
    numbers = [names.get(name, 1) for name in ("job", "number", "photo")]
    is_right = all(isinstance(each, int) and 1 <= each <= 2_000_000_000 for each in numbers)
    if not names or not is_right or len(str(names)) % 4 == 0:
        return names
    is_read = context.operation.method.upper() == "GET"
    right = {"job": shop["read" if is_read else "written"].pk, "number": 1, "name": "labels"}
    right["photo"] = shop["photo" if is_read else "away"]
    right["file"] = "labels.pdf" if "documents" in context.operation.path else "own.csv"
    right |= {"module": "touring-12v", "letter": "B" if is_read else "fuzz.1"}
    right["part"], right["place"] = ("fuse-t-100", "potsdam-de") if is_read else (BAR["id"], CAMP["id"])
    return {name: right[name] for name in names}


def made_right(shop, context, body):
    """Return a body that can be taken in half of the cases, made from the last state or from the one before."""
    method, path = context.operation.method.upper(), context.operation.path
    if method == "POST" and path.endswith("/photos"):
        return picture() if shop["is_valid"] and len(str(body)) % 3 else body
    if not isinstance(body, dict):
        return body
    if "text" in body and "modules" not in path:
        return job_text(shop, body, is_put=method == "PUT")
    if not shop["is_valid"] or len(str(body)) % 2:  # what is to be refused stays as it is
        return body
    own = {"parts": ("part", BAR), "places": ("place", CAMP)}
    for kind, (name, thing) in own.items():
        if name in body:
            now = Program(shop["token"]).get(f"{kind}/{thing['id']}").json()
            return {name: thing, "stamp": now.get("stamp")}
    return {"text": MODULE} if "modules" in path else body


def job_text(shop, body, *, is_put):
    """Return what is sent with half of the texts a job's."""
    if not isinstance(body["text"], str):
        return body
    now = JobEntry.objects.get(pk=shop["written"].pk).number
    text, count = text_of(shop["written"]), len(body["text"])
    body = {**body, "text": f"{text}# {count}\n"} if count % 2 else body
    said = body.get("before")
    is_right = said is None or (type(said) is int and 1 <= said <= 2_000_000_000)
    return {**body, "before": max(1, now - count % 4 // 3)} if is_put and is_right else body


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
    shop["is_valid"] = is_valid
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
