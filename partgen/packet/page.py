"""``packet.html``: one page, nothing beside it needed, for phone, screen and paper."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from partgen import __version__
from partgen.build import Build
from partgen.cautions import CAUTIONS
from partgen.cut.kerf import kerf_text
from partgen.fit import pad_text
from partgen.measure import length_text, shown
from partgen.nest import Nest
from partgen.packet.as_built import as_built_section
from partgen.packet.findings_section import findings_section
from partgen.packet.fit_section import fit_section
from partgen.packet.fit_up import fit_up_section
from partgen.packet.hardware import Item
from partgen.packet.html import Content, Html, bullets, inside, section, table, tag
from partgen.packet.list_sections import cut_section, hardware_section, sheets_section
from partgen.packet.page_style import STYLE
from partgen.packet.plates_section import plates_section
from partgen.packet.weld_notes import weld_section
from partgen.rules.finding import Finding

FILE = "packet.html"
STOPPED = "STOPPED BY A RULE: NOT FOR CUTTING"
WHY = "A rule fails and is not accepted in the job. No cut files were written."
# No script, no address: the page can load nothing.
POLICY = "default-src 'none'; style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'"


def packet_page(
    build: Build,
    findings: Sequence[Finding],
    nests: Sequence[Nest],
    items: Sequence[Item],
    kerf: float = 0.0,
) -> bytes:
    """Return the page of a job.

    Args:
        build: mounts and plates.
        findings: what the rules say; one that stops the job stamps every page.
        nests: layouts; none if a rule stops the job.
        items: hardware to buy.
        kerf: compensated in the DXF files; 0 for nominal ones [mm].
    """
    stopped = any(f.stops for f in findings)
    parts = [
        _cautions(),
        _summary(build, nests, kerf),
        findings_section(build, findings),
        plates_section(build),
        fit_section(build),
        hardware_section(items),
        cut_section(build),
        sheets_section(nests, build.job.unit),
        weld_section(build),
        fit_up_section(build),
        as_built_section(build),
    ]
    foot = f"partgen {__version__}, from {build.job.path.name}. Screening only."
    body = tag("body", *_head(build, stopped), *parts, tag("footer", foot))
    return _document(build.job.name, body)


def _document(title: str, body: Html) -> bytes:
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", http_equiv="Content-Security-Policy", content=POLICY),
        tag("title", title),
        tag("style", Html(STYLE)),
    )
    return inside(Html("<!doctype html>\n"), tag("html", head, body, lang="en"), "\n").encode(
        "utf-8"
    )


def _head(build: Build, stopped: bool) -> list[Content]:
    links = [
        ("findings", "Findings"),
        ("plates", "Plates"),
        ("fit", "Fit"),
        ("hardware", "Hardware"),
        ("cut-list", "Cut list"),
        ("sheets", "Sheets"),
        ("weld", "Weld notes"),
        ("fit-up", "Fit-up order"),
        ("as-built", "As-built sheet"),
    ]
    if not build.mounts:
        links = [link for link in links if link[0] not in ("fit", "hardware")]
    top: list[Content] = [tag("h1", build.job.name)]
    if stopped:
        top.append(tag("p", STOPPED, ". ", WHY, class_="stop"))
        top.append(tag("div", STOPPED, class_="stamp", aria_hidden="true"))
    top.append(tag("nav", bullets(tag("a", text, href=f"#{anchor}") for anchor, text in links)))
    return top


def _cautions() -> Html:
    return section("Before you cut or weld", "cautions", bullets(CAUTIONS, class_="caution"))


def _summary(build: Build, nests: Sequence[Nest], kerf: float) -> Html:
    job, shop = build.job, build.shop
    size = "nominal, kerf not compensated"
    if kerf:
        size = f"kerf {kerf_text(kerf, job.unit)} compensated there: set none at the machine"
    sheets = sum(len(nest.layout.used) for nest in nests)
    mass = fsum(p.mass * p.count for p in build.plates)
    rows: list[tuple[Content, ...]] = [
        ("file", job.path.name),
        ("lengths", f"in {job.unit}, also in the DXF files; {size}"),
        ("cutting", f"{shop.cutting.name} ({shop.cutting.source})"),
        ("rules", shop.rule_set.title),
        ("plates", f"{sum(p.count for p in build.plates)}, {mass:.2f} kg, on {sheets} sheets"),
    ]
    for mount in build.mounts:
        fit = mount.fit
        inner, outer = pad_text(fit.inner, job.unit), pad_text(fit.outer, job.unit)
        words = (
            f"gap {shown(fit.gap, job.unit)}, spacers {inner} inner, {outer} outer, clearance "
            f"{shown(fit.clearance, job.unit)}"
        )
        rows.append((mount.name, words))
    for name, value in job.measures.items():
        rows.append((f"measure {name}", length_text(value, job.unit)))
    return section("The job", "job", table(("", ""), rows, narrow=True))
