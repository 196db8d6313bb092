"""Badges to print: a badge is a key, so a shift lead or a process engineer has to prove that they are wanted."""

from dataclasses import replace

from station.care import facts as f
from station.care.answers import plain
from station.care.floor import Floor
from station.care.verdict import Decision
from station.care.words import Role, Word
from station.services.outcome import Outcome
from station.services.station import Proof, Station


def present(station: Station) -> dict[str, str]:
    """Names by badge of those who work here now; whoever left gets no badge any more."""
    here = (found for found in station.ledger.people.values() if not found.left)
    return {found.id: found.name for found in sorted(here, key=lambda found: found.name)}


def lead_or_engineer(station: Station, proof: Proof) -> Role:
    """The role to prove for lead_or_engineer people: an engineer proves as one, anybody else has to be a shift lead."""
    return Role.ENGINEER if station.floor().person_has(proof.badge, Role.ENGINEER) else Role.LEAD


def record_badges(station: Station, people: tuple[str, ...], proof: Proof) -> Outcome:
    """Put on record that badges of these people are printed, before anybody can print them. Raises Refusal."""

    def decide(_floor: Floor, _by: str) -> Decision:
        many = "1 badge" if len(people) == 1 else f"{len(people)} badges"
        todo = "Hand each badge to the person named on it."
        verdict = plain(Word.DONE, "badges-printed", "BADGES", f"{many} made.", todo)
        return Decision(verdict, (f.BadgesPrinted(people),))

    return replace(station.decided(proof, lead_or_engineer(station, proof), decide), place=station.place)
