"""A maker's label over the form of a delivery: fills what is empty, says what it filled, and asks what is open."""

from collections.abc import Callable

from station.care.makers_label import Carrier, MakersLabel, Question
from station.ui.dialogs.fields import Captioned
from station.ui.dialogs.receive_dialog import MOST_CONTAINERS, ReceiveDialog

Named = tuple[tuple[str, str], ...]
COUNTED = (Carrier.GS1, Carrier.DIGITAL_LINK)
"""Only GS1 says that its quantity is a number of pieces; elsewhere the unit is a matter of agreement."""

IF_NOT = "if not, type the expiry printed on the label, or ask the supplier."


def fill_in(dialog: ReceiveDialog, label: MakersLabel, named: Named, before: str = "") -> None:
    """Take the label over into the fields nobody has filled. `named` are the pastes and kinds it may stand for.

    `before` is the container that came with the same serial number, as people call it.
    """
    filled, differs = [], []

    def offer(name: str, now: str | None, said: str, fill: Callable[[], None]) -> None:
        if said and not now:
            fill()
            filled.append(name)
        elif said and now != said:
            differs.append(f"{name} {said} (here {now})")

    paste, kind = named[0] if len(named) == 1 else ("", "")
    offer("paste", dialog.paste.chosen, paste, lambda: dialog.prefill(paste=paste))
    if paste == dialog.paste.chosen:
        offer("packing", dialog.kind.chosen, kind, lambda: dialog.prefill(kind=kind))
    offer("lot", dialog.lot.text, label.lot, lambda: dialog.prefill(lot=label.lot))
    expires, made = (day.isoformat() if day else "" for day in (label.expires, label.made))
    offer("expiry", dialog.expires.text, expires, lambda: dialog.prefill(expires=label.expires))
    if dialog.made.isVisibleTo(dialog):
        offer("made on", dialog.made.text, made, lambda: dialog.prefill(made=label.made))
    offer("serial", dialog.maker_serial, label.serial, lambda: setattr(dialog, "maker_serial", label.serial))
    count = _count(label)
    if count is not None and dialog.count.text == "1" and count > 1:
        dialog.prefill(count=count)
        filled.append("how many")
    _ask(dialog, label.questions)
    dialog.maker_said = tuple(dict.fromkeys((*dialog.maker_said, *label.besides)))
    seen = f"Serial {label.serial} was received before, as {before}. " if before else ""
    dialog.remark(seen + _told(label, named, filled, differs))


def _count(label: MakersLabel) -> int | None:
    whole = label.carrier in COUNTED and label.quantity.isdigit() and not label.unit
    return int(label.quantity) if whole and 1 <= int(label.quantity) <= MOST_CONTAINERS else None


def _ask(dialog: ReceiveDialog, questions: tuple[Question, ...]) -> None:
    fields: dict[str, Captioned] = {
        "lot": dialog.lot,
        "expires": dialog.expires,
        "made": dialog.made,
        "quantity": dialog.count,
    }
    for question in questions:
        if question.field in fields:
            fields[question.field].complain(asked(question))


def asked(question: Question) -> str:
    """A question with the readings there are."""
    readings = " or ".join(question.choices)
    if not readings:
        return question.sentence
    whether = question.sentence.endswith("?")
    if whether and question.field == "expires":
        return f"{question.sentence} Then type {readings}; {IF_NOT}"
    return f"{question.sentence} Then type {readings}." if whether else f"{question.sentence} Is it {readings}?"


def _told(label: MakersLabel, named: Named, filled: list[str], differs: list[str]) -> str:
    said = [f"Filled in from the maker's label: {', '.join(filled)}." if filled else "Nothing was filled in."]
    if differs:
        said.append(f"The label says otherwise: {', '.join(differs)}.")
    if label.questions:
        fields = dict.fromkeys(question.field for question in label.questions)
        said.append(f"To be looked up on the label: {', '.join(fields)}.")
    if label.items and not named:
        said.append(f"No paste here has the number {', '.join(number for _, number in label.items)}: choose it.")
    if len(named) > 1:
        said.append(f"It may be {' or '.join(f'{paste} {kind}' for paste, kind in named)}: choose.")
    if label.quantity not in ("", "1") and _count(label) is None:
        said.append(f"Quantity {label.fields['quantity']}: say yourself how many containers that is.")
    if label.besides:
        said.append(f"Also on it, and kept in the record: {', '.join(label.besides)}.")
    return " ".join(said)
