"""New versions of specifications: written as drafts by an engineer, approved by one, or withdrawn.

Nothing goes by a draft. While one waits, the approved version stays in force; its approval puts it in force for
everything at once, and what it tightens is written down for all paste in use in the same append.
"""

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

from station.care import facts as f
from station.care.conditioning import waiting
from station.care.floor import Floor
from station.care.moments import MINUTE, minute_up_span
from station.care.people import called
from station.care.refused import Refused
from station.care.rulebook import OpenDraft
from station.care.specification import Conditioning, Near, Paste, Specification
from station.care.specification_change import same_figures, values
from station.care.versions import tightened
from station.care.words import Limit, Role, Storage

MOST_EXPLAINED = 300
HIGHEST_PASTE_NUMBER = 1023
"""The label code carries the paste number in 10 bits."""
LONGEST_OPEN_LIFE = timedelta(hours=255)
"""The label code carries open life in 8 bits, in whole hours."""
LONGEST_CONDITIONING = 4095 * MINUTE
"""The label code carries the conditioning time in 12 bits, in minutes."""
_ID = re.compile(r"[A-Z0-9][A-Z0-9.-]{0,15}")


def digest(specification: Specification) -> str:
    """A name for the whole content of a specification: the same content, the same name."""
    return hashlib.sha256(repr(specification).encode()).hexdigest()[:16]


class SpecificationRefused(Refused):
    """The draft can't be written, approved or withdrawn; the sentence says what to mend."""


@dataclass(frozen=True, slots=True)
class DraftTold:
    """What an engineer writes: the content of a version, and `paste` itself where the site does not know it yet.

    Version, approval and prompts of `specification` are not the writer's; they are set here. `replaces` is the key of
    the open draft whose place it takes.
    """

    specification: Specification
    paste: Paste | None = None
    explanation: str = ""
    replaces: str = ""


def next_version(floor: Floor, paste: str) -> int:
    """The number a new version of a paste gets: one more than any that was ever in force."""
    return max((version for name, version in floor.ledger.versions if name == paste), default=0) + 1


def draft_fault(floor: Floor, told: DraftTold) -> str:
    """The first thing wrong with it, as a sentence that says how to mend it; "" where it may be written."""
    return (*_faults(floor, told), "")[0]


def _faults(floor: Floor, told: DraftTold) -> Iterator[str]:
    limits, known = told.specification, floor.plant.pastes.get(told.specification.paste)
    if told.paste is None and known is None:
        yield f"There is no paste {limits.paste} here. Add it as a new paste, with its number and metal."
    if told.paste is not None:
        yield from _of_new_paste(floor, told.paste, limits)
    if told.replaces and floor.ledger.rulebook.draft(told.replaces) is None:
        yield "The draft it was to take the place of is not open any more. Look at the drafts again."
    if len(told.explanation) > MOST_EXPLAINED:
        yield f"The explanation has over {MOST_EXPLAINED} characters. Shorten it."
    paste = told.paste or known
    if paste is not None:
        yield from _of_figures(floor, paste, limits)
    if told.paste is None and known is not None and is_in_force(floor, limits):
        yield f"These are the figures in force for {limits.paste}. Change one, or leave it."


def is_in_force(floor: Floor, limits: Specification) -> bool:
    """Whether this content, sources included, is what is approved and in force for its paste."""
    now = floor.specification(limits.paste)
    return now.approved_by is not None and same_figures(now, limits) and _provenance(now) == _provenance(limits)


def _provenance(limits: Specification) -> tuple[object, ...]:
    return limits.data_sheet, limits.page, limits.sources


