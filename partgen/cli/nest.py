"""``partgen nest``."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from partgen.cli.options import AS_JSON, FRESH, PATH, SECONDS, VERSION, cut_options, pairs


@click.command(short_help="Lay out jobs and plain DXF files on sheets.")
@click.argument("files", nargs=-1, required=True, type=PATH)
@click.option("--sheet", "sizes", multiple=True, required=True, metavar="WxH",
              help="Sheet size, 1250x2500 or 48x96in; repeatable.")  # fmt: skip
@click.option("--sheets", "sheet_count", default=1, show_default=True,
              help="Sheets of each size, for every thickness and material.")  # fmt: skip
@click.option("--plate", help="What DXF files that do not say it are cut from, as '6 mm S355'.")
@click.option("--cutting", metavar="PROFILE", help="Cutting profile, or a file of your own; "
              "default the jobs'.")  # fmt: skip
@click.option("--count", "counts", multiple=True, metavar="FILE=N",
              help="Cut N of what FILE holds; default 1, or its own count.")  # fmt: skip
@click.option("--unit", type=click.Choice(["mm", "in"]),
              help="Unit of bare sizes and of the DXF written; default the sheet's.")  # fmt: skip
@click.option("--file-unit", type=click.Choice(["mm", "in"]),
              help="Unit of DXF files that name none.")  # fmt: skip
@click.option("--gap", help="Distance between plates; default the cutting profile's.")
@click.option("--margin", help="Distance from the sheet's edge; default the profile's.")
@click.option(
    "--out", type=PATH, default=Path("nested"), show_default=True, help="Folder to write."
)
@VERSION
@SECONDS
@FRESH
@cut_options
@AS_JSON
@click.pass_context
def nest(ctx: click.Context, /, as_json: bool, out: Path, seconds: float | None,
         fresh: bool, **options: Any) -> None:  # fmt: skip
    """Lay out FILES, jobs or plain DXF, on sheets; one DXF for each sheet used.

    Plates of different thickness or material lie on sheets of their own. What has not changed
    since the last time lies as it lay then.
    """
    ctx.meta["as_json"] = as_json
    from partgen.printing.nested import nested
    from partgen.printing.progress import progress
    from partgen.sheets.cut_plans import Asked
    from partgen.sheets.searching import Searching
    from partgen.tasks import nesting

    options["counts"] = pairs(options["counts"], "--count")
    with progress() as told:
        asked = Asked(**{key: options.pop(key) for key in Asked.__dataclass_fields__})
        request = nesting.Request(**options)
        searching = Searching(seconds, told, fresh=fresh)
        result = nesting.nest_files(request, searching, asked, out)
    nesting.write(result, out)
    nested(result, out, as_json=as_json)
