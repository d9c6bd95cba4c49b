"""Starts the web app: tables brought up to date, calculation warmed up, then served until stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from ampwright.errors import FileError
from ampwright.web.configure import configure
from ampwright.web.place import WebPlace, place_at

__all__ = ["make_account", "prepared", "serve_forever"]

THREADS = 4
"""Requests answered at a time (our own choice: one person or a small shop)."""
REQUEST_BYTES = 210_000_000
"""Largest request taken from the line: a job with its photos; each address takes less (our own choice)."""


def prepared(data: Path, *, is_lan: bool) -> WebPlace:
    """Return the place of the app, its tables brought up to date."""
    place = place_at(data, is_lan=is_lan)
    configure(place)
    from django.core.management import call_command  # noqa: PLC0415 - only once Django is set up

    call_command("migrate", verbosity=0, interactive=False)
    from ampwright.web.backup.replace import settle  # noqa: PLC0415

    settle(place.data)  # a restore that was cut off
    call_command("clearsessions")  # logins that ended, so that they do not pile up
    return place


def make_account(name: str, *, password: str, role: str) -> None:
    """Make an account that may log in.

    Raises
    ------
    FileError
        Where name or password cannot be taken.
    """
    from django.contrib.auth.password_validation import validate_password  # noqa: PLC0415
    from django.core.exceptions import ValidationError  # noqa: PLC0415

    from ampwright.web.models import Account  # noqa: PLC0415

    try:
        validate_password(password)
    except ValidationError as error:
        raise FileError(" ".join(error.messages)) from None
    if Account.objects.filter(name__iexact=name).exists():
        raise FileError(f"there is an account '{name}' already; take another name")
    Account.objects.create_account(name, password=password, role=role)


def has_accounts() -> bool:
    """Say whether anybody can log in."""
    from ampwright.web.models import Account  # noqa: PLC0415
    from ampwright.web.roles import LOCAL_NAME  # noqa: PLC0415

    return Account.objects.filter(is_active=True).exclude(name=LOCAL_NAME).exists()


def serve_forever(place: WebPlace, *, port: int, prepare: Callable[[], None]) -> None:
    """Serve until stopped; says where on the output. The calculation's process calls `prepare` first."""
    from django.core.wsgi import get_wsgi_application  # noqa: PLC0415 - only once Django is set up
    from waitress import create_server  # noqa: PLC0415

    from ampwright.web.app import the_desk  # noqa: PLC0415

    if place.is_lan and not has_accounts():
        raise FileError("nobody could log in: make an account first, with --account NAME")
    host = "0.0.0.0" if place.is_lan else "127.0.0.1"  # noqa: S104 - the network is what --lan asks for
    try:
        server = create_server(
            get_wsgi_application(),
            host=host,
            port=port,
            threads=THREADS,
            max_request_body_size=REQUEST_BYTES,
            ident=None,
            clear_untrusted_proxy_headers=True,
        )
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"port {port} cannot be used ({reason}); choose another one with --port") from error
    names = [place.hosts[len(place.hosts) - 1], "localhost"] if place.is_lan else ["127.0.0.1"]
    for name in names:
        print(f"Ampwright: http://{name}:{server.effective_port}/", flush=True)  # noqa: T201 - the way in
    the_desk().worker.begin_with(prepare)
    threading.Thread(target=_warm_up, name="warming up", daemon=True).start()
    server.run()


def _warm_up() -> None:
    """Have the calculation compiled before anybody asks."""
    from ampwright.web.app import the_desk  # noqa: PLC0415
    from ampwright.web.reckoning import warm_up  # noqa: PLC0415
    from ampwright.web.store import starting_texts  # noqa: PLC0415

    the_desk().worker.call(warm_up, starting_texts()["start"][1])
