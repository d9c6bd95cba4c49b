"""`ampwright backup` and `ampwright restore`: all a workshop has kept, as one file and back."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["backup", "restore"]


def backup(
    file: Annotated[Path, typer.Argument(help="File to write (ZIP).", show_default=False)],
    data: Annotated[
        Path | None,
        typer.Option("--data", help="Folder of the web app; the user's own.", show_default=False),
    ] = None,
) -> None:
    """Write all that the web app has kept to one file, while it goes on.

    The file is read back before it gets its name. See docs/backup.md for what is in it.

    Example: ampwright backup workshop-2026-12-01.zip
    """
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.errors import FileError  # noqa: PLC0415 - heavy
    from ampwright.web.place import usual_folder  # noqa: PLC0415 - heavy
    from ampwright.web.serve import prepared  # noqa: PLC0415 - heavy

    with refusing():
        folder = data or usual_folder()
        if not any((folder / name).exists() for name in ("ampwright.sqlite3", "web.toml")):
            raise FileError(f"{folder}: there is no web app's folder; name it with --data")
        place = prepared(folder, is_lan=False)
        from ampwright.web.backup.make import write_backup  # noqa: PLC0415 - once Django is set up

        manifest = write_backup(file, place.data)
    counts = ", ".join(f"{table.row_count} {table.name}" for table in manifest.tables)
    typer.echo(f"Wrote {file} and read it back: {counts}, {len(manifest.contents)} parts.")


def restore(
    file: Annotated[Path, typer.Argument(help="Backup (ZIP).", show_default=False)],
    data: Annotated[Path, typer.Option("--data", help="Folder to make the workshop in.", show_default=False)],
    replace: Annotated[
        bool, typer.Option("--replace", help="Set aside what is in the folder, under another name.")
    ] = False,
) -> None:
    """Make a workshop of a backup: checked first, compared at the end, and only then put in place.

    Stop the web app first where it works on the same folder.

    Example: ampwright restore workshop-2026-12-01.zip --data new-folder
    """
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.web.backup.restore import restore_to  # noqa: PLC0415 - heavy

    with refusing():
        done = restore_to(file, data, is_replacing=replace)
    typer.echo(f"Restored the workshop of {done.manifest.made_at} to {done.folder}.")
    for table in done.manifest.tables:
        typer.echo(f"  {table.name:12} {table.row_count:8} rows, as in the backup")
    typer.echo(f"  {done.revision_count} texts and {done.file_count} files agree with their hashes.")
    if done.before is not None:
        typer.echo(f"  What was there before is in {done.before}.")
    typer.echo("Tokens of programs are not in a backup: make new ones. Everybody has to log in anew.")
