"""Many plates of a parameter sweep in one call: the same findings as one by one, in order."""

from helpers import plate, shop

from partgen.geometry.belt import rectangle
from partgen.rules import PLATE_RULES, check_plates
from partgen.rules.finding import Status


def board(width):
    points = [(0, 0), (width, 0), (width - 10, 90), (0, 90)]
    holes = [("A", width - 30, 40, "M16"), ("B", 40, 45, "M12")]
    return plate(points, holes, [("w", rectangle(30, 20, 10, (90, 45)))])


def test_a_thousand_plates_in_one_call():
    sweep = [board(150 + 0.1 * k) for k in range(1000)]
    found = check_plates(sweep, shop())
    first, last = (check_plates([board(150 + 0.1 * k)], shop()) for k in (0, 999))
    assert found[: len(first)] == first
    assert found[-len(last) :] == last
    assert sum(f.rule == "hole-size" for f in found) == 2000
    fails = [f for f in found if f.where == "hole A to window w" and f.status is Status.FAIL]
    assert 0 < len(fails) < 1000


def test_it_runs_every_plate_rule():
    rules = {f.rule for f in check_plates([board(190)], shop())}
    assert rules <= set(PLATE_RULES)
    assert {"edge-distance", "web", "hole-clearance", "hole-size", "inside-corner"} <= rules
