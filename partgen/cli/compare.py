"""``partgen compare``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH


@click.command(short_help="Two job files: what to keep, cut again, buy.")
@click.argument("first", type=PATH)
@click.argument("second", type=PATH)
@AS_JSON
@click.pass_context
def compare(ctx: click.Context, first: Path, second: Path, as_json: bool) -> None:
    """Compare two job files: what to keep, what to cut again, which bolt to buy."""
    ctx.meta["as_json"] = as_json
    from partgen.printing.compared import compared
    from partgen.tasks import adjusting

    found = adjusting.compare_files(first, second)
    compared(found, None, as_json=as_json)
    ctx.exit(int(found.stops))
