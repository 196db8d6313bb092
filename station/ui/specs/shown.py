"""One specification and one draft in final words, as the forms show them."""

from station.care.floor import Floor
from station.care.rulebook import OpenDraft
from station.care.saying import opening
from station.care.spec_drafts import approval_hint
from station.care.spec_preview import PREVIEW_NOTE, Change, PreviewRow, changes, preview
from station.care.specification import Paste, Specification
from station.care.specification_fields import Figure, figures_for, said
from station.ui import wording
from station.ui.specs.edit_form import source_in_words
from station.ui.specs.listing import MAY_WRITE, draft_words, in_force_words, paste_words
from station.ui.specs.pages import Page, allowed, caption, page_of
from station.ui.specs.preview_form import PreviewShown
from station.ui.specs.read_form import FigureLine, SpecificationShown
from station.ui.specs.typed import text_of
from station.ui.view_models import ActionModel

VERSION, DRAFT, COPY, EXPORT = "spec-version", "spec-draft", "spec-new", "spec-export"
OVER = "OVER AT ONCE"


def specification_shown(floor: Floor, paste: Paste, draft: OpenDraft | None) -> SpecificationShown | None:
    """A paste's specification in force with its open draft beside it; of a new paste the draft. None for neither."""
    in_force = floor.ledger.specifications.get(paste.id)
    found = in_force or (draft.specification if draft is not None else None)
    if found is None:
        return None
    beside = draft.specification if draft is not None and in_force is not None else None
    held = in_force_words(floor, in_force, floor.ledger.rulebook.approval(paste.id))
    told = (draft_words(floor, draft),) if draft is not None else ()
    head = (paste_words(paste), held, *told, MAY_WRITE)
    title, acts = f"{paste.id}: {paste.title}", _acts(paste, draft, in_force)
    return SpecificationShown(title, head, _parts(paste, found, beside), acts)


def _acts(paste: Paste, draft: OpenDraft | None, in_force: Specification | None) -> tuple[ActionModel, ...]:
    first = (
        ActionModel(f"{DRAFT}:{draft.key}", "See the draft")
        if draft is not None
        else ActionModel(f"{VERSION}:{paste.id}", "Write a new version")
    )
    more = (ActionModel(f"{COPY}:{paste.id}", "New paste like it"), ActionModel(f"{EXPORT}:{paste.id}", "As a file"))
    return (first, *more) if in_force is not None else (first,)


def _parts(
    paste: Paste, found: Specification, beside: Specification | None
) -> tuple[tuple[str, tuple[FigureLine, ...]], ...]:
    figures = figures_for(paste.storage, found)
    return tuple(
        (page.value, tuple(_line(figure, found, beside) for figure in figures if page_of(figure.key) is page))
        for page in Page
    )


def _line(figure: Figure, found: Specification, beside: Specification | None) -> FigureLine:
    value = text_of(figure, figure.of(found))
    detail = f"{opening(allowed(figure))}. {opening(figure.explanation).rstrip('.')}. "
    other = text_of(figure, figure.of(beside)) if beside is not None else value
    return FigureLine(
        caption(figure), value, detail + source_in_words(found.source_of(figure.key)), "" if other == value else other
    )


def preview_shown(floor: Floor, draft: OpenDraft, paste: Paste) -> PreviewShown:
    """What a draft would change, with who may approve it."""
    reached = preview(floor, draft.specification)
    over = len({row.subject for row in reached if row.over})
    warning = f"{over} of them would be over at once." if over else ""
    title = f"{paste.id}: {paste.title}, draft of version {draft.specification.version}"
    return PreviewShown(
        title=title,
        head=(draft_words(floor, draft), _sheet(draft.specification)),
        figures=tuple(_change_cells(change) for change in changes(floor, draft.specification, paste.storage)),
        reached=tuple(_row_cells(floor, row) for row in reached),
        note=PREVIEW_NOTE,
        warning=warning,
        hint=approval_hint(floor, draft),
    )


def _sheet(found: Specification) -> str:
    page = f", page {found.page}" if found.page else ""
    return f"By {found.data_sheet}{page}." if found.data_sheet else "No data sheet is named yet."


def _change_cells(change: Change) -> tuple[str, ...]:
    before, after = text_of(change.figure, change.before), text_of(change.figure, change.after)
    return caption(change.figure), before or "none", after, _direction(change)


def _direction(change: Change) -> str:
    if change.before is None and not change.figure.none:
        return "new"
    return "tighter, holds at once" if change.tighter else "looser, for what begins later"


def change_line(change: Change) -> str:
    """One changed figure as a line: `Open life: 24 h -> 20 h, tighter`."""
    before, after = text_of(change.figure, change.before), text_of(change.figure, change.after)
    way = "tighter" if change.tighter else "looser"
    told = f"{before} \N{RIGHTWARDS ARROW} {after}, {way}" if before else said(change.figure, change.after)
    return f"{caption(change.figure)}: {told}"


def _row_cells(floor: Floor, row: PreviewRow) -> tuple[str, ...]:
    def moment(at: object) -> str:
        return "none" if at is None else wording.moment(at, floor.now, floor.zone)  # type: ignore[arg-type]

    return opening(row.spoken), opening(row.what), moment(row.before), moment(row.after), OVER if row.over else ""
