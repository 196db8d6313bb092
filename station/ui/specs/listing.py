"""The lists at the desk in words: specifications with their drafts, products and work orders with their pastes."""

from station.care.floor import Floor
from station.care.list_story import PasteList
from station.care.rulebook import Approval, OpenDraft
from station.care.saying import opening
from station.care.specification import Paste, Specification
from station.care.words import Storage
from station.ui import wording
from station.ui.specs.list_form import Row
from station.ui.view_models import ActionModel

READ, LIST = "specification", "paste-list"
MAY_WRITE = "Everybody may read. A process engineer writes and approves, by badge and PIN."

KEPT = {Storage.COLD: "kept cold", Storage.FROZEN: "kept frozen", Storage.ROOM: "kept at room temperature"}
TWO_PERSON = "A draft is approved by another process engineer than its writer."
TWICE = "It was approved at two stations with different figures, neither knowing of the other: the stricter ones hold "
TWICE += "until a newer version."


def may_write(floor: Floor) -> str:
    """Who may do what with specifications at this site."""
    return f"{MAY_WRITE} {TWO_PERSON}" if floor.rules.two_person else MAY_WRITE


def specification_rows(floor: Floor) -> tuple[Row, ...]:
    """One row for each paste, and one for each draft of a paste the site does not have yet; drafts come first."""
    drafts = {draft.specification.paste: draft for draft in floor.ledger.rulebook.drafts}
    known = sorted(floor.plant.pastes.values(), key=lambda paste: (paste.id not in drafts, paste.id))
    new = [draft for draft in drafts.values() if draft.paste is not None and draft.paste.id not in floor.plant.pastes]
    return (*(_new_row(floor, draft) for draft in new), *(_row(floor, paste, drafts.get(paste.id)) for paste in known))


def _row(floor: Floor, paste: Paste, draft: OpenDraft | None) -> Row:
    found = floor.ledger.specifications.get(paste.id)
    held = in_force_words(floor, found, floor.ledger.rulebook.approval(paste.id))
    details = [paste_words(paste), held, *([draft_words(floor, draft)] if draft is not None else [])]
    return Row(titled(paste), tuple(details), ActionModel(f"{READ}:{paste.id}", "Read"))


def _new_row(floor: Floor, draft: OpenDraft) -> Row:
    paste = draft.paste
    assert paste is not None
    details = (paste_words(paste), f"New here, not to be used yet. {draft_words(floor, draft)}")
    return Row(titled(paste), details, ActionModel(f"{READ}:{paste.id}", "Read"))


def titled(paste: Paste) -> str:
    """Its short name and its title, the name once where the title begins with it."""
    return paste.title if paste.title.startswith(f"{paste.id} ") else f"{paste.id}: {paste.title}"


def paste_words(paste: Paste) -> str:
    """Part number, metal and how it is kept."""
    return f"{paste.part_number}, {paste.alloy.value}, {paste.alloy.shout}, {KEPT[paste.storage]}"


def in_force_words(floor: Floor, found: Specification | None, approval: Approval | None) -> str:
    """The version in force, by whom and since when, and its data sheet."""
    if found is None:
        return "No version is in force: it may be used nowhere."
    sheet = ", ".join(part for part in (found.data_sheet, f"page {found.page}" if found.page else "") if part)
    source = f" {opening(sheet)}." if sheet else " No data sheet named."
    twice = f" {TWICE}" if floor.ledger.rulebook.disputed(found.paste) else ""
    return f"Version {found.version}, {_by_whom(floor, found, approval)}.{source}{twice}"


def _by_whom(floor: Floor, found: Specification, approval: Approval | None) -> str:
    since = f" {wording.moment(approval.at, floor.now, floor.zone)}" if approval is not None else ""
    if approval is not None and approval.by is not None:
        return f"approved by {name_of(floor, approval.by)}{since}"
    if found.approved_by is None:
        return f"a draft from the settings{since}"
    return f"from the settings{since}, approved by {name_of(floor, found.approved_by)}"


def draft_words(floor: Floor, draft: OpenDraft) -> str:
    """A draft, by whom and when, and what was said of it."""
    when = wording.moment(draft.at, floor.now, floor.zone)
    said = f" “{draft.explanation}”" if draft.explanation else ""
    return f"Draft of version {draft.specification.version} by {name_of(floor, draft.writer)}, {when}.{said}"


def name_of(floor: Floor, badge: str) -> str:
    """A person's name with the badge, or the badge alone."""
    known = floor.ledger.people.get(badge)
    return f"{known.name} ({badge})" if known is not None else badge


# ---------------------------------------------------------------------- paste lists


def list_rows(floor: Floor) -> tuple[Row, ...]:
    """One row for each product, and below it those of its work orders that have a list of their own."""
    lists = floor.ledger.rulebook.lists
    rows = []
    for product in sorted(floor.plant.products.values(), key=lambda product: product.id):
        rows.append(_list_row(floor, product.id, "", product.title, product.pastes, lists.get((product.id, ""))))
        own = sorted((key[1], found) for key, found in lists.items() if key[0] == product.id and key[1])
        rows += [_list_row(floor, product.id, order, "", found.pastes, found) for order, found in own]
    return tuple(rows)


def _list_row(
    floor: Floor, product: str, order: str, title: str, pastes: tuple[str, ...], told: PasteList | None
) -> Row:
    what = f"{product}, work order {order} only" if order else f"{product}: {title}"
    details = (pastes_words(floor, pastes), list_words(floor, told))
    return Row(what, details, ActionModel(f"{LIST}:{product}:{order}", "Open"))


def pastes_words(floor: Floor, pastes: tuple[str, ...]) -> str:
    """The pastes by name, and the metal once; leaded is loud."""
    known = [floor.plant.pastes[paste] for paste in pastes if paste in floor.plant.pastes]
    shouts = " AND ".join(sorted({paste.alloy.shout for paste in known}))
    return f"{', '.join(pastes)}: {shouts}" if pastes else "No paste approved."


def list_words(floor: Floor, told: PasteList | None) -> str:
    """Who approved a list, and when."""
    if told is None or told.by is None:
        return "From the settings."
    note = f" “{told.note}”" if told.note else ""
    return f"Approved by {name_of(floor, told.by)} {wording.moment(told.at, floor.now, floor.zone)}.{note}"
