"""After a restore from a backup nothing is used that the backup knows, until a shift lead has looked at it."""

from datetime import timedelta

import pytest

from station.bootstrap import DEMO_KEYS
from station.care import after_restore, counting
from station.care import facts as f
from station.care.after_restore import RestoreRefused
from station.care.closing_list import closing_list
from station.care.day_list import DayKind, day_list
from station.care.scans import SeenLabel
from station.care.specification import ByLabel
from station.care.words import Card, CountEnd, Ending, Finding, HoldReason, Word
from station.rehearsal.clock import SetClock
from station.services.counting import begin_count, end_count
from station.services.lead_acts import release_counted
from station.services.memory import MemoryJournal
from station.services.station import Proof, Station
from tests.care.bench import LEAD, LEAD_PIN, Bench, site_t, with_rules

PROOF = Proof(LEAD, LEAD_PIN)


class Restored(Bench):
    """The station on another PC, an hour after the old one died, with what the backup holds."""

    def __init__(self, bench: Bench, number: int = 2, backup: list[f.Fact] | None = None) -> None:
        """It was just started; `told` is what it said then."""
        self.site, self.printer, self.journal = bench.site, bench.printer, MemoryJournal(number)
        self.journal.take(bench.journal.facts() if backup is None else backup)
        self.clock = SetClock(bench.clock.wall + timedelta(hours=1))
        self.start_again(f"{number - 1:x}-9-ab")

    def start_again(self, continues: str = "") -> "Restored":
        """The program starts, for the first time or once more."""
        own = frozenset(range(1, self.journal.number + 1))
        self.station = Station(self.site, self.journal, self.clock, DEMO_KEYS, self.printer, own)
        self.told = self.station.start("bench", continues).trouble
        return self


def reasons(bench: Bench, name: str) -> list[HoldReason]:
    return [hold.reason for hold in bench.container(name).holds]


def count(bench: Bench, *names: str) -> None:
    """The refrigerator is counted; who counts says that this was all."""
    begin_count(bench.station, "FRIDGE")
    running = counting.running(bench.floor, "FRIDGE")
    assert running is not None
    for name in names:
        bench.later(1)
        bench.scan(name, "FRIDGE")
    end_count(bench.station, running.id, CountEnd.BROKEN_OFF)


def lying(bench: Bench) -> tuple[list[str], list[str]]:
    found = after_restore.lying(bench.floor)
    return [one.id for one in found.counted], [one.id for one in found.unseen]


def test_what_was_discarded_held_or_opened_after_the_backup_is_not_usable_again() -> None:
    bench = Bench()
    jars = [bench.ready() for _ in range(3)]
    backup = list(bench.journal.facts())
    bench.scan(jars[0], "DESK")
    bench.card(Card.DISCARD, "DESK")
    bench.scan(jars[1], "LINE1")
    bench.card(Card.LOOKS_BAD, "LINE1")
    again = Restored(bench, backup=backup)
    for jar in jars:
        verdict = again.scan(jar, "LINE1")
        assert (verdict.word, verdict.code) == (Word.STOP, "held")
        assert "on hold: backup of Sun 8 Nov 18:33; what happened since is not known" in verdict.why
    assert again.told.startswith("This station goes on from a backup of Sun 8 Nov")
    again.release_all(jars[2])
    again.tag_card("1", Card.CLEANED, "LINE1")
    assert again.scan(jars[2], "LINE1").code == "opening-check"


def test_a_restart_or_a_later_tick_holds_nothing_again() -> None:
    bench = Bench()
    jar, other = bench.ready(), bench.cold()
    again = Restored(bench)
    again.release_all(jar)
    again.later(5)
    again.start_again().later(5)
    assert (reasons(again, jar), reasons(again, other)) == ([], [HoldReason.RESTORED])
    assert "On hold since: 1." in again.told
    again.release_all(other)
    assert again.start_again().told == ""


def test_a_program_that_died_between_its_start_and_the_holds_makes_them_at_the_next_start() -> None:
    bench = Bench()
    jar = bench.ready()
    again = Restored(bench)
    cut = MemoryJournal(2)
    cut.take(fact for fact in again.journal.facts() if not isinstance(fact.body, f.Held))
    again.journal = cut
    assert reasons(again.start_again(), jar) == [HoldReason.RESTORED]


def test_what_arrives_afterwards_is_free_and_what_has_ended_stays_ended() -> None:
    bench = Bench()
    gone = bench.ready()
    bench.scan(gone, "DESK")
    bench.card(Card.DISCARD, "DESK")
    again = Restored(bench)
    fresh = again.ready()
    again.tag_card("1", Card.CLEANED, "LINE1")
    assert again.scan(fresh, "LINE1").code == "opening-check"
    assert (reasons(again, fresh), reasons(again, gone)) == ([], [])
    assert again.scan(gone, "LINE1").code == "ended"
    assert after_restore.said(again.floor) == ""


