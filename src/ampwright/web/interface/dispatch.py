"""One request of another program: who asks, what for, done or refused with one record.

No cookie counts here, so no other site's page can borrow a login. At this machine, where nobody logs in,
a request without a token is taken unless a page of another site sent it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import quote

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, path
from django.utils import translation
from django.views.decorators.csrf import csrf_exempt

from ampwright.records import record
from ampwright.web.guards import address_of, local_account
from ampwright.web.interface.description import description
from ampwright.web.interface.operation import NUMBERS, Call, Operation, Reply, names_in
from ampwright.web.interface.routes import ROUTES
from ampwright.web.interface.text import body_record, json_text, query_record
from ampwright.web.interface.trouble import MEDIA_TYPE, RefusalError
from ampwright.web.models import Account
from ampwright.web.roles import may_change, may_move, may_photograph
from ampwright.web.store import log
from ampwright.web.throttle import wait_minutes
from ampwright.web.tokens import account_by_token

__all__ = ["interface_patterns"]

BODY_BYTES = 5_500_000
"""Largest JSON taken: a job file of 2 MB with every sign escaped (our own choice)."""
ALLOWED = {"look": lambda _: True, "change": may_change, "move": may_move, "photograph": may_photograph}


@record
class _At:
    """The operations at one address, by method."""

    methods: dict[str, Operation]
    """Operation by method."""


def interface_patterns() -> list[URLPattern]:
    """Return the addresses of the interface, its description and its refusal of any other address."""
    by_path: dict[str, dict[str, Operation]] = {}
    for operation in ROUTES:
        by_path.setdefault(operation.path, {})[operation.method] = operation
    found = [
        path(_address(place), _view(methods), name=f"interface-{next(iter(methods.values())).name}")
        for place, methods in by_path.items()
    ]
    described = path("openapi.json", _described, name="interface-description")
    return [described, *found, path("<path:rest>", _nowhere, name="interface-nowhere")]


def _address(place: str) -> str:
    for name in names_in(place):
        place = place.replace(f"{{{name}}}", f"<{'int' if name in NUMBERS else 'str'}:{name}>")
    return place


def _view(methods: dict[str, Operation]) -> Callable[..., HttpResponse]:
    @csrf_exempt
    @translation.override("en")  # programs read one language, whatever their users' browsers ask for
    def answered(request: HttpRequest, **words: Any) -> HttpResponse:
        try:
            return _sent(_done(request, methods, words))
        except RefusalError as refusal:
            return _refused(request, refusal, methods)

    return answered


@csrf_exempt
def _described(request: HttpRequest) -> HttpResponse:
    """Give the description of the interface."""
    try:
        _asker(request)
    except RefusalError as refusal:
        return _refused(request, refusal, {})
    if request.method not in ("GET", "HEAD"):
        return _refused(request, _wrong_method(), {"GET": ROUTES[0]})
    return HttpResponse(description(), content_type="application/json")


@csrf_exempt
def _nowhere(request: HttpRequest, rest: str) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Say that there is no such address."""
    try:
        _asker(request)
    except RefusalError as refusal:
        return _refused(request, refusal, {})
    return _refused(
        request, RefusalError(404, "there is no such address", "look at /api/v1/openapi.json"), {}
    )


def _done(request: HttpRequest, methods: dict[str, Operation], words: dict[str, Any]) -> Reply:
    account = _asker(request)
    operation = methods.get("GET" if request.method == "HEAD" else request.method or "")
    if operation is None:
        raise _wrong_method()
    if not ALLOWED[operation.needs](account):
        mend = "use a token of a person whose role allows it"
        raise RefusalError(403, f"the role {account.role} does not allow this", mend)
    query = query_record(operation.query, dict(request.GET.lists()))
    call = Call(
        account=account,
        address=address_of(request),
        path=words,
        query=query,
        body=_body(request, operation),
        if_match=request.headers.get("If-Match", ""),
    )
    return operation.act(call)


def _asker(request: HttpRequest) -> Account:
    """Return who asks, by the token alone; at this machine also whoever sits there."""
    header, address = request.headers.get("Authorization", ""), address_of(request)
    if not header and not settings.AMPWRIGHT_PLACE.is_lan:
        _refuse_other_sites(request)
        return local_account()
    scheme, _, token = header.partition(" ")
    account = account_by_token(token.strip()) if scheme.lower() == "bearer" else None
    if account is None:
        raise _stranger(address, has_tried=bool(header))
    return account


def _stranger(address: str, *, has_tried: bool) -> RefusalError:
    """Return the refusal of who is not known; wrong tokens fill the log only so far, and never shut out right ones."""
    if has_tried:
        minutes = wait_minutes("", address, what="token refused")
        if minutes:
            return RefusalError(429, "too many wrong tokens from this address", f"try again in {minutes} min")
        log("", "token refused", address=address)
    mend = "send the header Authorization: Bearer TOKEN, with a token made under Tokens that still holds"
    return RefusalError(401, "no token, or one that lets nobody in", mend)


def _refuse_other_sites(request: HttpRequest) -> None:
    """Refuse what a browser sends for a page of another site: without a token nothing else tells them apart."""
    origin = request.headers.get("Origin")
    own = f"{request.scheme}://{request.get_host()}"
    is_strange = request.headers.get("Sec-Fetch-Site", "none") not in ("none", "same-origin")
    if is_strange or (origin is not None and origin != own):
        raise RefusalError(403, "a page of another site sent this", "ask from a program, or with a token")


def _body(request: HttpRequest, operation: Operation) -> Any:
    if operation.takes is None:
        return None
    wanted = "application/octet-stream" if operation.takes is bytes else "application/json"
    if request.content_type != wanted:
        raise RefusalError(415, f"a body of the kind {wanted} is taken here", "name it as Content-Type")
    most = operation.most_bytes if operation.takes is bytes else BODY_BYTES
    content = request.read(most + 1)  # the server has taken it in; more than this is never held
    if len(content) > most:
        raise RefusalError(413, "the body is too large", f"at most {most / 1e6:g} MB are taken")
    return content if operation.takes is bytes else body_record(operation.takes, content)


def _wrong_method() -> RefusalError:
    return RefusalError(405, "this address does not know this method", "look at /api/v1/openapi.json")


def _sent(reply: Reply) -> HttpResponse:
    is_file = reply.value is None
    response = HttpResponse(
        reply.content if is_file else json_text(reply.value),
        status=reply.status,
        content_type="application/octet-stream" if is_file else "application/json",
    )
    for name, value in _headers(reply):
        response.headers[name] = value
    return response


def _headers(reply: Reply) -> Iterator[tuple[str, str]]:
    if reply.value is None:
        yield "Content-Disposition", f"attachment; filename*=UTF-8''{quote(reply.file, safe='')}"
    if reply.revision is not None:
        yield "ETag", f'"{reply.revision}"'
    if reply.location:
        yield "Location", reply.location
    if reply.retry_after_s is not None:
        yield "Retry-After", str(reply.retry_after_s)


def _refused(request: HttpRequest, refusal: RefusalError, methods: dict[str, Operation]) -> HttpResponse:
    content = json_text(refusal.told_at(request.path[:300]))
    response = HttpResponse(content, status=refusal.status, content_type=MEDIA_TYPE)
    if refusal.status == 401:
        response.headers["WWW-Authenticate"] = 'Bearer realm="Ampwright"'
    if refusal.status == 405:
        names = {*methods, "HEAD"} if "GET" in methods else set(methods)
        response.headers["Allow"] = ", ".join(sorted(names))
    if refusal.status == 429:
        response.headers["Retry-After"] = "60"
    return response
