"""What every strength figure carries: a reduction where its document has one, and its label."""

import pytest

from partgen.strength.capacity import LABEL, Capacity

FIELDS = {"mode": "tear-out", "nominal": 12e3, "phi": 0.75, "clause": "J3-6", "assumptions": ""}


def test_no_allowable_without_omega_and_no_label_of_ones_own():
    assert Capacity(**FIELDS).allowable is None
    assert Capacity(**FIELDS, omega=2.0).allowable == 6e3
    assert Capacity(**FIELDS).design == 9e3
    assert Capacity(**FIELDS).label == LABEL == "screening only"
    with pytest.raises(TypeError, match="label"):
        Capacity(**FIELDS, label="tested")
