"""A finding's own sums."""

from dataclasses import replace

import pytest

from partgen.rules.finding import Finding, Status, at_least

BASE = Finding(rule="web", plate="a/b", where="hole", status=Status.PASS, source="none")


@pytest.mark.parametrize(
    ("status", "accepted", "stops"),
    [
        (Status.PASS, "", False),
        (Status.WARN, "", False),
        (Status.NOT_COVERED, "", False),
        (Status.FAIL, "", True),
        (Status.FAIL, "measured on the vehicle", False),
        (Status.WARN, "measured on the vehicle", False),
    ],
)
def test_only_an_unaccepted_failure_stops(status, accepted, stops):
    assert replace(BASE, status=status, accepted=accepted).stops is stops


def test_margin_is_measured_less_required_where_both_are_there():
    assert replace(BASE, measured=9.5, required=12).margin == -2.5
    assert replace(BASE, measured=9.5).margin is None
    assert replace(BASE, required=9.5).margin is None


def test_at_least_turns_within_its_slack():
    assert at_least(12.0, 12.0) is Status.PASS
    assert at_least(12.0 - 5e-7, 12.0) is Status.PASS
    assert at_least(12.0 - 2e-6, 12.0) is Status.FAIL
    assert at_least(11, 12, Status.WARN) is Status.WARN
