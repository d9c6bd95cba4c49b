"""`ampwright demo`: the main job on a shipped demonstration job."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["demo"]


def demo(
    folder: Annotated[Path, typer.Option("--to", help="Folder for the job file and the report.")] = Path(
        "ampwright-demo"
    ),
) -> None:
    """Check a shipped demonstration job and write its report.

    Example: ampwright demo
    """
    from importlib.resources import files  # noqa: PLC0415 - only here

    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - only here
    from ampwright.cli.run import checked, written  # noqa: PLC0415 - heavy
    from ampwright.cli.show import shown  # noqa: PLC0415 - heavy
    from ampwright.errors import FileError  # noqa: PLC0415 - only here

    name = "night-survey-van"
    text = (files("ampwright") / "examples" / f"{name}.toml").read_text(encoding="utf-8")
    job, report = folder / f"{name}.toml", folder / f"{name}.pdf"
    with refusing():
        try:
            folder.mkdir(parents=True, exist_ok=True)
            job.write_text(text, encoding="utf-8", newline="\n")
        except OSError as error:
            reason = error.strerror or "unknown reason"
            raise FileError(f"{folder}: cannot be written ({reason}); use --to FOLDER") from error
    answer = checked(job)
    written(answer, report)
    shown(answer, every=False, report=report)
