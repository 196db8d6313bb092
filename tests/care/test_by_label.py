"""A printer cut off from the others judges by the label alone, and says so; what it did is judged again later.

The times of the day with the cut link are worked by hand: taken out Tuesday 06:00, three hours of warming, room life
seven days, open life 24 hours (common practice, no source).
"""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.scans import SeenLabel
from station.care.specification import ByLabel
from station.care.words import Card, Ending, HoldReason, Limit, Word
from station.services.lead_acts import hold_lot
from station.services.station import Proof
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin, site_t, with_limits, with_rules
from tests.care.fleet import Fleet

PROOF = Proof(LEAD, LEAD_PIN)
JAR = "K9-001"


def label(**changed: object) -> SeenLabel:
    told: dict[str, object] = {
        "print_number": 1,
        "thaw_start": berlin("2026-11-10T06:00"),
        "earliest_use": berlin("2026-11-10T09:00"),
        "discard_by": berlin("2026-11-17T06:00"),
        "open_life": timedelta(hours=24),
        "paste_number": 4,
        "leaded": False,
    }
    return SeenLabel(**{**told, **changed})  # type: ignore[arg-type]


def cut_off(policy: ByLabel = ByLabel.ALLOW, at: str = "2026-11-10T09:30") -> Bench:
    return Bench(with_rules(site_t(), by_label=policy)).at(at)


def cut_link() -> tuple[Fleet, str]:
    """A has the fridge and printer P1; B has printer P2 and is cut off from Tuesday 05:30 on."""
    fleet = Fleet(start="2026-11-09T12:00")
    jar = fleet["A"].cold(lot="55")
    fleet.at("2026-11-10T06:00")
    assert fleet["A"].scan(jar, "FRIDGE").code == "taken-out"
    return fleet, jar


def test_the_day_with_the_cut_link_goes_as_worked_by_hand() -> None:
    fleet, jar = cut_link()
    a, b = fleet["A"], fleet["B"]
    seen = fleet.label_of(jar, "A")
    assert seen.discard_by == berlin("2026-11-17T06:00")
    fleet.at("2026-11-10T08:59")
    assert b.scan(jar, "P2", seen).word is Word.WAIT
    fleet.at("2026-11-10T09:10")
    a.scan(jar, "P1", seen)
    assert a.card(Card.LOOKS_GOOD, "P1").word is Word.USE
    fleet.at("2026-11-10T09:30")
    used = b.scan(jar, "P2", seen)
    assert (used.word, used.by_label) == (Word.USE, True)
    fleet.at("2026-11-10T12:00")
    hold_lot(a.station, "SN-4", "55", "recall", PROOF)
    assert [alarm.split("/")[:2] for alarm in a.alarms()] == [["held", "P1"]]
    fleet.at("2026-11-10T12:01")
    assert a.scan(jar, "P1", seen).code == "held"
    b.tag_card("P2", Card.REMOVE, "P2")
    fleet.at("2026-11-11T08:30")
    assert b.scan(jar, "P2", seen).word is Word.USE
    fleet.at("2026-11-11T09:05")
    over = b.scan(jar, "P2", seen)
    assert (over.word, over.code, over.by_label) == (Word.STOP, "open-life", True)
    fleet.at("2026-11-11T10:00").meet("A", "B")
    container = b.container(jar)
    assert container.opened_at == berlin("2026-11-10T09:10")
    assert container.open_end == berlin("2026-11-11T09:10")
    assert any(alarm.startswith("held/P2/") for alarm in b.alarms())
    assert b.scan(jar, "P2", seen).word is Word.STOP


@pytest.mark.parametrize("seed", range(12))
def test_both_stations_see_the_same_whatever_is_delivered_first(seed: int) -> None:
    fleet, jar = cut_link()
    seen = fleet.label_of(jar, "A")
    fleet.at("2026-11-10T09:10")
    fleet["A"].scan(jar, "P1", seen)
    fleet["A"].card(Card.LOOKS_GOOD, "P1")
    fleet.later(5)
    fleet["B"].scan(jar, "P2", seen)
    fleet.later(5).meet("A", "B", seed)
    assert fleet["A"].container(jar) == fleet["B"].container(jar)
    assert fleet["A"].position("P2") == fleet["B"].position("P2")
    assert fleet["B"].position("P2").bead is not None


def test_the_answer_never_looks_like_a_plain_use_and_says_what_it_rests_on() -> None:
    used = cut_off().scan(JAR, "LINE1", label())
    assert used.by_label
    assert "no record of K9 001" in used.why
    assert "until Wed 11 Nov 09:00" in used.why


