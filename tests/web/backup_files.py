"""Backups taken apart and put together again by tests."""

from __future__ import annotations

import hashlib
import json
import zipfile


def parts_of(file):
    with zipfile.ZipFile(file) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def rewritten(parts, file, changed, **said):
    """Write a backup with some parts changed, its list made to agree."""
    manifest = json.loads(parts["manifest.json"]) | said
    kept = {name: content for name, content in {**parts, **changed}.items() if content is not None}
    del kept["manifest.json"]
    manifest["contents"] = [
        {"name": name, "size_bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}
        for name, content in kept.items()
    ]
    tables = [each for each in manifest["tables"] if f"tables/{each['name']}.jsonl" in kept]
    with zipfile.ZipFile(file, "w") as archive:
        for name, content in kept.items():
            archive.writestr(name, content)
        archive.writestr("manifest.json", json.dumps({**manifest, "tables": tables}))
