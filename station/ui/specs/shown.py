"""One specification and one draft in final words, as the forms show them."""

from collections.abc import Mapping
from datetime import datetime

from station.care.floor import Floor
from station.care.rulebook import OpenDraft
from station.care.saying import opening
from station.care.spec_drafts import approval_hint
from station.care.spec_preview import PREVIEW_NOTE, PreviewRow, preview
from station.care.specification import Paste, Specification
from station.care.specification_change import Change, changes
from station.ui import wording
from station.ui.specs.edit_form import source_in_words
from station.ui.specs.listing import draft_words, in_force_words, may_write, paste_words, titled
from station.ui.specs.preview_form import PreviewShown
from station.ui.specs.read_form import FigureLine, SpecificationShown
from station.ui.specs.table import Figure, Page, figure_called, figures_of
from station.ui.view_models import ActionModel

VERSION, DRAFT, COPY, EXPORT = "spec-version", "spec-draft", "spec-new", "spec-export"
OVER = "OVER AT ONCE"
ARROW = "\N{RIGHTWARDS ARROW}"


def kind_titles(floor: Floor) -> dict[str, str]:
    """How container kinds are called, by id."""
    return {kind.id: kind.title for kind in floor.plant.kinds.values()}


def figures_in(floor: Floor, paste: Paste, found: Specification) -> tuple[Figure, ...]:
    """The figures a specification has."""
    titles = kind_titles(floor)
    every = figures_of(paste.storage, {entry.kind: titles.get(entry.kind, entry.kind) for entry in found.conditioning})
    return tuple(figure for figure in every if figure.told(found))


def specification_shown(floor: Floor, paste: Paste, draft: OpenDraft | None) -> SpecificationShown | None:
    """A paste's specification in force with its open draft beside it; of a new paste the draft. None for neither."""
    in_force = floor.ledger.specifications.get(paste.id)
    found = in_force or (draft.specification if draft is not None else None)
    if found is None:
        return None
    beside = draft.specification if draft is not None and in_force is not None else None
    held = in_force_words(floor, in_force, floor.ledger.rulebook.approval(paste.id))
    told = (draft_words(floor, draft),) if draft is not None else ()
    title, acts = titled(paste), _acts(paste, draft, in_force)
    head = (paste_words(paste), held, *told, may_write(floor))
    return SpecificationShown(title, head, _parts(floor, paste, found, beside), acts)


def _acts(paste: Paste, draft: OpenDraft | None, in_force: Specification | None) -> tuple[ActionModel, ...]:
    version = ActionModel(f"{VERSION}:{paste.id}", "Write a version")
    first = ActionModel(f"{DRAFT}:{draft.key}", "See the draft") if draft is not None else version
    more = (ActionModel(f"{COPY}:{paste.id}", "New paste like it"), ActionModel(f"{EXPORT}:{paste.id}", "As a file"))
    return (*more, first) if in_force is not None else (first,)


def _parts(
    floor: Floor, paste: Paste, found: Specification, beside: Specification | None
) -> tuple[tuple[str, tuple[FigureLine, ...]], ...]:
    figures = figures_in(floor, paste, found)
    return tuple(
        (page.value, tuple(_line(figure, found, beside) for figure in figures if figure.page is page)) for page in Page
    )


def _line(figure: Figure, found: Specification, beside: Specification | None) -> FigureLine:
    value = figure.shown(figure.told(found))
    other = figure.shown(figure.told(beside)) if beside is not None else value
    detail = f"{opening(figure.allowed)}. {figure.why} {source_in_words(found.source_of(figure.key))}"
    return FigureLine(figure.name, value, detail, "" if other == value else other or "none")


# ---------------------------------------------------------------------- drafts