def test_the_bead_ends_with_the_label_though_nothing_else_is_known_of_the_paste() -> None:
    bench = cut_off(at="2026-11-11T06:00")
    assert "BEAD ENDS 09:00" in bench.scan(JAR, "LINE1", label()).headline
    bead = bench.position("1").bead
    assert bead is not None
    assert bench.floor.bead_end(bead)[1] == berlin("2026-11-11T09:00")


@pytest.mark.parametrize(
    ("at", "word", "code"),
    [
        ("2026-11-10T08:59", Word.WAIT, "conditioning"),
        ("2026-11-10T09:00", Word.USE, "use"),
        ("2026-11-11T09:00", Word.USE, "use"),
        ("2026-11-11T09:01", Word.STOP, "open-life"),
    ],
)
def test_both_ends_of_the_label_belong_to_the_usable_time(at: str, word: Word, code: str) -> None:
    verdict = cut_off(at=at).scan(JAR, "LINE1", label())
    assert (verdict.word, verdict.code, verdict.by_label) == (word, code, True)


def test_a_discard_by_before_the_assumed_open_life_ends_it() -> None:
    verdict = cut_off().scan(JAR, "LINE1", label(discard_by=berlin("2026-11-10T09:29")))
    assert (verdict.word, verdict.code) == (Word.STOP, "room-life")


def test_by_default_a_shift_lead_decides_and_an_operator_does_not() -> None:
    bench = cut_off(ByLabel.LEAD)
    assert bench.scan(JAR, "LINE1", label()).code == "by-label-lead"
    bench.badge("P12", "LINE1")
    assert bench.later(1).scan(JAR, "LINE1", label()).code == "by-label-lead"
    bench.badge(LEAD, "LINE1")
    assert bench.later(1).scan(JAR, "LINE1", label()).word is Word.USE


def test_a_site_may_refuse_it_altogether() -> None:
    bench = cut_off(ByLabel.REFUSE)
    bench.badge(LEAD, "LINE1")
    assert bench.scan(JAR, "LINE1", label()).code == "by-label-refused"
    assert bench.position("1").bead is None


def test_a_wait_is_told_even_where_only_a_lead_may_use_it() -> None:
    assert cut_off(ByLabel.LEAD, "2026-11-10T08:00").scan(JAR, "LINE1", label()).code == "conditioning"


def test_wrong_metal_is_stopped_by_label_too() -> None:
    bench = cut_off()
    bench.order("WO1", "CTRL", "LINE1")
    leaded = label(paste_number=1, leaded=True)
    assert bench.scan(JAR, "LINE1", leaded).code == "wrong-alloy"


@pytest.mark.parametrize("odd", [label(paste_number=99), label(leaded=True)])
def test_a_paste_this_site_does_not_know_as_the_label_tells_it_is_stopped(odd: SeenLabel) -> None:
    verdict = cut_off().scan(JAR, "LINE1", odd)
    assert (verdict.word, verdict.code, verdict.by_label) == (Word.STOP, "by-label-paste", True)


def test_on_two_lanes_the_tag_answers_which_one() -> None:
    bench = cut_off()
    assert bench.scan(JAR, "DUAL", label()).code == "which-position"
    used = bench.tag("2B", "DUAL")
    assert (used.word, used.by_label, used.position) == (Word.USE, True, "2B")


def test_scanned_twice_it_is_recorded_once() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    before = len(list(bench.journal.facts()))
    again = bench.scan(JAR, "LINE1", label())
    assert (again.word, again.by_label) == (Word.USE, True)
    assert len(list(bench.journal.facts())) == before


def test_empty_and_discard_are_told_of_it_and_hold_when_the_stations_meet() -> None:
    fleet, jar = cut_link()
    seen = fleet.label_of(jar, "A")
    fleet.at("2026-11-10T10:00")
    fleet["B"].scan(jar, "P2", seen)
    assert fleet["B"].card(Card.EMPTY, "P2").code == "emptied"
    fleet.later(1).meet("A", "B")
    assert fleet["A"].container(jar).ended is Ending.USED_UP
    assert fleet["A"].scan(jar, "P1").code == "ended"


def test_other_cards_say_to_scan_a_container_of_this_record_first() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    assert bench.card(Card.REPRINT, "LINE1").code == "card-alone"


@pytest.mark.parametrize("place", ["FRIDGE", "DESK"])
def test_elsewhere_a_label_alone_makes_a_container_no_more_known(place: str) -> None:
    verdict = cut_off().scan(JAR, place, label())
    assert (verdict.word, verdict.code) == (Word.STOP, "unknown")


def test_a_fresher_label_would_end_the_bead_sooner_and_is_asked_about() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    short = label(discard_by=berlin("2026-11-10T12:00"))
    asked = bench.later(1).scan("K9-002", "LINE1", short)
    assert (asked.code, asked.by_label) == ("would-shorten", True)
    assert bench.later(0.1).scan("K9-002", "LINE1", short).word is Word.USE
    bead = bench.position("1").bead
    assert bead is not None
    assert bench.floor.bead_end(bead)[1] == berlin("2026-11-10T12:00")


