"""Time, cost and tolerance: hand sums, and ISO 9013 as printed."""

from dataclasses import replace

import pytest
from helpers import plate

from partgen.cut.deviation import deviation
from partgen.cut.effort import effort
from partgen.cut.loop import lying
from partgen.cut.plan import Way, plan
from partgen.cut.ready import ready
from partgen.cut.tolerance import tolerances
from partgen.entries.cutting import Feed, cutting
from partgen.entries.hole_policy import HolePolicy
from partgen.entries.prices import Prices
from partgen.errors import ProfileError
from partgen.job.build import build
from partgen.job.job import load_job

PROCESS = cutting("plasma-65a")
SQUARE = plate([(30, 40), (90, 40), (90, 100), (30, 100)])


def test_time_and_cost_by_hand():
    """240 mm at 2400 mm/min is 6 s; pierce 0.4 + lift 1.5 s; 50 mm at 10 m/min is 0.3 s."""
    cut = plan([lying(SQUARE)], PROCESS, Way())
    found = effort(
        cut,
        PROCESS.model_copy(update={"cost_per_hour": 60.0}),
        6.0,
        Prices(pierce=0.05, cut_per_metre=2.0),
    )
    assert found.cutting == pytest.approx(6.0)
    assert found.seconds == pytest.approx(6.0 + 1.9 + 0.3)
    assert found.cost == pytest.approx(8.2 / 3600 * 60 + 0.05 + 0.24 * 2)
    assert effort(cut, PROCESS, 6.0, Prices()).cost is None


def test_feeds_lie_between_the_rows_and_never_beyond():
    at = PROCESS.feed_at(8)
    assert (at.speed, at.pierce) == pytest.approx(((2400 + 1250) / 2, 0.6))
    assert PROCESS.feed_at(6) == Feed(thickness=6, speed=2400, pierce=0.4)
    assert PROCESS.feed_at(12) is None
    assert PROCESS.feed_at(2.9) is None
    assert effort(plan([lying(SQUARE)], PROCESS, Way()), PROCESS, 12, Prices()).seconds is None


def test_feeds_out_of_order_are_refused():
    rows = [{"thickness": t, "speed": 1000, "pierce": 0.5} for t in (6, 3)]
    with pytest.raises(ProfileError, match="thinnest plate to the thickest"):
        cutting("plasma-65a", {"feed": rows})


@pytest.mark.parametrize(
    ("size", "thickness", "grade", "limit"),
    [(17, 6, 2, 0.9), (35, 6, 2, 0.9), (34.99, 8, 2, 1.1), (35, 8, 2, 1.3), (320, 6, 2, 1.2),
     (58, 6, 1, 0.25), (124.9, 10.5, 1, 0.4), (9, 3.15, 2, 0.6), (9, 3.16, 2, 0.8),
     (2, 8, 2, None), (50, 25, 2, None), (4000, 6, 2, None)],
)  # fmt: skip
def test_limit_deviations_of_iso_9013(size, thickness, grade, limit):
    """ISO 9013:2017, limit deviations of classes 1 and 2, typed from a printed copy."""
    found, source = deviation(size, thickness, grade)
    assert found == limit
    assert source.startswith(f"ISO 9013 tolerance class {grade}")


def test_tolerance_against_what_the_fit_needs(request):
    """A pivot of M16 that is cut all the same: 17 mm, 16 at least and 17.5 (ISO 273) at most."""
    job = load_job(request.config.rootpath / "demo_parts" / "hill-trial-buggy.toml")
    cut = HolePolicy(plate="lower-front-mount", hole="joint", policy="cut")
    made = build(replace(job, holes=(cut,)))
    rows = {(t.plate, t.what): t for t in tolerances(ready(made))}
    hole = rows["lower-front-mount/inner/left", "hole joint"]
    assert (hole.nominal, hole.need) == (17, pytest.approx(0.5))
    assert hole.verdict == "more than the fit: drill or ream it"
    web = rows["web/gusset/left", "width"]
    assert (web.deviation, web.need) == (0.9, pytest.approx(made.mounts[0].fit.clearance))
    assert rows["rail-spacer/pad", "width"].verdict == "nothing hangs on it here"
    shrunk = replace(made.shop, cutting=PROCESS.model_copy(update={"hole_error": 0.7}))
    worse = {(t.plate, t.what): t for t in tolerances(ready(replace(made, shop=shrunk)))}
    worse = worse["lower-front-mount/inner/left", "hole joint"]
    assert worse.need == pytest.approx(17 - 0.7 - 16)
    laser = replace(made.shop, cutting=PROCESS.model_copy(update={"tolerance_class": 1}))
    better = {(t.plate, t.what): t for t in tolerances(ready(replace(made, shop=laser)))}
    assert (
        better["lower-front-mount/inner/left", "hole joint"].verdict == "within the fit's clearance"
    )
    drilled = tolerances(ready(replace(made, job=job)))
    assert not [t for t in drilled if t.what.startswith("hole")]
