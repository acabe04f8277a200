"""``partgen schema``."""

from __future__ import annotations

import click

from partgen.cli.options import AS_JSON


@click.command()
@AS_JSON
def schema(as_json: bool) -> None:
    """Print the JSON Schema of the job file, for editors; it is JSON with or without --json."""
    from partgen.job.schema import job_schema
    from partgen.printing.text import print_json

    print_json(job_schema())
