"""A shift lead's badge stands for the lead for two minutes at the place where it was scanned, and no longer.

How long is our own choice, no source.
"""

import pytest

from station.care.specification import ByLabel
from station.care.words import Card, Role, Word
from station.services.people_acts import PersonWord, record_person
from tests.care.bench import LEAD, Bench
from tests.care.leading import PROOF
from tests.care.test_by_label import JAR, cut_off, label


@pytest.mark.parametrize(("seconds", "word"), [(120, Word.USE), (121, Word.STOP)])
def test_leave_by_label_counts_two_minutes_from_the_leads_badge(seconds: int, word: Word) -> None:
    bench = cut_off(ByLabel.LEAD)
    bench.badge(LEAD, "LINE1")
    verdict = bench.later(seconds / 60).scan(JAR, "LINE1", label())
    assert verdict.word is word
    assert (bench.position("1").bead is None) is (word is Word.STOP)


def test_a_lead_who_stays_badged_in_is_asked_for_the_badge_again() -> None:
    bench = cut_off(ByLabel.LEAD)
    bench.badge(LEAD, "LINE1")
    assert "within 2 min" in bench.later(10).scan(JAR, "LINE1", label()).todo
    assert bench.station.sessions["LINE1"].context.person == LEAD
    bench.badge(LEAD, "LINE1")
    assert bench.later(1).scan(JAR, "LINE1", label()).word is Word.USE


def test_a_badge_at_another_place_gives_no_leave_here() -> None:
    bench = cut_off(ByLabel.LEAD)
    bench.badge(LEAD, "LINE2")
    assert bench.later(1).scan(JAR, "LINE1", label()).code == "by-label-lead"


def test_whoever_badges_in_after_the_lead_has_no_leave() -> None:
    bench = cut_off(ByLabel.LEAD)
    bench.badge(LEAD, "LINE1")
    bench.badge("P12", "LINE1")
    assert bench.scan(JAR, "LINE1", label()).code == "by-label-lead"


def test_a_clock_set_back_makes_no_badge_younger() -> None:
    bench = cut_off(ByLabel.LEAD)
    bench.badge(LEAD, "LINE1")
    bench.step(-1)
    assert bench.scan(JAR, "LINE1", label()).word is not Word.USE


@pytest.mark.parametrize(("minutes", "code"), [(2, "held-now"), (3, "needs-lead")])
def test_hold_counts_two_minutes_from_the_leads_badge(minutes: int, code: str) -> None:
    bench = Bench()
    jar = bench.cold()
    bench.badge(LEAD, "DESK")
    bench.later(minutes)
    bench.scan(jar, "DESK")
    assert bench.card(Card.HOLD, "DESK").code == code
    assert bench.container(jar).held is (code == "held-now")


def test_the_badge_of_somebody_who_left_is_told_by_name_and_signs_nobody_in() -> None:
    bench = Bench()
    record_person(bench.station, PersonWord("P12", "Robin Alder", (Role.OPERATOR,), left=True), PROOF)
    told = bench.badge("P12", "LINE1")
    assert "Robin Alder" in told.why
    assert (told.word, told.code) == (Word.STOP, "badge-unknown")
    assert bench.station.sessions["LINE1"].context.person is None
