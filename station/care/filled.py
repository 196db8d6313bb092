"""What the two ways of filling a container here have in common: how its number, its lots and its times are said.

A container filled at work must tell what is in it and what its hazards are (29 CFR 1910.1200(f)(6); in the EU the
CLP regulation, 1272/2008). Hazards are the maker's to state, so a person is told to put the maker's words beside the
new label.
"""

from collections.abc import Iterable

from station.care.answers import at_text
from station.care.floor import Floor
from station.care.limits import Running
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.waste import leaded
from station.care.words import Limit, Word

INTO_CLEAN = (
    "Into a clean container, lid on. On its body: the new label, and beside it the maker's hazard information "
    "(product name, pictograms, warnings)."
)


def spoken(name: str) -> str:
    """A container number as shown and said: `K7 311`."""
    return name.replace("-", " ")


def lot_of(sources: Iterable[Container]) -> str:
    """The lot of what was filled together, short enough for any label; which ones they are its sources say."""
    lots = {source.lot for source in sources}
    return lots.pop() if len(lots) == 1 else "several"


def packed(floor: Floor, container: Container) -> str:
    """What a container is, in a few words: `jar 500 g`, or what was filled into it, `decanted from K7 301`; of a kind
    that is not set up here its id."""
    if not container.sources:
        return floor.kind(container).title if container.kind in floor.plant.kinds else container.kind
    what = "used paste of" if container.content_limit is Limit.USED_PASTE else "decanted from"
    first, *others = container.sources
    return f"{what} {spoken(first)}{f' + {len(others)}' if others else ''}"


def filled(floor: Floor, code: str, name: str, paste: str, ends: Iterable[Running], why: str, todo: str) -> Verdict:
    """DONE for a container that exists once this decision is on record; `ends` are all its limits."""
    limit, end = min(ends, key=lambda entry: entry[1])
    return Verdict(
        word=Word.DONE,
        code=code,
        headline=spoken(name),
        why=f"{why} Discard it by {at_text(floor, end)} ({limit.value}).",
        todo=todo,
        container=name,
        times=(("discard by", end),),
        governing=limit.value,
        note="LEADED (Pb): its own tools, wipes and waste." if leaded(floor, paste) else "",
    )
