"""Every form that the desk leads to, opened and handed in without a PIN: nothing of a lead's is recorded by it."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from station.care.proofs import needs_proof
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.recertify_dialog import RecertifyDialog
from station.ui.dialogs.sheet import MoreDialog
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift
from tests.ui.test_lead_forms import scan

# by touch: more, its topic, what may be done, of which
DEEPEST = 4
# chosen one after another they are alike: one is looked at
ONE_OF = ("note", "person", "reaction")
# a thread, a file or a printer is behind these, or they leave the desk
BESIDE = ("story", "sheet", "digest", "places")


@pytest.fixture
def plant() -> Plant:
    found = mid_shift()
    found.later(timedelta(hours=9))
    return found


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def opened(desk: StationWindow, act: str) -> PaperDialog | None:
    """The form of a touch, if there is one; those of before are left."""
    for form in reversed(desk.dialogs._open.copy()):
        form.leave()
    kind, _, rest = act.partition(":")
    desk.dialogs.open(kind, rest)
    return desk.dialogs._open[-1] if desk.dialogs._open else None


def walked(desk: StationWindow, act: str, depth: int = 1) -> set[str]:
    """Open every form that a touch leads to and hand it in; which of them ask for badge and PIN."""
    form, kind = opened(desk, act), act.partition(":")[0]
    if not isinstance(form, MoreDialog):
        if form is not None:
            form.hand_in.click()
        return {kind} if isinstance(form, LeadDialog | RecertifyDialog) else set()
    proving: set[str] = set()
    kinds: set[str] = set()
    for action in [button.action_model for button in form.buttons] if depth < DEEPEST else []:
        further = action.id.partition(":")[0]
        if further in BESIDE or (further in ONE_OF and further in kinds) or further not in desk.dialogs._openers:
            continue
        kinds.add(further)
        proving |= walked(desk, action.id, depth + 1)
    return proving


def acts_on_screen(desk: StationWindow) -> list[str]:
    """What may be touched at the desk itself: on the screen and on the cards of its alarms."""
    model = desk.work.screen()
    touched = (*model.actions, *(action for card in model.alarm_cards for action in card.actions))
    return [action.id for action in touched if action.id.partition(":")[0] in desk.dialogs._openers]


@pytest.mark.parametrize(("name", "badge"), [("", "P20"), ("a2", "P12")])
def test_no_form_of_the_desk_says_a_leads_word_without_a_pin(
    desk: StationWindow, plant: Plant, name: str, badge: str
) -> None:
    if name:
        scan(desk, plant, name)
    desk.hear(HeardScan(badge_text(badge), ""))
    touches = dict.fromkeys([*acts_on_screen(desk), f"more:{plant.names[name] if name else ''}"])
    told = len(plant.station.ledger.facts())
    proving = {kind for first in touches for kind in walked(desk, first)}
    new = [fact.body for fact in plant.station.ledger.facts()[told:]]
    assert [body for body in new if needs_proof(body)] == []
    assert proving >= {"hold-lot", "recertify", "take-back"}
    assert proving >= ({"correct"} if name else {"move-store", "store-out", "person", "own-pin", "reaction", "clear"})