def preview_shown(floor: Floor, draft: OpenDraft, paste: Paste) -> PreviewShown:
    """What a draft would change, with who may approve it."""
    reached = preview(floor, draft.specification)
    over = len({row.subject for row in reached if row.over})
    return PreviewShown(
        title=f"{paste.id}: draft of version {draft.specification.version}",
        head=(paste_words(paste), draft_words(floor, draft), _sheet(floor, draft.specification)),
        figures=tuple(_cells(one) for one in changed_figures(floor, draft.specification)),
        reached=tuple(_row_cells(floor, row) for row in reached),
        note=PREVIEW_NOTE,
        warning=_over(over),
        hint=approval_hint(floor, draft),
    )


def _over(many: int) -> str:
    if not many:
        return ""
    subject = "1 container or bead" if many == 1 else f"{many} containers or beads"
    return f"{subject} would be over at once."


def _sheet(floor: Floor, found: Specification) -> str:
    if not found.data_sheet or not found.page:
        return "The data sheet edition or page is missing: change the draft first, the approval needs both."
    before = _edition(floor.ledger.specifications.get(found.paste))
    until_now = f"; until now {before}" if before and before != _edition(found) else ""
    return f"By {_edition(found)}{until_now}."


def _edition(found: Specification | None) -> str:
    """The data sheet of a specification with the page, empty where neither is said."""
    if found is None:
        return ""
    return ", ".join(part for part in (found.data_sheet, f"page {found.page}" if found.page else "") if part)


Changed = tuple[str, str, str, str]
"""A figure's name, its text in force and in the draft, and which way it goes."""


def changed_figures(floor: Floor, draft: Specification) -> tuple[Changed, ...]:
    """The figures that a draft changes, in the order of the table."""
    before, titles = floor.ledger.specifications.get(draft.paste), kind_titles(floor)
    found = {change.key: change for change in changes(before, draft)}
    place = {page: number for number, page in enumerate(Page)}
    figures = [figure for key in found if (figure := figure_called(key, titles)) is not None]
    ordered = sorted(figures, key=lambda figure: place[figure.page])
    told = (_changed(figure, found[figure.key], before, draft) for figure in ordered)
    return tuple(changed for changed in told if changed[1] != changed[2])


def _changed(figure: Figure, change: Change, before: Specification | None, draft: Specification) -> Changed:
    was, becomes = figure.told(before) if before is not None else "", figure.told(draft)
    return figure.name, figure.shown(was), figure.shown(becomes), _way(change, was, becomes)


def _way(change: Change, was: str, becomes: str) -> str:
    if not was:
        return "new"
    if not becomes:
        return "taken out"
    return {True: "tighter", False: "looser", None: "changed"}[change.tighter]


def _cells(changed: Changed) -> tuple[str, ...]:
    meaning = {"tighter": "tighter: holds at once", "looser": "looser: for what begins later"}
    return *changed[:3], meaning.get(changed[3], changed[3])


def change_lines(floor: Floor, draft: Specification) -> tuple[str, ...]:
    """The changed figures as lines, `Open life: 24 h -> 20 h, tighter`, and a changed data sheet."""
    figures = tuple(
        f"{name}: {was} {ARROW} {becomes or 'none'}, {way}" if was else f"{name}: {becomes}"
        for name, was, becomes, way in changed_figures(floor, draft)
    )
    before, after = _edition(floor.ledger.specifications.get(draft.paste)), _edition(draft)
    sheet = f"Data sheet: {before or 'none'} {ARROW} {after or 'none'}"
    return (*figures, sheet) if before != after else figures


def _row_cells(floor: Floor, row: PreviewRow) -> tuple[str, ...]:
    def moment(at: datetime | None) -> str:
        return "none" if at is None else wording.moment(at, floor.now, floor.zone)

    return opening(row.spoken), opening(row.what), moment(row.before), moment(row.after), OVER if row.over else ""


def kind_offers(kinds: Mapping[str, str]) -> tuple[ActionModel, ...]:
    """Container kinds to touch."""
    return tuple(ActionModel(id_, id_, title) for id_, title in kinds.items())
