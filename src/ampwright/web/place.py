"""Where the web app lives: its data folder, its secret, its own settings file, the names it answers to."""

from __future__ import annotations

import os
import secrets
import socket
from pathlib import Path
from typing import Annotated

from annotated_types import Ge, Gt, Le

from ampwright.errors import FileError, JobError
from ampwright.records import record
from ampwright.toml_positions import read_toml
from ampwright.validation import problems_from, validated
from ampwright.web.worker import REST_S

__all__ = ["PostgresServer", "WebFile", "WebPlace", "place_at", "usual_folder"]

SETTINGS_FILE = "web.toml"
SETTINGS_FILE_BYTES = 100_000
"""Largest settings file read (our own choice)."""
LOCAL_NAMES = ("localhost", "127.0.0.1", "[::1]")
Port = Annotated[int, Ge(0), Le(65535)]


@record
class PostgresServer:
    """A PostgreSQL database in place of the file in the data folder."""

    name: str
    """Name of the database."""
    user: str = ""
    """Who logs in; empty = the user of this machine."""
    password: str = ""
    """Password; empty = as the server lets in."""
    host: str = ""
    """Machine or folder of its socket; empty = the usual socket."""
    port: Port = 5432
    """Port of the server."""


@record
class WebFile:
    """The file `web.toml` in the data folder; it may be absent."""

    hosts: tuple[str, ...] = ()
    """Further names of this machine under which the app answers in the local network."""
    postgresql: PostgresServer | None = None
    """Database server; absent = a file in the data folder."""
    rest_s: Annotated[float, Gt(0), Le(1e6)] = REST_S
    """Time without a question after which the calculation's process ends and gives its memory back."""


@record
class WebPlace:
    """One running web app: where its data are and who reaches it."""

    data: Path
    """Folder of the database and of the files of jobs."""
    is_lan: bool
    """True where others in the local network reach it; then everybody logs in."""
    secret: str
    """Key for signing sessions."""
    hosts: tuple[str, ...]
    """Names under which it answers."""
    postgresql: PostgresServer | None
    """Database server; None = a file in the data folder."""
    rest_s: float = REST_S
    """Time without a question after which the calculation's process ends."""


def usual_folder() -> Path:
    """Return the folder for the data where none is named."""
    chosen = os.environ.get("AMPWRIGHT_DATA_DIR")
    if chosen:
        return Path(chosen)
    from platformdirs import user_data_path  # noqa: PLC0415 - not needed when the folder is given

    return user_data_path("ampwright", appauthor=False)


def place_at(data: Path, *, is_lan: bool) -> WebPlace:
    """Return the place of the web app in a data folder, which is made where missing.

    Raises
    ------
    FileError
        Where the folder cannot be used.
    JobError
        Where its settings file is wrong.
    """
    try:
        (data / "jobs").mkdir(parents=True, exist_ok=True)
        data.chmod(0o700)
        secret = _secret(data / "secret")
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"{data}: cannot be used for the data ({reason}); choose another folder") from error
    written = _web_file(data / SETTINGS_FILE)
    hosts = (*LOCAL_NAMES, *_own_names(), *written.hosts) if is_lan else LOCAL_NAMES
    return WebPlace(
        data=data.resolve(),
        is_lan=is_lan,
        secret=secret,
        hosts=hosts,
        postgresql=written.postgresql,
        rest_s=written.rest_s,
    )


def _web_file(path: Path) -> WebFile:
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    if not path.exists():
        return WebFile()
    raw, text = read_toml(path, max_bytes=SETTINGS_FILE_BYTES)
    try:
        return validated(WebFile, raw)
    except ValidationError as error:
        raise JobError(str(path), tuple(problems_from(error, raw, kind=WebFile, text=text))) from None


def _secret(path: Path) -> str:
    """Return the key, made once and readable by its owner alone."""
    if not path.exists():
        made = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(made, "w", encoding="ascii") as stream:
            stream.write(secrets.token_urlsafe(48))
    return path.read_text(encoding="ascii")


def _own_names() -> tuple[str, ...]:
    """Return this machine's names and addresses in its network; sends nothing."""
    name = socket.gethostname().lower()
    found = [name, f"{name}.local"]
    try:
        found += [str(entry[4][0]) for entry in socket.getaddrinfo(name, None, socket.AF_INET)]
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect(
                ("192.0.2.1", 9)
            )  # a documentation address (RFC 5737): picks the own address, sends nothing
            found.append(str(probe.getsockname()[0]))
    except OSError:  # no network: the names alone
        pass
    return tuple(dict.fromkeys(found))