def test_an_ordinary_start_holds_nothing() -> None:
    bench = Bench()
    jar = bench.ready()
    assert reasons(bench.restart(), jar) == []
    assert after_restore.said(bench.floor) == ""


def test_a_bead_is_stopped_and_rings_also_where_its_jar_is_empty() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    again = Restored(bench)
    assert reasons(again, jar) == [HoldReason.RESTORED]
    assert [name.split("/")[0] for name in again.alarms()] == ["held"]
    assert again.tag("1", "LINE1").headline == "HELD PASTE IN THE BEAD"
    (row,) = [row for row in day_list(again.floor) if row.kind is DayKind.HOLD]
    assert row.what.startswith(f"Bead on line 1, with paste of {jar.replace('-', ' ')}: backup of")
    assert row.subject == f"{jar}:{again.container(jar).holds[0].key}"
    again.release_all(jar)
    assert not after_restore.in_beads(again.floor)


def test_what_another_station_loaded_unknown_here_is_held_too() -> None:
    bench = Bench()
    bench.tell(
        f.Loaded("K8-1", "1", "SN-4", "101", None, True, bench.clock.wall + timedelta(hours=8), (), restart=False)
    )
    bench.tell(f.Mounted("K8-2", "D1", "SN-4", None))
    again = Restored(bench)
    held = {fact.body.container for fact in again.journal.facts() if isinstance(fact.body, f.Held)}
    assert held == {"K8-1", "K8-2"}


def test_a_receipt_of_before_that_another_station_tells_of_later_is_held_and_a_newer_one_is_not() -> None:
    bench = Bench()
    again = Restored(bench)
    third = Bench(start="2026-11-08T12:10", journal=MemoryJournal(9))
    old = third.cold()
    third.clock.go_on(timedelta(hours=3))
    new = third.cold(lot="102")
    again.clock.go_on(timedelta(hours=5))
    again.station.learn(again.journal.take(third.journal.facts()))
    again.station.tick()
    assert (reasons(again, old), reasons(again, new)) == ([HoldReason.RESTORED], [])


def test_what_another_station_knows_of_its_end_stays_true() -> None:
    bench = Bench()
    jar = bench.ready()
    again = Restored(bench)
    again.tell(f.Ended(jar, Ending.DISCARDED, "", "LINE2", None))
    assert again.scan(jar, "LINE1").code == "ended"
    assert after_restore.said(again.floor) == ""


def test_a_second_restore_is_not_answered_by_what_was_counted_after_the_first() -> None:
    bench = Bench()
    jar = bench.cold()
    again = Restored(bench)
    count(again, jar)
    assert lying(again) == ([jar], [])
    twice = Restored(again, 3)
    assert reasons(twice, jar) == [HoldReason.RESTORED] * 2
    assert lying(twice) == ([], [jar])
    count(twice, jar)
    release_counted(twice.station, [jar], "looked at each", PROOF)
    assert reasons(twice, jar) == []


# ---------------------------------------------------------------------- the cold stores


def cold_morning() -> tuple[Restored, list[str]]:
    """Three jars in the refrigerator and one that is out, on the morning after the restore."""
    bench = Bench()
    out = bench.ready()
    jars = [bench.cold(lot=str(number)) for number in range(3)]
    bench.later(11)
    return Restored(bench), [*jars, out]


def test_a_jar_in_its_store_is_counted_as_recorded_and_not_as_one_in_a_wrong_bin() -> None:
    bench, (first, *_) = cold_morning()
    assert bench.scan(first, "FRIDGE").code == "held"
    count(bench, first)
    (seen,) = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.Counted)]
    assert (seen.finding, seen.cold) == (Finding.AS_RECORDED, True)


def test_a_lead_releases_together_what_was_counted_since_and_nothing_else() -> None:
    bench, (first, second, third, out) = cold_morning()
    assert lying(bench) == ([], [first, second, third])
    bench.tell_own(f.Held(second, HoldReason.PERSON, ""))
    count(bench, first, second)
    assert lying(bench) == ([first, second], [third])
    outcome = release_counted(bench.station, [first, second, third, out], "looked at each", PROOF)
    assert outcome.verdict is not None
    assert (outcome.verdict.headline, outcome.verdict.word) == ("2 RELEASED", Word.DONE)
    assert [reasons(bench, one) for one in (first, second)] == [[], [HoldReason.PERSON]]
    assert [reasons(bench, one) for one in (third, out)] == [[HoldReason.RESTORED]] * 2
    bench.scan(first, "FRIDGE")
    assert bench.container(first).out_from is not None


