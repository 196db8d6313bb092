"""An identity label once more, by the number of its container: what has lost its label can't be scanned."""

from station.care.answers import plain
from station.care.stock import find, where
from station.care.words import Word
from station.services.outcome import Outcome, Refusal
from station.services.station import Station

AGAIN = "Compare paste and lot with the maker's label first; if they differ, do not stick it and call the shift lead. "
AGAIN += "Stick it on the body, not over the maker's label. Tear a damaged one off."


def print_identity(station: Station, number: str, place: str) -> Outcome:
    """Print it where the labels of `place` come out. Raises Refusal for a number that is none, or several.

    Whoever works at the station's own place stands in the record."""
    found = [one for one in find(station.floor(), number) if one.ended is None]
    if not found:
        raise Refusal("no-container", f"No container that is still in use has the number {number.strip()}. Check it.")
    if len(found) > 1:
        named = ", ".join(one.spoken for one in found[:6])
        raise Refusal("which-container", f"Several end in {number.strip()}: {named}. Type the whole number.")
    (container,) = found
    person = station.sessions[station.place].context.person
    floor = station.floor()
    kind = floor.kind(container).title
    said = f"{container.paste}, {kind}, lot {container.lot}, {where(floor, container)}"
    why = f"The identity label of {container.spoken} prints at {station.site.place(place).title}: {said}."
    verdict = plain(Word.DONE, "identity-again", "IDENTITY LABEL", why, AGAIN)
    return station.identify((container.id,), Outcome(verdict, place=station.place), person, place)
