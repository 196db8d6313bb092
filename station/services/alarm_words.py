"""What to do at an alarm, said by a process engineer at the desk."""

from station.care.answers import plain
from station.care.floor import Floor
from station.care.reactions import set_reaction
from station.care.verdict import Decision
from station.care.words import Limit, Role, Word
from station.services.outcome import Outcome
from station.services.station import Proof, Station


def change_reaction(station: Station, limit: Limit, text: str, proof: Proof, *, at_line: bool) -> Outcome:
    """Give one kind of alarm other words; empty ones go back to the settings. Raises Refusal and ReactionRefused."""

    def decide(floor: Floor, by: str) -> Decision:
        fact = set_reaction(floor, limit, text, by, at_line=at_line)
        said = fact.text or "As the settings have it again."
        verdict = plain(Word.DONE, "reaction-set", "ON THE CARDS NOW", said, "Look at the control plan: do both agree?")
        return Decision(verdict, (fact,))

    return station.decided(proof, Role.ENGINEER, decide)
