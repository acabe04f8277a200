"""``partgen schema``."""

from __future__ import annotations

import click


@click.command()
def schema() -> None:
    """Print the JSON Schema of the job file, for editors that complete and check it."""
    from partgen.printing.text import print_json
    from partgen.schema import job_schema

    print_json(job_schema())
