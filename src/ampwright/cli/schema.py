"""`ampwright schema`: the JSON Schema of a job file."""

from __future__ import annotations

import typer

__all__ = ["schema"]


def schema() -> None:
    """Print the JSON Schema of a job file, for editors and other programs.

    Example: ampwright schema > job.schema.json
    """
    import json  # noqa: PLC0415 - only here

    from ampwright.job.schema import job_schema  # noqa: PLC0415 - heavy

    typer.echo(json.dumps(job_schema(), indent=2, ensure_ascii=False))
