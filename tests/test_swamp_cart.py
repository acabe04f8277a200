"""The swamp cart: the numbers the demo must give, worked by hand.

Need: 66.4 + 0.794 (1/32 in) + 2 x 0.08 - 50 = 17.354. Joint 3 mm outward: 6 inside and 6 + 6 outside
is 18, gap 68. Ear from the weld (8 corner + 5 leg = 13 above the edge) to the bolt, 64 below the
edge there (12 + 52): 77; a lean of 0.1 degrees takes 2 x 77 x sin 0.1 = 0.269.
"""

import json
from math import pi
from pathlib import Path

import pytest

from partgen.tasks.making import make
from partgen.tasks.measuring import measuring

CART = Path(__file__).parents[1] / "demo_parts" / "swamp-cart.toml"


@pytest.fixture(scope="module")
def data():
    return json.loads(make(CART, {}, (), "R2000").files["job.json"])


def test_fit(data):
    fit = data["mounts"][0]["fit"]
    assert fit["need"] == pytest.approx(17.354, abs=0.001)
    assert (fit["gap"], fit["spacer_plates"]) == (68, [[6], [6, 6]])
    assert fit["clearance"] == pytest.approx(1.6)
    assert fit["weld_pull_in"] == pytest.approx(0.269, abs=0.001)
    assert fit["final_clearance"] == pytest.approx(1.6 - 0.16 - 0.269, abs=0.001)
    assert fit["joint_shift"] == 3
    assert data["mounts"][0]["dummy_spacer"]["length"] == 68


def test_bolt_in_hand(data):
    """Grip 3 + 6 + 66.4 + 6 + 3 = 84.4; the plain part 87 passes it by 2.6: one washer more."""
    bolt = data["mounts"][0]["bolt"]
    assert (bolt["length"], bolt["thread_start"], bolt["extra_washers"]) == (130, 87, 1)
    assert bolt["grip"] == pytest.approx(84.4)
    assert data["mounts"][0]["bolt_in_hand"] == bolt


def test_pads(data):
    pads = {p["name"]: (p["count"], p["thickness"]) for p in data["plates"] if "pad" in p["name"]}
    assert pads == {"rail-pad/inner": (2, 6), "rail-pad/outer": (4, 6)}


def test_cost_is_the_sum_of_its_prices(data):
    t = data["totals"]
    assert t["cost"] == pytest.approx(
        2.4 * t["mass_kg"] + 3.1 * t["cut_length"] / 1000 + 0.2 * t["pierces"]
    )
    drilled = 4 * pi / 4 * 17**2 * 6 * 7.85e-6  # the pivots: cut as marks, drilled on the bench
    finished = sum(p["mass_kg"] * p["count"] for p in data["plates"])
    assert t["mass_kg"] == pytest.approx(finished + drilled)
    assert (t["currency"], t["not_in_cost"]) == ("crowns", ["piece"])


def test_every_rule_passes(data):
    assert {f["status"] for f in data["findings"]} == {"pass"}


def test_the_net_agrees_and_is_nearly_square():
    net = measuring(CART).nets["frame"]
    assert net.consistent
    assert net.spare == 3
    assert abs(net.skew) < 0.1