def _of_new_paste(floor: Floor, paste: Paste, limits: Specification) -> Iterator[str]:
    if paste.id in floor.plant.pastes or paste.id != limits.paste or _ID.fullmatch(paste.id) is None:
        yield f"A new paste can't be called {paste.id}. Choose another id: capital letters, digits, points, hyphens."
    same = [other.id for other in floor.plant.pastes.values() if other.number == paste.number]
    if same:
        yield f"The number {paste.number} is that of {same[0]}. Label codes carry it: choose one that was never used."
    if not 0 <= paste.number <= HIGHEST_PASTE_NUMBER:
        yield f"The number {paste.number} does not fit a label code. Choose one from 0 to {HIGHEST_PASTE_NUMBER}."
    bins = [bin_ for store in floor.plant.stores.values() if store.storage is paste.storage for bin_ in store.bins]
    if not any(bin_.leaded is paste.alloy.leaded and not bin_.hold for bin_ in bins):
        key = "leaded" if paste.alloy.leaded else "lead-free"
        metal, store = "leaded (Pb)" if paste.alloy.leaded else key, paste.storage.value
        yield f'No {store} store has a bin for {metal} paste. Add a bin for = "{key}" in stores.toml first.'


def _of_figures(floor: Floor, paste: Paste, limits: Specification) -> Iterator[str]:
    kinds = [entry.kind for entry in limits.conditioning]
    if not kinds:
        yield f"{paste.id} is bought in no kind of container. Name at least one."
    unknown = [kind for kind in kinds if kind not in floor.plant.kinds]
    if unknown:
        yield f"There is no container kind {unknown[0]}. Use one of {', '.join(floor.plant.kinds)}."
    astray = [source.key for source in limits.sources if source.key not in values(limits)]
    if astray:
        yield f"A source is given for {astray[0]}, which is no figure of {paste.id}. Take it out."
    if limits.open_life + limits.open_extension > LONGEST_OPEN_LIFE:
        yield "Open life and its extension come to more than the 255 h a label can carry. Shorten one."
    if limits.pause_knead > limits.pause_replace:
        yield "The pause before kneading is longer than the one before replacing. Shorten it."
    yield from _dropped(floor, limits)
    if paste.storage is not Storage.ROOM and not unknown:
        yield from _never_ready(floor, limits)


def _dropped(floor: Floor, limits: Specification) -> Iterator[str]:
    """A kind it has no minimum for any more, while containers of it are in stock."""
    now = floor.ledger.specifications.get(limits.paste)
    had = {entry.kind for entry in now.conditioning} if now is not None else set()
    in_stock = {found.kind for found in floor.alive() if found.paste == limits.paste and not found.sources}
    for kind in sorted((had & in_stock) - {entry.kind for entry in limits.conditioning}):
        yield f"There is {limits.paste} in {kind} in stock. Keep its minimum until that is used up."


def _site_near(floor: Floor) -> tuple[tuple[Limit, Near], ...]:
    """How soon limits are prompted at this site, the same for all its pastes."""
    return next(iter(floor.ledger.specifications.values())).near


def _never_ready(floor: Floor, limits: Specification) -> Iterator[str]:
    """Paste that is not ready before its room life is over, in the room the site assumes."""
    room_c, humidity = floor.rules.assumed_room_c, floor.rules.assumed_humidity
    if limits.floor_c > room_c:
        yield (
            f"The site's room air of {room_c:g} °C is colder than {limits.floor_c:g} °C, so it would never be ready. "
            "Lower the lowest temperature for use, or warm the room."
        )
    coldest = min(store.low_c for store in floor.plant.stores.values() if store.storage is not Storage.ROOM)
    for entry in limits.conditioning:
        kind = floor.kind_called(entry.kind)
        longest = waiting(kind, entry.minimum, coldest, room_c, humidity, min(limits.floor_c, room_c)).longest
        if longest >= limits.room_life:
            yield f"Room life is over before {entry.kind} is ready. Lengthen it, or shorten its conditioning."
        elif longest > LONGEST_CONDITIONING:
            yield _no_room_on_a_label(entry, longest)


def _no_room_on_a_label(entry: Conditioning, longest: timedelta) -> str:
    """What to mend where a label can't carry how long a kind takes to be ready."""
    mend = "Shorten its conditioning."
    if entry.minimum <= LONGEST_CONDITIONING:
        mend = "Lower the lowest temperature for use, or warm the room."
    told, most = (_hours(minute_up_span(span)) for span in (longest, LONGEST_CONDITIONING))
    return f"{entry.kind} would take {told} to be ready; a label can carry {most}. {mend}"


