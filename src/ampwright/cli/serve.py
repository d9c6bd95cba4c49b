"""`ampwright serve`: the local web app."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["serve"]


def serve(
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="Port to answer at; 0 = any free one.")
    ] = 8760,
    data: Annotated[
        Path | None,
        typer.Option("--data", help="Folder for jobs and accounts; the user's own.", show_default=False),
    ] = None,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let the local network in; everybody has to log in.")
    ] = False,
    account: Annotated[
        str,
        typer.Option("--account", help="Make an account that may do all, ask for its password, and stop."),
    ] = "",
) -> None:
    """Open the web app in which a workshop works on its jobs, without internet.

    It answers only this machine unless --lan is given. Stop it with Ctrl+C. See docs/web.md.

    Examples: ampwright serve; ampwright serve --account Ada; ampwright serve --lan --port 8080
    """
    import gc  # noqa: PLC0415 - only here

    from ampwright.cli.quick_start import skip_unused_algebra  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.web.place import usual_folder  # noqa: PLC0415 - heavy
    from ampwright.web.serve import make_account, prepared, serve_forever  # noqa: PLC0415 - heavy

    gc.enable()  # this process lives long
    with refusing():
        place = prepared(data or usual_folder(), is_lan=lan)
        if account:
            password = typer.prompt("Password", hide_input=True, confirmation_prompt=True)
            make_account(account, password=password, role="admin")
            typer.echo(f"Made the account {account}.")
            return
        serve_forever(place, port=port, prepare=skip_unused_algebra)
