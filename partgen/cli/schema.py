"""``partgen schema``."""

from __future__ import annotations

import click

from partgen.cli.options import AS_JSON


@click.command(short_help="What a job file may hold.")
@click.argument("table", required=False)
@AS_JSON
@click.pass_context
def schema(ctx: click.Context, table: str | None, as_json: bool) -> None:
    """Print the keys that TABLE of the job file may hold: rail, joint, sheet, load ...

    Without TABLE, or with --json, the JSON Schema of the whole file, for editors.
    """
    ctx.meta["as_json"] = as_json
    if table is not None and not as_json:
        from partgen.printing.keys import print_table

        print_table(table)
        return
    from partgen.job.schema import job_schema
    from partgen.printing.text import print_json

    print_json(job_schema())