def _hours(span: timedelta) -> str:
    hours, minutes = divmod(span // MINUTE, 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def write_drafts(floor: Floor, told: tuple[DraftTold, ...], source: str, by: str) -> tuple[f.SpecificationDrafted, ...]:
    """The facts of new drafts, all or none. Raises SpecificationRefused."""
    refuse_other_than_engineer(floor, by)
    faults = [f"{one.specification.paste}: {fault}" for one in told if (fault := draft_fault(floor, one))]
    if faults or not told:
        raise SpecificationRefused(" ".join(faults) or "There is no draft to write.")
    _refuse_twice(told)
    return tuple(_drafted(floor, one, source) for one in told)


def _refuse_twice(told: tuple[DraftTold, ...]) -> None:
    """Several drafts of one piece must fit together, not only with what is known."""
    numbers = [f"Number {one.paste.number}" for one in told if one.paste is not None]
    for names in ([one.specification.paste for one in told], numbers):
        again = [name for name in names if names.count(name) > 1]
        if again:
            raise SpecificationRefused(f"{again[0]} stands in it twice. Take one of them out.")


def _drafted(floor: Floor, told: DraftTold, source: str) -> f.SpecificationDrafted:
    paste = told.specification.paste
    # a writer knows the figures; the number, the approval and the site's prompts are not the writer's
    version = next_version(floor, paste)
    limits = replace(told.specification, version=version, approved_by=None, near=_site_near(floor))
    return f.SpecificationDrafted(
        limits, digest(limits), told.explanation.strip(), told.paste, told.replaces, source.strip()
    )


def refuse_other_than_engineer(floor: Floor, by: str) -> None:
    """SpecificationRefused for anybody who is no process engineer."""
    if not floor.person_has(by, Role.ENGINEER):
        raise SpecificationRefused("Only a process engineer decides this. Badge in with your PIN.")


def approval_hint(floor: Floor, draft: OpenDraft) -> str:
    """What to say beside a draft where its writer may not approve it; nothing where anybody may."""
    if not floor.rules.two_person:
        return ""
    return f"A process engineer other than {called(floor.ledger.people, draft.writer)} approves it."


def may_approve(floor: Floor, draft: OpenDraft, person: str) -> str:
    """Why this person can't approve a draft, as a sentence that says what to do; "" where nothing is against it."""
    limits = draft.specification
    if not floor.person_has(person, Role.ENGINEER):
        return "Only a process engineer approves a specification. Badge in with your PIN."
    if floor.rules.two_person and draft.writer == person:
        return "You wrote this draft. Another process engineer approves it here."
    if limits.version < next_version(floor, limits.paste):
        now = next_version(floor, limits.paste) - 1
        return f"Version {now} of {limits.paste} came into force since. Write the draft anew from that one."
    if not limits.data_sheet.strip() or not limits.page.strip():
        return "The data sheet edition and page are missing. Write them into the draft: they are what is approved."
    return draft_fault(floor, DraftTold(limits, draft.paste))


def approve_draft(floor: Floor, key: str, by: str) -> tuple[f.Body, ...]:
    """The version and everything it tightens at once. Raises SpecificationRefused."""
    draft = _open_draft(floor, key)
    fault = may_approve(floor, draft, by)
    if fault:
        raise SpecificationRefused(fault)
    limits = replace(draft.specification, approved_by=by)
    replaces = floor.ledger.rulebook.to_replace(limits.paste)
    told = f.SpecificationSet(limits, digest(limits), draft.key, draft.paste, replaces)
    return (told, *tightened(floor.ledger, floor.plant.positions, (limits,)))


def withdraw_draft(floor: Floor, key: str, reason: str, by: str) -> f.DraftWithdrawn:
    """The fact that takes a draft back. Raises SpecificationRefused."""
    refuse_other_than_engineer(floor, by)
    draft = _open_draft(floor, key)
    if not reason.strip():
        raise SpecificationRefused("Say in a few words why; it stands in the record.")
    return f.DraftWithdrawn(draft.key, reason.strip())


def _open_draft(floor: Floor, key: str) -> OpenDraft:
    draft = floor.ledger.rulebook.draft(key)
    if draft is None:
        raise SpecificationRefused("That draft is not open any more. Look at the drafts again.")
    return draft
