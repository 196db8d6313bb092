"""What stands on the down-station sheet of one paste: the figures people need when they can't ask the station."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from station.care.by_hand import warming_by_hand
from station.care.floor import Floor
from station.care.saying import span
from station.care.specification import Band, Paste, Specification, Store
from station.care.words import Storage
from station.labels.content import time_text

CAUTIONS = (
    "Read the safety data sheet. Gloves and eye protection. No eating or drinking; wash hands after.",
    "Never heat paste. Do not cover the maker's label. Waste paste, jars and wipes go by the local rules.",
    "The process engineer, the supplier's data sheet and local law decide.",
)
LEADED = "LEADED (Pb): separate wipes, tools and waste. The health rules for lead apply."
NO_TIME = "ask the process engineer"
DRAFT, DEMO_DRAFT = "A DRAFT: NOTHING MAY BE USED BY IT", "a draft, for this demo only"


@dataclass(frozen=True, slots=True)
class DownSheet:
    """One sheet: lines of (what, figure) under headings, cautions, and the numbers kept for it."""

    paste: str
    title: str
    shout: str
    edition: str
    warming: tuple[tuple[str, str], ...]
    lives: tuple[tuple[str, str], ...]
    temperatures: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]
    numbers: tuple[str, ...]


def down_sheet(floor: Floor, paste_id: str, numbers: tuple[str, ...]) -> DownSheet:
    """The sheet of a paste by the specification in force; `numbers` were reserved for it."""
    paste, limits = floor.plant.pastes[paste_id], floor.specification(paste_id)
    approved = f"approved by {limits.approved_by}" if limits.approved_by else DEMO_DRAFT if floor.rules.demo else DRAFT
    return DownSheet(
        paste=paste.id,
        title=f"{paste.title}, {paste.part_number}",
        shout=paste.alloy.shout,
        edition=f"Specification version {limits.version}, {approved}. Printed {time_text(floor.now, floor.zone)}.",
        warming=tuple(_warming(floor, paste, limits)),
        lives=tuple(_lives(paste, limits)),
        temperatures=tuple(_temperatures(floor, paste, limits)),
        cautions=(*((LEADED,) if paste.alloy.leaded else ()), *CAUTIONS),
        numbers=numbers,
    )


def _warming(floor: Floor, paste: Paste, limits: Specification) -> Iterator[tuple[str, str]]:
    if limits.thaw is not None:
        yield "first in the refrigerator", f"{span(limits.thaw.at_least)} to {span(limits.thaw.at_most)}"
    for entry in limits.conditioning:
        length = warming_by_hand(floor, paste.id, entry.kind)
        never = "none" if paste.storage is Storage.ROOM else NO_TIME
        yield floor.plant.kinds[entry.kind].title, f"at least {span(length)}" if length is not None else never


def _lives(paste: Paste, limits: Specification) -> Iterator[tuple[str, str]]:
    if paste.storage is not Storage.ROOM:
        yield "dock to cold storage", _most(limits.to_cold)
        yield "closed, all time out of the cold", _most(limits.room_life)
    yield "once opened", _most(limits.open_life)
    yield "on the stencil", _most(limits.stencil_life)
    if limits.enclosed_life is not None:
        yield "in an enclosed head", _most(limits.enclosed_life)
    yield "pause: wipe and knead", f"over {span(limits.pause_knead)}"
    yield "pause: replace the bead", f"over {span(limits.pause_replace)}"
    if paste.storage is not Storage.ROOM:
        yield "back into the cold", "never" if limits.cold_cycles <= 1 else "ask the shift lead"


def _temperatures(floor: Floor, paste: Paste, limits: Specification) -> Iterator[tuple[str, str]]:
    for store in floor.plant.stores.values():
        if _is_for(store, paste, limits):
            yield store.title, f"{store.low_c:g} to {store.high_c:g} °C"
    yield "arrival: tell the lead", f"over {limits.arrival_warn_above_c:g} °C"
    yield "arrival: hold", f"over {limits.arrival_hold_above_c:g}, under {limits.arrival_hold_below_c:g} °C"
    yield "do not open below", f"{limits.floor_c:g} °C"
    yield "room at the printer", f"{_band(limits.printing_room_c)} °C"
    yield "humidity there", f"{_band(limits.printing_humidity)} %"


def _is_for(store: Store, paste: Paste, limits: Specification) -> bool:
    thawing = limits.thaw is not None and store.storage is Storage.COLD
    return store.storage is paste.storage or thawing


def _band(band: Band) -> str:
    return f"{band.low:g} to {band.high:g}"


def _most(length: timedelta) -> str:
    return f"at most {span(length)}"
