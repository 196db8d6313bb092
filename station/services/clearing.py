"""What a shift lead says of alarms besides clearing one: several at once, all of them or none, and shelving."""

from collections.abc import Sequence
from dataclasses import replace

from station.care import alarms, shelving
from station.care.alarm_floods import same_cause
from station.care.answers import plain
from station.care.facts import Body
from station.care.floor import Floor
from station.care.verdict import Decision
from station.care.waste import after_clearing
from station.care.words import Role, Word
from station.services.attaching import Enclosed
from station.services.attachments import notes_and_files, refuse_unfit
from station.services.outcome import Outcome
from station.services.station import Proof, Station

NOT_ALIKE = "They do not share a lot and a limit any more. Look at the alarms again, and clear them one by one."
WEIGHED = "Clear it alone where its grams are known: one figure can't stand for several containers."


def clear_together(
    station: Station,
    alarm_ids: Sequence[str],
    clearing: alarms.Clearing,
    proof: Proof,
    files: Sequence[Enclosed] = (),
) -> Outcome:
    """Clear every one of `alarm_ids` as `clearing` says of its own; they must have one cause. `files` are kept of each.

    Raises Refusal for the proof and for files that are no proof, alarms.ClearingRefused for what can't be cleared so,
    JournalTrouble; nothing is recorded then.
    """
    if files:
        refuse_unfit("", files)

    def decide(floor: Floor, person: str) -> Decision:
        wanted = tuple(dict.fromkeys(alarm_ids))
        alike = {alarm.id for alarm in same_cause(floor, wanted[0])} if wanted else set()
        if not wanted or not alike.issuperset(wanted):
            raise alarms.ClearingRefused(NOT_ALIKE)
        if clearing.grams is not None:
            raise alarms.ClearingRefused(WEIGHED)
        told: dict[Body, None] = {}  # two alarms of one container discard it once
        for alarm_id in wanted:
            told.update(dict.fromkeys(alarms.clear(floor, replace(clearing, alarm=alarm_id), person)))
        for alarm_id in wanted if files else ():
            told.update(dict.fromkeys(notes_and_files(station, f"alarm:{alarm_id}", "", files)))
        why = f"{len(wanted)} alarms: {clearing.disposition.value}."
        todo = after_clearing(floor, clearing.disposition, wanted[0])
        return Decision(plain(Word.DONE, "alarms-cleared", "ALARMS CLEARED", why, todo), tuple(told))

    return station.decided(proof, Role.LEAD, decide)


def shelve(station: Station, told: shelving.Shelving, proof: Proof) -> Outcome:
    """Keep an alarm quiet for a while. Raises Refusal or shelving.ShelvingRefused; nothing is recorded then."""
    return station.decided(proof, Role.LEAD, lambda floor, person: shelving.shelve(floor, told, person))


def unshelve(station: Station, alarm_id: str, proof: Proof) -> Outcome:
    """End a shelving before its time. Raises Refusal or shelving.ShelvingRefused."""
    return station.decided(proof, Role.LEAD, lambda floor, person: shelving.unshelve(floor, alarm_id, person))
