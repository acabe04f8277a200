"""``partgen picture``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH, SET, pairs


@click.command(short_help="Dimensioned drawings of plates.")
@click.argument("job_file", type=PATH)
@click.argument("plates", nargs=-1)
@click.option("--png", "width", type=int, metavar="PIXELS", help="PNG this wide instead of SVG.")
@click.option("--out", type=PATH, help="Folder to write; default: JOB-pictures, here.")
@SET
@AS_JSON
@click.pass_context
def picture(
    ctx: click.Context,
    job_file: Path,
    plates: tuple[str, ...],
    width: int | None,
    out: Path | None,
    changes: tuple[str, ...],
    as_json: bool,
) -> None:
    """Draw PLATES of JOB_FILE (default: all) with their dimensions, one file each."""
    ctx.meta["as_json"] = as_json
    from partgen.printing.drawn import drawn_pictures
    from partgen.tasks import drawing_files

    files, stopped = drawing_files.make_pictures(job_file, pairs(changes), plates, width)
    folder = out or Path(f"{job_file.stem}-pictures")
    drawing_files.write(folder, files)
    drawn_pictures(list(files), folder, stopped=stopped, as_json=as_json)
    ctx.exit(int(stopped))
