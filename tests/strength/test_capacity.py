"""What every strength figure carries: a reduction where its document has one, and its label."""

import pytest

from partgen.strength.capacity import LABEL, Capacity

FIELDS = {"mode": "tear-out", "nominal": 12e3, "phi": 0.75, "clause": "J3-6", "assumptions": ""}


def test_a_document_without_omega_has_no_allowable():
    assert Capacity(**FIELDS).allowable is None
    assert Capacity(**FIELDS, omega=2.0).allowable == 6e3
    assert Capacity(**FIELDS).design == 9e3


def test_the_label_is_not_to_be_chosen():
    assert Capacity(**FIELDS).label == LABEL == "screening only"
    with pytest.raises(TypeError, match="label"):
        Capacity(**FIELDS, label="tested")
