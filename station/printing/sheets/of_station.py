"""What a station prints of its own record: down-station sheets and badges, on record before anybody has them."""

from collections.abc import Iterable

from station.labels.plaincodes import known_texts
from station.labels.sheet_down import LABELS, down_pages
from station.labels.sheet_limits import down_sheet
from station.labels.sheet_paper import Paper
from station.printing.sheets.drawing import sheets_pdf
from station.printing.sheets.of_site import cards_pdf
from station.services.badges import present, record_badges
from station.services.outcome import Refusal
from station.services.station import Proof, Station

WIDEST = "K255-1048575"  # the longest container number there can be


def down_station_pdf(station: Station, paper: Paper, person: str | None, pastes: Iterable[str] = ()) -> bytes:
    """A sheet for each of these pastes, or of all; `person` is on record as who had them printed.

    Raises Refusal for a paste that is not known, LabelFault where something does not fit, with no number spent, and
    JournalTrouble where the numbers can't be recorded.
    """
    floor = station.floor()
    wanted = tuple(pastes) or tuple(floor.plant.pastes)
    unknown = [paste for paste in wanted if paste not in floor.plant.pastes]
    if unknown:
        known = ", ".join(floor.plant.pastes)
        raise Refusal("unknown-paste", f"There is no paste {unknown[0]!r} in this plant; known are {known}.")
    down_pages([down_sheet(floor, paste, (WIDEST,) * LABELS) for paste in wanted], paper)
    sheets = [down_sheet(floor, paste, station.reserve(paste, LABELS, person)) for paste in wanted]
    return sheets_pdf(down_pages(sheets, paper), f"Down-station sheets of {station.site.name}", floor.now)


def badges_pdf(station: Station, paper: Paper, proof: Proof) -> bytes:
    """The badges of everybody who works here, to print and cut out.

    Raises Refusal for the proof, LabelFault for a name that is too long, JournalTrouble; nothing is made then.
    """
    people = present(station)
    known = known_texts(people=people)
    sheets = cards_pdf(station.site, known, paper, station.floor().now, ("badge",), people)
    record_badges(station, tuple(people), proof)
    return sheets
