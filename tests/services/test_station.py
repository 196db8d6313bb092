"""The station at work: who may decide, what a failing printer leaves behind, what a restart keeps."""

from datetime import timedelta

import pytest

from station.care.alarms import Clearing, open_alarms
from station.care.extension import Extending
from station.care.words import Boards, Card, Disposition, Limit
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.services.outcome import Refusal
from tests.care.bench import LEAD, LEAD_PIN, Bench

HOUR = timedelta(hours=1)


class NoPaper:
    """A label printer that has run out."""

    name = "no paper"

    def send(self, content: LabelContent) -> str:
        """Refuse every label."""
        raise LabelFault("paper", f"The label printer has no paper for {content.paste}.")


def named(bench: Bench) -> list[str]:
    return [fact.body.NAME for fact in bench.journal.facts()]


@pytest.mark.parametrize(
    ("badge", "pin", "code"),
    [
        ("P20", "2021", "pin-wrong"),
        ("P12", "2020", "needs-role"),
        ("P30", "3030", "needs-role"),
        ("P99", "1", "badge-unknown"),
    ],
)
def test_a_limit_is_extended_by_a_proved_shift_lead_only_and_nothing_else_is_recorded(
    badge: str, pin: str, code: str
) -> None:
    bench = Bench()
    jar = bench.on_line()
    before = named(bench)
    with pytest.raises(Refusal) as refused:
        bench.station.extend(Extending(jar, Limit.OPEN, HOUR, "C-1"), badge, pin)
    assert refused.value.code == code
    assert [name for name in named(bench) if name != "pin-refused"] == before


def test_an_extension_gives_its_verdict_and_its_fact() -> None:
    bench = Bench()
    jar = bench.on_line()
    outcome = bench.station.extend(Extending(jar, Limit.OPEN, HOUR, "C-1"), LEAD, LEAD_PIN)
    assert outcome.verdict is not None
    assert outcome.verdict.code == "extended"
    assert [(fact.body.NAME, fact.who) for fact in outcome.facts] == [("limit-extended", LEAD)]


def refused(bench: Bench, asked: Extending, pin: str) -> str:
    with pytest.raises(Refusal) as caught:
        bench.station.extend(asked, LEAD, pin)
    return caught.value.code


def test_wrong_pins_are_slowed_down_and_the_fifth_locks_even_the_right_one_out_also_after_a_restart() -> None:
    bench = Bench()
    asked = Extending(bench.on_line(), Limit.OPEN, HOUR, "C-1")
    answers = [refused(bench, asked, "0000") for _ in range(3)]
    assert answers == ["pin-wrong", "pin-wrong", "pin-wait"]
    for _ in range(3):
        bench.later(1.1)
        assert refused(bench, asked, "0000") == "pin-wrong"
    bench.restart()
    assert refused(bench, asked, LEAD_PIN) == "pin-locked"
    assert "pin-proved" not in named(bench)
    bench.later(15)
    assert bench.station.extend(asked, LEAD, LEAD_PIN).verdict is not None
    assert named(bench)[-2:] == ["pin-proved", "limit-extended"]


def test_a_pin_on_record_is_never_the_pin_itself() -> None:
    bench = Bench()
    asked = Extending(bench.on_line(), Limit.OPEN, HOUR, "C-1")
    refused(bench, asked, "9182")
    told = [fact.body for fact in bench.station.ledger.history("person", LEAD)]
    assert "9182" not in repr(told)


def test_a_release_needs_a_hold_that_stands_and_a_reason() -> None:
    bench = Bench()
    jar = bench.cold(leaking=True)
    hold = bench.container(jar).holds[0].key
    for key, note, code in (("none", "dry", "no-hold"), (hold, " ", "no-reason")):
        with pytest.raises(Refusal) as refused:
            bench.station.release(jar, key, note, LEAD, LEAD_PIN)
        assert refused.value.code == code
    assert bench.container(jar).held


def test_without_paper_the_clocks_run_and_the_times_are_to_be_copied_by_hand() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.station.target = NoPaper()
    verdict = bench.later(11).scan(jar, "FRIDGE")
    assert verdict.code == "taken-out"
    assert bench.container(jar).earliest_use is not None
    assert named(bench)[-1] == "label-failed"
    assert "label-sent" not in named(bench)[named(bench).index("taken-out") :]


def test_a_container_seen_warm_days_after_its_put_away_still_gets_a_label() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(4 * 24 * 60).scan(jar, "LINE1")  # more minutes than the code has room for before earliest use
    bench.scan(jar, "FRIDGE")
    assert named(bench)[-1] == "label-sent"


def test_br_79_what_was_acknowledged_stays_so_over_a_restart_and_the_rest_still_sounds() -> None:
    bench = Bench()
    bench.on_line("LINE1")
    bench.on_line("LINE2")
    bench.later(9 * 60)
    first, second = (alarm.id for alarm, _ in open_alarms(bench.floor))
    bench.station.acknowledge((first,), "P12")
    bench.restart()
    seen = {alarm.id: alarm.acknowledged_by for alarm, _ in open_alarms(bench.floor)}
    assert seen == {first: "P12", second: None}


def test_a_clock_that_moved_is_noticed_before_anything_is_dated_by_it() -> None:
    bench = Bench()
    bench.clock.step(3 * HOUR)
    bench.station.read_room(22, 45, None)
    told = named(bench)
    assert told.index("clock-stepped") < told.index("room-read")


def test_a_hold_reaches_the_bead_in_the_same_act() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.badge(LEAD, "DESK")
    bench.scan(jar, "DESK")
    bench.card(Card.HOLD, "DESK")
    assert [alarm.limit for alarm, _ in open_alarms(bench.floor)] == [Limit.HOLD]


def test_a_bounce_keeps_what_the_first_read_left_ready() -> None:
    bench = Bench()
    jar, other = bench.on_line("LINE2"), bench.on_line("LINE1")
    bench.later(1).scan(jar, "LINE1")
    bench.scan(jar, "LINE1")
    bench.card(Card.DISCARD, "LINE1")
    bead = bench.position("1").bead
    assert bead is not None
    assert [portion.container for portion in bead.portions] == [other]


def test_clearing_is_in_the_record_with_the_lead_who_did_it() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(481).tag_card("1", Card.REMOVE, "LINE1")
    alarm, _ = open_alarms(bench.floor)[0]
    bench.station.clear(Clearing(alarm.id, Disposition.BEAD_OFF, "late", Boards.QUARANTINED), LEAD, LEAD_PIN)
    assert bench.station.ledger.alarms[alarm.id].cleared_by == LEAD
