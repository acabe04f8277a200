"""``partgen fit``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH, SET, pairs


@click.command(short_help="The sum through each mount's bolt.")
@click.argument("job_file", type=PATH)
@SET
@AS_JSON
@click.pass_context
def fit(ctx: click.Context, job_file: Path, changes: tuple[str, ...], as_json: bool) -> None:
    """Show the sum through each mount's bolt: clearance, spacers, shims, dummy, bolt lengths."""
    ctx.meta["as_json"] = as_json
    from partgen.job.build import build
    from partgen.job.job import load_job
    from partgen.printing.fit import fit as show

    show(build(load_job(job_file, pairs(changes))), as_json=as_json)
