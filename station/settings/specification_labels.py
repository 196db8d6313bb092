"""Whether the labels of this site have room for what drafts bring in: asked when they are written, not at the door."""

from collections.abc import Iterable
from dataclasses import replace

from station.care.floor import Floor
from station.care.spec_drafts import DraftTold
from station.services.site import Site
from station.settings.faults import SettingsFault
from station.settings.label_check import label_faults


def draft_label_faults(site: Site, floor: Floor, drafts: Iterable[DraftTold]) -> tuple[SettingsFault, ...]:
    """What would not fit a label, or be missing on it, once these were in force; what is so already is left out.

    Lays out every template, which takes about a second; nothing is asked where a draft changes no text of a label.
    """
    told = [draft for draft in drafts if _shows(floor, draft)]
    if not told:
        return ()
    after = replace(
        site,
        plant=replace(floor.plant, pastes=floor.plant.pastes | {one.paste.id: one.paste for one in told if one.paste}),
        specifications=(*site.specifications, *(one.specification for one in told)),
    )
    already = {fault.sentence for fault in label_faults(site)}
    return tuple(fault for fault in label_faults(after) if fault.sentence not in already)


def _shows(floor: Floor, draft: DraftTold) -> bool:
    """Whether labels get texts by it that they did not have: a paste, or another container it may be filled into."""
    before = floor.ledger.specifications.get(draft.specification.paste)
    lives = ("decanted_life", "used_paste_life")
    return before is None or any(
        getattr(draft.specification, life) is not None and getattr(before, life) is None for life in lives
    )
