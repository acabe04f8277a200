"""A finding's own sums."""

from dataclasses import replace

import pytest

from partgen.entries.accept import Accept
from partgen.rules import accepted
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


def test_accepted_findings_carry_the_reason_and_stop_nothing():
    failed = replace(BASE, status=Status.FAIL)
    entry = Accept.model_validate({"plate": "a/b", "rule": "web", "reason": "measured"})
    passed, first, second, other = accepted(
        [BASE, failed, replace(failed, where="slot"), replace(failed, plate="a/c")], [entry]
    )
    assert [f.accepted for f in (passed, first, second, other)] == ["", "measured", "measured", ""]
    assert not first.stops
    assert other.stops


@pytest.mark.parametrize(
    ("rule", "plate", "words"),
    [
        ("web", "a/b", "nothing there to accept; remove the entry"),
        ("wb", "a/b", "no such rule; did you mean 'web'"),
        ("web", "a/d", "no such plate; known: a/b"),
    ],
)
def test_an_entry_that_meets_nothing_is_a_finding(rule, plate, words):
    entry = Accept.model_validate({"plate": plate, "rule": rule, "reason": "measured"})
    first, last = accepted([BASE], [entry])
    assert first is BASE
    assert (last.rule, last.plate, last.status) == ("accept", plate, Status.WARN)
    assert last.note.startswith(words)
