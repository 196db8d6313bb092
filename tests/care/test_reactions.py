"""What an alarm's card says to do: the engineer's words, else the settings', else the usual ones; cautions always.

The words themselves are our own; that each alarm has a text of the site's control plan is common practice, no source.
"""

from dataclasses import replace

import pytest

from station.care import facts as f
from station.care.alarms import open_alarms
from station.care.reaction_rules import AT_LINE, EITHER, GLOVES, LEADED, MOST, USUAL, Reaction
from station.care.reactions import ReactionRefused, caution, ended, known_kinds, reaction, set_reaction, text_for
from station.care.words import Card, Limit
from station.services.alarm_words import change_reaction
from station.services.outcome import Refusal
from tests.care.bench import Bench, site_t, with_rules
from tests.care.leading import ENGINEER, ENGINEER_PROOF, OPERATOR, PROOF
from tests.care.test_alarm_floods import late_to_cold


def plain() -> Bench:
    return Bench(with_rules(site_t(), reactions=()))


def overdue_bead(bench: Bench, paste: str = "SN-4", kind: str = "JAR-500") -> Bench:
    bench.on_line("LINE1", paste, kind)
    return bench.later(24 * 60)


def said(bench: Bench) -> str:
    alarm, now = open_alarms(bench.floor)[0]
    return reaction(bench.floor, alarm, now)


def test_every_limit_that_may_ring_has_its_usual_words_and_room_for_others() -> None:
    rings = {limit for limit in Limit if limit is not Limit.PAUSE}  # what a pause comes to is said on resume
    assert {limit for limit, _ in USUAL} == rings
    assert set(known_kinds()) == set(USUAL)
    assert {limit for limit, at_line in USUAL if at_line} == set(AT_LINE)
    assert all(0 < len(words) <= MOST for words in USUAL.values())


def test_paste_at_a_line_has_other_words_than_paste_that_is_off() -> None:
    bench = overdue_bead(plain())
    assert said(bench) == USUAL[Limit.STENCIL, True]
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert said(bench) == USUAL[Limit.STENCIL, False]


def test_the_engineers_words_come_first_then_the_settings_then_the_usual_ones() -> None:
    of_both = Reaction(Limit.STENCIL, None, "for both")
    at_line = Reaction(Limit.STENCIL, True, "at a line")
    bench = overdue_bead(Bench(with_rules(site_t(), reactions=(of_both, at_line))))
    assert said(bench) == "at a line"
    assert text_for(bench.floor, Limit.STENCIL, at_line=False) == "for both"
    assert text_for(bench.floor, Limit.OPEN, at_line=True) == USUAL[Limit.OPEN, True]
    change_reaction(bench.station, Limit.STENCIL, " call  quality ", ENGINEER_PROOF, at_line=True)
    assert said(bench) == "call quality"
    assert said(bench.restart()) == "call quality"
    change_reaction(bench.station, Limit.STENCIL, "", ENGINEER_PROOF, at_line=True)
    assert said(bench) == "at a line"


def test_of_two_words_the_later_in_the_order_of_the_record_stands_whichever_is_heard_first() -> None:
    bench = plain()
    facts = bench.tell(f.ReactionSet(Limit.OPEN, True, "first"), f.ReactionSet(Limit.OPEN, True, "second"))
    other = plain().station.ledger
    for fact in reversed(facts):
        other.apply(replace(fact, journal=9))
    assert (bench.station.ledger.reactions, other.reactions) == ({(Limit.OPEN, True): "second"},) * 2


def test_only_a_process_engineer_changes_the_words() -> None:
    bench = plain()
    with pytest.raises(Refusal, match="process engineer"):
        change_reaction(bench.station, Limit.OPEN, "nothing", PROOF, at_line=True)
    with pytest.raises(ReactionRefused, match="process engineer"):
        set_reaction(bench.floor, Limit.OPEN, "nothing", OPERATOR, at_line=True)
    assert bench.station.ledger.reactions == {}


@pytest.mark.parametrize(
    ("limit", "text", "why"),
    [
        (Limit.PAUSE, "x", "raises no alarm"),
        (Limit.TO_COLD, "x", "raises no alarm"),
        (Limit.OPEN, "x" * (MOST + 1), "longer"),
        (Limit.OPEN, " ", "already"),
    ],
)
def test_what_can_not_stand_on_a_card_is_refused(limit: Limit, text: str, why: str) -> None:
    with pytest.raises(ReactionRefused, match=why):
        set_reaction(plain().floor, limit, text, ENGINEER, at_line=True)


def test_the_cautions_stay_whatever_the_words_are_and_leaded_paste_has_its_own() -> None:
    leaded = overdue_bead(plain(), "PB-1")
    alarm, _ = open_alarms(leaded.floor)[0]
    assert caution(leaded.floor, alarm) == LEADED
    free = late_to_cold(1)
    alarm, _ = open_alarms(free.floor)[0]
    assert caution(free.floor, alarm) == GLOVES
    assert caution(free.floor, replace(alarm, subject="K9-999")) == EITHER


def test_the_caution_of_a_bead_stays_after_it_was_removed() -> None:
    bench = overdue_bead(plain(), "PB-1")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    alarm, _ = open_alarms(bench.floor)[0]
    assert caution(bench.floor, alarm) == LEADED
    stranger = replace(alarm, id=alarm.id.replace(alarm.id.split("/")[2], "another"))
    assert caution(bench.floor, stranger) == EITHER


def test_words_without_a_full_stop_get_one_before_the_caution() -> None:
    assert (ended("Stop"), ended("Stop!"), ended("Stop.")) == ("Stop.", "Stop!", "Stop.")
