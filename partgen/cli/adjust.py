"""``partgen adjust``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH, pairs
from partgen.errors import PartgenError


@click.command(short_help="Change a measure: what to keep, cut again, buy.")
@click.argument("job_file", type=PATH)
@click.argument("changes", nargs=-1, metavar="[NAME=VALUE]...")
@click.option("--save", is_flag=True, help="Write the values into the job file; comments stay.")
@click.option("--sweep", "spec", metavar="NAME=FROM..TO:STEP", help="Try a whole range instead.")
@click.option("--out", type=PATH, help="Folder for the sweep; default: JOB-sweep, here.")
@AS_JSON
@click.pass_context
def adjust(
    ctx: click.Context,
    job_file: Path,
    changes: tuple[str, ...],
    save: bool,
    spec: str | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Change measures of JOB_FILE: what to keep, what to cut again, which bolt to buy.

    Nothing is written unless you say --save. Example: partgen adjust job.toml joint_width="70 mm"
    """
    ctx.meta["as_json"] = as_json
    from partgen.printing.compared import compared
    from partgen.printing.swept import swept
    from partgen.tasks import adjusting

    values = pairs(changes, "adjust")
    if spec is None:
        found = adjusting.adjust(job_file, values)
        if save:
            adjusting.save(job_file, values)
        compared(found, job_file if save else None, as_json=as_json)
        ctx.exit(int(found.stops))
    if save:
        raise PartgenError("--save with --sweep: a range cannot be saved; leave one of them out")
    folder = out or Path(f"{job_file.stem}-sweep")
    result = adjusting.sweep_files(job_file, spec, values)
    adjusting.write_sweep(result, folder)
    swept(result, folder, as_json=as_json)
