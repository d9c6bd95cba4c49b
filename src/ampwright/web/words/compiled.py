"""Catalogues as translators write them (`<language>/*.po`), compiled for Django when the app starts.

Only what is written by hand is kept beside this module; what is compiled lies in the data folder, under a name
that changes with any catalogue.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from pathlib import Path

__all__ = ["CATALOGUES", "LANGUAGES", "compiled_folder"]

CATALOGUES = Path(__file__).parent
LANGUAGES = (("en", "English"), ("de", "Deutsch"))
"""Code (ISO 639-1) and own name of each language; English is what the texts are written in."""


def compiled_folder(data: Path) -> Path:
    """Return the folder with the compiled catalogues in a data folder; they are made where missing."""
    sources = sorted(CATALOGUES.glob("*/*.po"))
    digest = hashlib.sha256()
    for path in sources:
        digest.update(path.read_bytes())
    folder = data / "words" / digest.hexdigest()[:12]
    for language in {path.parent.name for path in sources}:
        place = folder / language / "LC_MESSAGES" / "django.mo"
        if not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True)
            _write(place, _compiled(language, [path for path in sources if path.parent.name == language]))
    return folder


def _compiled(language: str, paths: list[Path]) -> bytes:
    """Return the catalogues of one language as one compiled file."""
    import io  # noqa: PLC0415 - only where something is to be compiled

    from babel.messages.catalog import Catalog  # noqa: PLC0415
    from babel.messages.mofile import write_mo  # noqa: PLC0415
    from babel.messages.pofile import read_po  # noqa: PLC0415

    whole = Catalog(locale=language)
    for path in paths:
        with path.open("rb") as stream:
            for message in read_po(stream, locale=language):
                said = message.string
                if message.id and said and (isinstance(said, str) or all(said)):
                    whole.add(message.id, said, context=message.context)
    out = io.BytesIO()
    write_mo(out, whole)
    return out.getvalue()


def _write(place: Path, content: bytes) -> None:
    """Write a file whole or not at all: another process may read it."""
    handle, name = tempfile.mkstemp(dir=place.parent)
    with os.fdopen(handle, "wb") as stream:
        stream.write(content)
    Path(name).replace(place)
