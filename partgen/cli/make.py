"""``partgen make``."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from partgen.cli.options import AS_JSON, FRESH, PATH, SECONDS, SET, VERSION, cut_options, pairs


@click.command(short_help="Everything in a job: plates, sheets, lists.")
@click.argument("job_file", type=PATH)
@click.option("--out", type=PATH, help="Folder to write; default: JOB-cut, here.")
@SET
@click.option("--only", multiple=True, metavar="PART", help="Make this part only; repeatable.")
@VERSION
@SECONDS
@FRESH
@cut_options
@AS_JSON
@click.pass_context
def make(
    ctx: click.Context,
    /,
    job_file: Path,
    out: Path | None,
    changes: tuple[str, ...],
    only: tuple[str, ...],
    version: Any,
    seconds: float | None,
    fresh: bool,
    as_json: bool,
    **cut: Any,
) -> None:
    """Make everything in JOB_FILE: plates, sheets, lists.

    A failing rule stops the cut files; the lists are written all the same and say so.
    """
    ctx.meta["as_json"] = as_json
    from partgen.printing.made import made as show
    from partgen.printing.progress import progress
    from partgen.sheets.cut_plans import Asked
    from partgen.sheets.searching import Searching
    from partgen.tasks import making

    folder = out or Path(f"{job_file.stem}-cut")
    with progress() as told:
        searching = Searching(seconds, told, fresh=fresh)
        asked = Asked(**cut)
        made = making.make(job_file, pairs(changes), only, version, folder, asked, searching)
    making.write(made, folder)
    show(made, folder, as_json=as_json)
    ctx.exit(int(made.stopped))
