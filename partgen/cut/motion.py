"""A cutting plan as a motion program: words of ISO 6983-1 / RS-274, arcs as arcs.

G0 travel, G1 lines, G2 and G3 arcs with the centre from their start (I, J), G20 or G21, G40 (no
offset in the control: the kerf is in the path), G90, M3 and M5 torch, G4 pierce. Marks are not in
it; text and drill centres need another tool.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from partgen.cautions import ON_PAPER, TORCH_OFF
from partgen.cut.plan import Cut, Plan
from partgen.cut.post import Post
from partgen.entries.cutting import Feed
from partgen.geometry.chain import halves
from partgen.geometry.segment import Point, Segment
from partgen.measure import kerf_text, per_unit

PIERCE_PLACES = 2


def program(plan: Plan, post: Post, feed: Feed, *, unit: str, comments: Iterable[str]) -> bytes:
    """Return a whole motion program.

    Args:
        plan: what is cut, compensated, with leads.
        post: the control's words.
        feed: speed and pierce.
        unit: of the job, "mm" or "in".
        comments: lines at the head of the program.
    """
    used = unit if post.unit == "job" else post.unit
    words = _Words(post, used)
    head = [
        TORCH_OFF,
        ON_PAPER,
        *comments,
        f"unit: {used}; kerf {kerf_text(plan.way.kerf, used)} is in the path: "
        "no offset in the control",
        "zero: lower left corner of the sheet; pierce height and arc voltage are the control's",
        f"post: {post.name}",
    ]
    lines = [words.comment(text) for text in head]
    lines += ["G21" if used == "mm" else "G20", "G40", "G90", *post.begin]
    for number, cut in enumerate(plan.cuts, 1):
        lines += _cut(cut, number, words, feed)
    return ("\n".join([*lines, post.torch_off, *post.end]) + "\n").encode("ascii", "replace")


def _cut(cut: Cut, number: int, words: _Words, feed: Feed) -> Iterator[str]:
    yield words.comment(f"cut {number}: {cut.loop.label}")
    for run in cut.passes:
        chain = halves(run.chain)
        yield f"G0 {words.point(chain[0].start)}"
        yield words.post.torch_on
        yield words.post.dwell.replace("{seconds}", f"{feed.pierce:.{PIERCE_PLACES}f}")
        speed = f" F{words.rounded(feed.speed, 1)}"
        for segment in chain:
            yield words.move(segment) + speed
            speed = ""
        yield words.post.torch_off


class _Words:
    """Numbers and motions as text in one unit."""

    def __init__(self, post: Post, unit: str) -> None:
        self.post = post
        self._scale = per_unit(unit)
        self._places = post.places + (unit == "in")

    def comment(self, text: str) -> str:
        """Return a comment line; nothing in it can end it early."""
        before, after = self.post.comment
        plain = "".join(c if c.isprintable() and c not in "()" else " " for c in text)
        return f"{before}{plain[:120]}{after}"

    def rounded(self, mm: float, places: int) -> str:
        """Return a length in the program's unit."""
        return f"{round(mm / self._scale, places) + 0.0:.{places}f}"

    def point(self, at: Point) -> str:
        """Return a place."""
        return f"X{self.rounded(at[0], self._places)} Y{self.rounded(at[1], self._places)}"

    def move(self, s: Segment) -> str:
        """Return a line or an arc to the segment's end."""
        if not s.bulge:
            return f"G1 {self.point(s.end)}"
        (cx, cy), code = s.centre, "G3" if s.bulge > 0 else "G2"
        i, j = (self.rounded(v, self._places) for v in (cx - s.x0, cy - s.y0))
        return f"{code} {self.point(s.end)} I{i} J{j}"