def test_the_record_says_that_it_was_judged_by_label() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    loads = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.Loaded)]
    assert [load.by_label for load in loads] == [True]


def test_a_shorter_open_life_this_station_knows_of_holds_for_a_label_printed_before_it() -> None:
    bench = cut_off(at="2026-11-10T09:30")
    bench.site = with_limits(bench.site, "SN-4", version=2, open_life=timedelta(hours=12))
    bench.restart()
    assert bench.at("2026-11-10T21:00").scan(JAR, "LINE1", label()).word is Word.USE
    assert bench.later(1).scan(JAR, "LINE1", label()).word is Word.STOP
    assert cut_off(at="2026-11-10T21:01").scan(JAR, "LINE1", label(open_life=timedelta(hours=12))).code == "open-life"


# ---------------------------------------------------------------------- what is told of it here


def test_a_shift_lead_holds_what_is_known_by_its_label_alone_and_it_stays_held_here_and_there() -> None:
    fleet, jar = cut_link()
    b, seen = fleet["B"], fleet.label_of(jar, "A")
    fleet.at("2026-11-10T10:00")
    b.badge(LEAD, "P2")
    b.scan(jar, "P2", seen)
    assert b.card(Card.HOLD, "P2").code == "held-now"
    assert b.position("P2").bead is None
    fleet.later(1)
    verdict = b.scan(jar, "P2", seen)
    assert (verdict.word, verdict.code, verdict.by_label) == (Word.STOP, "held", True)
    fleet.meet("A", "B")
    assert [hold.reason for hold in fleet["A"].container(jar).holds] == [HoldReason.PERSON]


def test_what_was_discarded_by_its_label_is_never_used_by_it_again_and_raises_an_alarm() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    assert bench.card(Card.DISCARD, "LINE1").code == "discarded"
    verdict = bench.later(10).scan(JAR, "LINE1", label())
    assert (verdict.word, verdict.headline, verdict.by_label) == (Word.STOP, "ALREADY DISCARDED", True)
    assert [alarm.split("/")[:2] for alarm in bench.alarms()] == [[Limit.SEEN_AGAIN, JAR]]
    assert bench.card(Card.DISCARD, "LINE1").code == "ended"


def test_one_that_was_refused_may_be_held_or_discarded_all_the_same() -> None:
    bench = cut_off(ByLabel.REFUSE)
    assert bench.scan(JAR, "LINE1", label()).code == "by-label-refused"
    assert bench.card(Card.DISCARD, "LINE1").code == "discarded"
    bench.badge(LEAD, "DESK")
    assert bench.scan("K9-002", "DESK", label()).code == "unknown"
    assert bench.card(Card.HOLD, "DESK").code == "held-now"
    assert bench.scan("K9-002", "LINE1", label()).code == "held"


def test_without_its_time_label_nothing_can_be_told_of_it() -> None:
    bench = cut_off()
    bench.badge(LEAD, "DESK")
    assert bench.scan("K9-002", "DESK").code == "unknown"
    assert bench.card(Card.HOLD, "DESK").code == "card-alone"


def test_a_bead_of_it_stops_once_it_is_held_and_goes_on_once_that_is_taken_back() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    bench.later(5).badge(LEAD, "DESK")
    bench.scan(JAR, "DESK", label())
    bench.card(Card.HOLD, "DESK")
    assert [alarm.split("/")[0] for alarm in bench.alarms()] == ["held"]
    assert bench.tag("1", "LINE1").headline == "HELD PASTE IN THE BEAD"
    (held,) = (fact for fact in bench.journal.facts() if isinstance(fact.body, f.Held))
    bench.tell(f.Released(JAR, held.key, "judged good"))
    assert bench.tag("1", "LINE1").headline == "LINE 1"


def test_an_end_that_was_taken_back_does_not_count() -> None:
    bench = cut_off()
    bench.scan(JAR, "LINE1", label())
    bench.card(Card.EMPTY, "LINE1")
    assert bench.card(Card.UNDO, "LINE1").code == "undone"
    assert bench.later(1).scan(JAR, "LINE1", label()).word is Word.USE


def test_the_answer_names_its_paste_and_the_end_that_stands_beside_it() -> None:
    verdict = cut_off().scan(JAR, "LINE1", label())
    assert verdict.why == (
        "Judged by its label: this station has no record of K9 001, SN-4. "
        "It may be used until Wed 11 Nov 09:00 at the latest (open life)."
    )
    assert dict(verdict.times)["discard by"] == berlin("2026-11-11T09:00")
