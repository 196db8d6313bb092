"""What to do about an alarm: in the words of the site's control plan, or the usual ones, and always with the cautions.

Words are for each limit and for where the paste is: still at a line, or away from one. The process engineer's words
come before those of the settings, these before the usual ones. What keeps people safe is added to all of them and
can't be taken out.
"""

from collections.abc import Iterator

from station.care import facts as f
from station.care.alarms import Situation, bead_of
from station.care.floor import Floor
from station.care.reaction_rules import AT_LINE, EITHER, GLOVES, LEADED, MOST, USUAL
from station.care.refused import Refused
from station.care.state import Alarm
from station.care.words import Limit, Priority, Role


class ReactionRefused(Refused):
    """It can't be recorded as told; the sentence says what to mend."""


def known_kinds() -> Iterator[tuple[Limit, bool]]:
    """Every limit that may ring, and whether its paste is at a line then: both of a limit side by side, at a line
    first."""
    for limit in AT_LINE:
        yield from ((limit, True), (limit, False))
    yield from (kind for kind in USUAL if kind[0] not in AT_LINE)


def text_for(floor: Floor, limit: Limit, *, at_line: bool) -> str:
    """The words for one kind of alarm; nothing for one that never rings so."""
    set_here = floor.ledger.reactions.get((limit, at_line), "")
    return set_here or of_settings(floor, limit, at_line=at_line) or USUAL.get((limit, at_line), "")


def of_settings(floor: Floor, limit: Limit, *, at_line: bool) -> str:
    """The words the settings have for it; those for this very kind come before those for both."""
    found = [told for told in floor.rules.reactions if told.limit is limit and told.at_line in (at_line, None)]
    return next((told.text for told in sorted(found, key=lambda told: told.at_line is None)), "")


def reaction(floor: Floor, alarm: Alarm, situation: Situation) -> str:
    """What to do about an alarm as it stands now, without the cautions."""
    return text_for(floor, alarm.limit, at_line=situation.priority is Priority.HIGH)


def ended(text: str) -> str:
    """The words as a whole sentence, so that a caution may follow."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def caution(floor: Floor, alarm: Alarm) -> str:
    """What keeps people safe with this paste; where nobody knows the paste, of both sorts."""
    paste = floor.plant.pastes.get(_paste_of(floor, alarm))
    if paste is None:
        return EITHER
    return LEADED if paste.alloy.leaded else GLOVES


def _paste_of(floor: Floor, alarm: Alarm) -> str:
    container = floor.container(alarm.subject)
    if container is not None:
        return container.paste
    if alarm.subject not in floor.plant.positions:
        return ""
    bead, gone = bead_of(floor, alarm)
    lies = bead or (gone.bead if gone is not None else None)
    return lies.paste if lies is not None else ""


def set_reaction(floor: Floor, limit: Limit, text: str, person: str, *, at_line: bool) -> f.ReactionSet:
    """The fact that gives one kind of alarm other words; empty ones go back to the settings. Raises ReactionRefused."""
    if not floor.person_has(person, Role.ENGINEER):
        raise ReactionRefused("What to do at an alarm is the process engineer's to say.")
    if (limit, at_line) not in USUAL:
        raise ReactionRefused("Paste at a line raises no alarm of this limit. Choose another from the list.")
    said = " ".join(text.split())
    if len(said) > MOST:
        raise ReactionRefused(f"That is longer than {MOST} characters; a card has no room for it. Say it shorter.")
    if said == floor.ledger.reactions.get((limit, at_line), ""):
        raise ReactionRefused("These words stand there already.")
    return f.ReactionSet(limit, at_line, said)
