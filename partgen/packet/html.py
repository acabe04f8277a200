"""HTML put together so that nothing from a job file can become markup.

Every plain ``str`` is escaped; only what these functions return goes in as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from partgen.packet.picture import BARE, INK, METAL

VOID = ("meta", "br", "hr")
# A picture of its own has fixed colours; on the page they follow light and dark.
COLOURS = {
    INK: "var(--ink)",
    METAL.split(";")[0].removeprefix("fill:"): "var(--metal)",
    BARE.split(";")[1].removeprefix("stroke:"): "var(--bare)",
    "#c8501e": "var(--mark)",
    "#a04030": "var(--mark)",
    "#b3261e": "var(--fail)",
    "#fff": "var(--card)",
    "#f3f1ec": "var(--rail)",
    "#a89a7c": "var(--bare)",
    "#b5532a": "var(--c-rust)",
    "#2a6fb5": "var(--c-blue)",
    "#7a4fa3": "var(--c-violet)",
    "#3f8f5a": "var(--c-green)",
    "#8a7a2c": "var(--c-olive)",
    "#c23b76": "var(--c-rose)",
    "#168a8a": "var(--c-teal)",
    "#4b4b4b": "var(--soft)",
}


class Html(str):
    """Text that is markup already."""

    __slots__ = ()


Content = str | Html


def inside(*content: Content) -> Html:
    """Return the pieces one after the other, plain text escaped.

    Examples:
        >>> inside("5 < 6 & ", Html("<b>so</b>"))
        '5 &lt; 6 &amp; <b>so</b>'
    """
    return Html("".join(c if isinstance(c, Html) else escape(c, quote=True) for c in content))


def tag(name: str, /, *content: Content, **attributes: str) -> Html:
    """Return an element; ``class_`` stands for ``class``, ``data_label`` for ``data-label``.

    Examples:
        >>> tag("p", "a < b", class_="note")
        '<p class="note">a &lt; b</p>'
    """
    pairs = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(value, quote=True)}"'
        for key, value in attributes.items()
    )
    end = "" if name in VOID else f"{inside(*content)}</{name}>"
    return Html(f"<{name}{pairs}>{end}")


def table(
    head: Sequence[str],
    rows: Iterable[Sequence[Content]],
    numbers: Sequence[int] = (),
    *,
    narrow: bool = False,
) -> Html:
    """Return a table that a narrow screen can show as one card for each row.

    Args:
        head: title of each column.
        rows: cells.
        numbers: columns set to the right.
        narrow: short enough to stay a table on a narrow screen.
    """

    def cells(row: Sequence[Content]) -> Iterable[Html]:
        for k, (title, cell) in enumerate(zip(head, row, strict=True)):
            yield tag("td", cell, data_label=title, class_="n" if k in numbers else "t")

    titles = [
        tag("th", title, scope="col", class_="n" if k in numbers else "t")
        for k, title in enumerate(head)
    ]
    body = [tag("tr", *cells(row)) for row in rows]
    kind = {"class_": "narrow"} if narrow else {}
    return tag("table", tag("thead", tag("tr", *titles)), tag("tbody", *body), **kind)


def bullets(items: Iterable[Content], **attributes: str) -> Html:
    """Return an unordered list."""
    return tag("ul", *(tag("li", item) for item in items), **attributes)


def section(title: str, anchor: str, *content: Content) -> Html:
    """Return a titled part of the page that the contents can point to."""
    return inside(tag("section", tag("h2", title), *content, id=anchor), Html("\n"))


def picture(svg: str, caption: Content = "", width: float = 0.0, *, kind: str = "") -> Html:
    """Return an SVG of ours on the page, in the page's colours.

    Args:
        svg: made by this package; its texts are escaped already.
        caption: below it.
        width: greatest width on paper and screen [mm]; 0 for the whole column.
        kind: class of the figure: "fine" has small letters, a narrow screen shows a part of it, to
            be pushed aside; "mount" is a section beside a finding.
    """
    for fixed, variable in COLOURS.items():
        svg = svg.replace(f'fill="{fixed}"', f'style="fill:{variable}"').replace(fixed, variable)
    size = {"style": f"max-width:{width:.0f}mm"} if width else {}
    size |= {"class_": kind} if kind else {}
    below = (tag("figcaption", caption),) if caption else ()
    return tag("figure", Html(svg.strip()), *below, **size)