def test_a_newer_time_label_in_the_refrigerator_shows_that_it_was_out() -> None:
    bench, (first, second, *_) = cold_morning()
    at = bench.clock.wall
    label = SeenLabel(1, at, at, at + timedelta(hours=8), timedelta(hours=8), 4, leaded=False)
    count(bench, first)
    begin_count(bench.station, "FRIDGE")
    bench.scan(first, "FRIDGE", label)
    assert lying(bench)[0] == []
    assert second in lying(bench)[1]


@pytest.mark.parametrize(
    ("note", "said"), [(" ", "how they were looked at"), ("looked at each", "None of these is still on hold")]
)
def test_nothing_is_released_without_a_word_or_without_a_count(note: str, said: str) -> None:
    bench, (first, *_) = cold_morning()
    with pytest.raises(RestoreRefused, match=said):
        release_counted(bench.station, [first], note, PROOF)
    assert reasons(bench, first) == [HoldReason.RESTORED]


def test_four_hundred_jars_are_two_rows_of_the_day_list_and_what_is_out_one_each() -> None:
    bench, (first, _, _, out) = cold_morning()
    count(bench, first)
    rows = [row for row in day_list(bench.floor) if row.kind in (DayKind.RESTORED, DayKind.HOLD)]
    assert [row.what.split(" on hold")[0] for row in rows[:2]] == ["1 container", "2 containers"]
    assert [row.ready for row in rows] == [True, False, True]
    assert rows[2].subject.startswith(f"{out}:")
    assert {row.subject for row in closing_list(bench.floor, bench.clock.wall).held} == {row.subject for row in rows}


# ---------------------------------------------------------------------- labels of what is not on record


def test_a_label_of_before_the_restore_needs_a_lead_wherever_labels_are_believed() -> None:
    bench = Bench(with_rules(site_t(), by_label=ByLabel.ALLOW))
    again = Restored(bench)
    label = again_label(again, timedelta(minutes=-200))
    again.tag_card("1", Card.CLEANED, "LINE1")
    refused = again.scan("K7-900", "LINE1", label)
    assert (refused.word, refused.code) == (Word.STOP, "by-label-lead")
    assert "may have been held or discarded here" in refused.why
    again.badge(LEAD, "LINE1")
    assert again.scan("K7-900", "LINE1", label).word is Word.USE


def test_a_label_of_after_the_restore_is_believed_as_before() -> None:
    bench = Bench(with_rules(site_t(), by_label=ByLabel.ALLOW))
    again = Restored(bench).later(300)
    again.tag_card("1", Card.CLEANED, "LINE1")
    assert again.scan("K8-900", "LINE1", again_label(again, timedelta(minutes=-200))).word is Word.USE


def again_label(bench: Bench, out: timedelta) -> SeenLabel:
    """The label of a jar that was taken out so long ago and is ready."""
    at = bench.clock.wall
    return SeenLabel(1, at + out, at - timedelta(minutes=20), at + timedelta(hours=9), timedelta(hours=8), 4, False)


# ---------------------------------------------------------------------- lines


def test_what_a_line_builds_and_what_lay_there_last_is_said_anew_before_paste_goes_on() -> None:
    bench = Bench()
    bench.tag("1", "LINE1")
    bench.order("WO-1", "CTRL", "LINE1")
    again = Restored(bench)
    jar = again.ready()
    verdict = again.scan(jar, "LINE1")
    assert (verdict.word, verdict.headline) == (Word.STOP, "SCAN THE WORK ORDER")
    again.tag("1", "LINE1")
    again.order("WO-2", "CTRL", "LINE1")
    verdict = again.scan(jar, "LINE1")
    assert (verdict.word, verdict.headline) == (Word.STOP, "CLEAN FIRST")
    again.tag_card("1", Card.CLEANED, "LINE1")
    assert again.scan(jar, "LINE1").code == "opening-check"
    assert again.card(Card.LOOKS_GOOD, "LINE1").word is Word.USE


def test_a_bead_that_was_released_goes_on_once_its_work_order_is_scanned() -> None:
    bench = Bench()
    bench.tag("1", "LINE1")
    bench.order("WO-1", "CTRL", "LINE1")
    jar = bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    again = Restored(bench)
    again.release_all(jar)
    assert again.tag_card("1", Card.RESUME, "LINE1").headline == "SCAN THE WORK ORDER"
    again.tag("1", "LINE1")
    again.order("WO-1", "CTRL", "LINE1")
    assert again.tag_card("1", Card.RESUME, "LINE1").word is Word.DONE
