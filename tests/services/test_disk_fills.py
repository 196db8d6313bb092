"""A disk that fills in the middle of an act: what is on disk is never told as failed, what is not is not forgotten."""

from collections.abc import Sequence
from datetime import timedelta

import pytest

from station.care.facts import Fact
from station.care.words import Card, Role
from station.services.memory import MemoryJournal
from station.services.ports import Draft, JournalEnvironment, JournalTrouble
from station.services.specifications import approve_draft
from tests.care.bench import LEAD, Bench
from tests.care.engineering import drafted
from tests.care.leading import ENGINEER_PROOF

HOUR = timedelta(hours=1)


class FillingDisk(MemoryJournal):
    """A journal with room for so many appends more; None for as many as come."""

    room: int | None = None

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        if self.room == 0:
            raise JournalEnvironment("journal-full", "The disk is full. Free some space.")
        if self.room is not None:
            self.room -= 1
        return super().append(drafts)


def named(bench: Bench) -> list[str]:
    return [fact.body.NAME for fact in bench.journal.facts()]


def test_an_approval_that_is_on_disk_is_told_as_done_though_its_alarms_are_not_written_yet() -> None:
    journal = FillingDisk()
    bench = Bench(journal=journal)
    bench.on_line()
    bench.later(300)
    draft = drafted(bench, stencil_life=HOUR)
    journal.room = 1
    outcome = approve_draft(bench.station, draft.key, ENGINEER_PROOF)
    assert bench.limits().stencil_life == HOUR
    assert outcome.verdict is not None
    assert outcome.trouble == "The disk is full. Free some space."
    assert "alarm-raised" not in named(bench)
    journal.room = None
    bench.later(1)
    assert "alarm-raised" in named(bench)


def test_a_clock_that_moved_while_nothing_could_be_written_is_noticed_again() -> None:
    journal = FillingDisk()
    bench = Bench(journal=journal)
    journal.room = 0
    with pytest.raises(JournalTrouble):
        bench.step(-45)
    journal.room = None
    bench.station.tick()
    assert named(bench)[-1] == "clock-stepped"


def test_a_clock_set_back_makes_no_badge_younger() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.badge(LEAD, "LINE1")
    assert bench.floor.person_has(LEAD, Role.LEAD)
    bench.later(1.5)
    bench.step(-1.4)
    bench.later(1)
    bench.scan(jar, "LINE1")
    answer = bench.card(Card.HOLD, "LINE1")
    assert not bench.container(jar).held, answer
