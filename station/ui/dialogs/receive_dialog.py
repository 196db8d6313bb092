"""Receiving: what came to the dock, lot after lot of one delivery, from the maker's label and with one's own eyes."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from station.care.receiving import LEAK_CARE, TemperatureAnswer
from station.ui import wording
from station.ui.dialogs import readings
from station.ui.dialogs.arrival_temperature import ArrivalTemperature
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.delivery_dialog import NOTHING_SAID, DeliveryWord
from station.ui.dialogs.fields import PaperField, label
from station.ui.dialogs.look import LOUD, NOTE
from station.ui.dialogs.lots_told import LotsTold
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.readings import Unreadable
from station.ui.dialogs.stepper import CountField
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.widgets.touch_button import TouchButton

MOST_CONTAINERS = 50
MOST_LOT = 30
MOST_NUMBERS = 120
LEAKING, TIGHT = "leaking", "tight"
CAUTIONS = (
    "Read the safety data sheet. Wear gloves and eye protection. Do not eat or drink here, wash your hands after."
    " Do not cover the maker's label."
)
LEADED_CAUTION = "LEADED (Pb): keep it apart, with its own bin, wipes, tools and waste. Health rules for lead apply."


@dataclass(frozen=True)
class KindOffer:
    """A kind of container a paste is bought in, such as `jar 500 g`."""

    id: str
    title: str


@dataclass(frozen=True)
class PasteOffer:
    """A paste to choose. `shelf_months` is set where its shelf life may be counted from the date of manufacture."""

    id: str
    title: str
    family: str
    leaded: bool
    kinds: tuple[KindOffer, ...]
    shelf_months: int | None = None


@dataclass(frozen=True)
class ReceiveWord:
    """What was received of one lot. `arrived_at` is an aware UTC instant, the temperature is in degrees Celsius.

    `on_paper` are numbers read off a down-station sheet, as they were typed. `leaking_count` of them leak, 0 for all
    where `leaking`. `maker_serial` is that of the one container, where its label said it, `maker_said` what else stood
    on makers' labels of this lot. `before` are the lots of the same delivery told before it, `about` what was said of
    the box."""

    paste: str
    kind: str
    lot: str
    expires: date | None
    made: date | None
    count: int
    arrived_at: datetime
    temperature_c: float | None
    temperature_answer: TemperatureAnswer
    leaking: bool
    on_paper: str = ""
    leaking_count: int = 0
    maker_serial: str = ""
    maker_said: tuple[str, ...] = ()
    before: tuple["ReceiveWord", ...] = ()
    about: DeliveryWord = NOTHING_SAID


class ReceiveDialog(PaperDialog):
    """Asks what arrived; `offered` hands over a `ReceiveWord`, `more_wanted` asks for the form of the box."""

    more_wanted = Signal()

    def __init__(
        self,
        pastes: tuple[PasteOffer, ...],
        now: datetime,
        zone: ZoneInfo,
        host: QWidget,
        theme: Theme = LIGHT,
        unit: str = "C",
        *,
        asks_numbers: bool = False,
    ) -> None:
        """`now` (aware UTC) fills in the arrival; `zone` is the plant's; `unit` of temperatures is C or F.

        `asks_numbers` where a down-station sheet is about, whose numbers may stand on what arrived.
        """
        super().__init__("Receive a delivery", "Receive and print", host, theme)
        self.about = NOTHING_SAID
        self.before: tuple[ReceiveWord, ...] = ()
        self.maker_serial = ""
        self.maker_said: tuple[str, ...] = ()
        self._pastes = {paste.id: paste for paste in pastes}
        self._zone = zone
        self._build_what(self.add_column(1))
        self._build_how(self.add_column(1), unit)
        self._build_foot()
        self.on_paper.setVisible(asks_numbers)
        self._fill_arrival(now)
        self._paste_chosen()

    def widest(self) -> float:
        """The widest form of all."""
        return 1700.0

    def fill(self, paste: str = "", kind: str = "", lot: str = "", expires: date | None = None) -> None:
        """Fill in what a maker's label said; a person still looks and hands it in."""
        if paste:
            self.paste.choose(paste)
        if kind:
            self.kind.choose(kind)
        if lot:
            self.lot.fill(lot)
        if expires is not None:
            self.expires.fill(expires.isoformat())

    def prefill(
        self,
        paste: str = "",
        kind: str = "",
        lot: str = "",
        expires: date | None = None,
        made: date | None = None,
        count: int | None = None,
    ) -> None:
        """Fill in all that a maker's label said; what it did not say stays as it is."""
        self.fill(paste, kind, lot, expires)
        if made is not None and self.made.isVisibleTo(self):
            self.made.fill(made.isoformat())
        if count is not None and 1 <= count <= MOST_CONTAINERS:
            self.count.fill(str(count))

    def take_about(self, about: DeliveryWord) -> None:
        """What was said of the box, in the form that lay over this one."""
        self.about = about
        said = [f"cold packs {about.packs.value}" if about.packs else "", f"box {about.box.value}" if about.box else ""]
        said.append("logger in the box" if about.logger_in_box else "")
        self.arrived_clock.note(", ".join(part for part in said if part))

    def restyle(self) -> None:
        """The two further buttons as large as those that hand in and leave."""
        for button in (self.more, self.another):
            button.setFixedSize(QSize(round(self.scale.of(360)), round(self.scale.touch * 1.1)))
        self.told.resize_to(self.scale)

    def collect(self) -> ReceiveWord | None:
        """The delivery, or None after each missing or wrong field got its sentence.

        With lots told before and nothing more filled in, the delivery is those. One truck came once: its time at the
        dock, as it stands when the form is handed in, is that of every lot.
        """
        nothing_more = not (self.lot.text or self.expires.text or self.made.text)
        word = self._last_again() if self.before and nothing_more else self._lot()
        if word is None:
            return None
        before = self.before[:-1] if self.before and nothing_more else self.before
        same_truck = tuple(replace(lot, arrived_at=word.arrived_at) for lot in before)
        return replace(word, before=same_truck, about=self.about)

    def _last_again(self) -> ReceiveWord | None:
        """The lot told last, with arrival and temperature as the form says them now."""
        arrived_at, warmth = self._arrived_at(), self.temperature.answer()
        if arrived_at is None or warmth is None:
            return None
        return replace(
            self.before[-1],
            arrived_at=arrived_at,
            temperature_c=warmth.celsius,
            temperature_answer=warmth.answer,
        )

    def _lot(self) -> ReceiveWord | None:
        paste = self.paste.required(self.tr("Choose the paste. It stands on the maker's label."))
        kind = self.kind.required(self.tr("Choose what it is packed in.")) if paste else None
        lot = self.lot.required(self.tr("Type the lot. It stands on the maker's label."))
        dates = self._dates()
        count = self.count.read(lambda text: readings.count(text, MOST_CONTAINERS))
        arrived_at = self._arrived_at()
        warmth = self.temperature.answer()
        tight = self.tight.required(self.tr("Look at every container, then say how they are."))
        leaks = self.leaks.read(lambda text: readings.count(text, MOST_CONTAINERS)) if self._some_leak() else 0
        if not (paste and kind and lot and dates and count and arrived_at and warmth and tight) or leaks is None:
            return None
        if leaks > count:
            self.leaks.complain(self.tr("More leak than came. Check both numbers."))
            return None
        return ReceiveWord(
            paste,
            kind,
            lot,
            *dates,
            count,
            arrived_at,
            warmth.celsius,
            warmth.answer,
            leaking=tight == LEAKING,
            on_paper=self.on_paper.text.strip(),
            leaking_count=leaks,
            maker_serial=self.maker_serial if count == 1 else "",
            maker_said=self.maker_said,
        )

    # ------------------------------------------------------------------ the fields

    def _build_what(self, column: QVBoxLayout) -> None:
        self.paste, self.kind = ChoiceGroup(self.tr("Paste"), 3), ChoiceGroup(self.tr("Packed in"), 3)
        self.lot = PaperField(self.tr("Lot"), most=MOST_LOT)
        self.count = CountField(self.tr("How many"), MOST_CONTAINERS)
        self.expires = PaperField(self.tr("Expires, as 2027-03-31"), most=10)
        self.made = PaperField(self.tr("or made on"), most=10)
        self.on_paper = PaperField(self.tr("Numbers on the down-station sheet, if they have any"), most=MOST_NUMBERS)
        choices = (ActionModel(paste.id, paste.id, paste.family) for paste in self._pastes.values())
        self.paste.offer(tuple(choices), self.theme, self.scale)
        self.paste.chosen_changed.connect(self._paste_chosen)
        self.told = LotsTold(self.tr("Lots told before, recorded together with this one"))
        self.told.taken_back.connect(self._take_back)
        for part in (self.told, self.paste, self.kind):
            column.addWidget(part)
        column.addLayout(_beside(self.lot, self.count))
        column.addLayout(_beside(self.expires, self.made))
        column.addWidget(self.on_paper)
        column.addStretch(1)
        for field in (self.expires, self.made):
            field.edited.connect(self._read_dates_back)

    def _build_how(self, column: QVBoxLayout, unit: str) -> None:
        self.arrived_day = PaperField(self.tr("At the dock on"), most=10)
        self.arrived_clock = PaperField(self.tr("at"), most=5)
        self.temperature = ArrivalTemperature(unit, self.theme, self.scale)
        self.tight = ChoiceGroup(self.tr("Looked at every container"), 2)
        answers = (ActionModel(TIGHT, "All tight"), ActionModel(LEAKING, "Leaking or damaged"))
        self.tight.offer(answers, self.theme, self.scale)
        self.leaks = CountField(self.tr("How many of them leak or are damaged"), MOST_CONTAINERS)
        self.tight.chosen_changed.connect(self._say_how_far)
        self.count.edited.connect(self._say_how_far)
        self.leaded, self.cautions = label(LOUD, LEADED_CAUTION), label(NOTE, CAUTIONS)
        column.addLayout(_beside(self.arrived_day, self.arrived_clock))
        for part in (self.temperature, self.tight, self.leaks, self.leaded, self.cautions):
            column.addWidget(part)
        column.addStretch(1)
        for field in (self.arrived_day, self.arrived_clock):
            field.edited.connect(self._read_arrival_back)

    def _build_foot(self) -> None:
        """What the usual delivery needs not: more lots, and how the box came. One touch away, beside the act."""
        self.more = TouchButton(ActionModel("more", self.tr("Box and packs")))
        self.another = TouchButton(ActionModel("another", self.tr("Another lot")))
        self.more.acted.connect(lambda _id: self.more_wanted.emit())
        self.another.acted.connect(lambda _id: self._next_lot())
        for button in (self.more, self.another):
            self.add_act(button)
        self._say_how_far()

    def _next_lot(self) -> None:
        """Keep this lot and go on with the next of the same delivery; nothing is recorded yet."""
        self.refuse("")
        word = self._lot()
        if word is None:
            return
        self.before, self.maker_serial, self.maker_said = (*self.before, word), "", ()
        for field in (self.lot, self.expires, self.made, self.on_paper):
            field.fill("")
        self.count.fill("1")
        self.tight.clear()
        self._say_how_far()
        self._show_told()
        self.lot.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_told(self) -> None:
        self.told.take([f"{lot.count} x {lot.paste} lot {lot.lot}" for lot in self.before], self.scale)
        # once more when Qt has made room for them, so that nothing to be touched is squeezed or cut
        QTimer.singleShot(0, self, self._lay_sheet)

    def _take_back(self, place: int) -> None:
        """A lot told before was wrong: it goes, and into the fields where they are empty, to be told better."""
        lot = self.before[place]
        self.before = (*self.before[:place], *self.before[place + 1 :])
        self._show_told()
        empty = not (self.lot.text or self.expires.text or self.made.text)
        if empty:
            self.prefill(lot.paste, lot.kind, lot.lot, lot.expires, lot.made, lot.count)
            self.maker_serial, self.maker_said = lot.maker_serial, lot.maker_said
            self.on_paper.fill(lot.on_paper)
        stands = self.tr("It stands in the form again.") if empty else ""
        self.remark(f"{self.tr('Lot {} is taken back; nothing was recorded.').format(lot.lot)} {stands}".strip())

    def _some_leak(self) -> bool:
        return self.tight.chosen == LEAKING and self.count.text != "1"

    def _fill_arrival(self, now: datetime) -> None:
        local = now.astimezone(self._zone)
        self.arrived_day.fill(local.date().isoformat())
        self.arrived_clock.fill(f"{local:%H:%M}")

    def _paste_chosen(self) -> None:
        paste = self._pastes.get(self.paste.chosen or "")
        kinds = paste.kinds if paste else ()
        self.kind.offer(tuple(ActionModel(kind.id, kind.title) for kind in kinds), self.theme, self.scale)
        self.kind.note("" if kinds else self.tr("Choose the paste first."))
        self.kind.calm()
        self.leaded.setVisible(paste is not None and paste.leaded)
        by_months = paste is not None and paste.shelf_months is not None
        self.made.setVisible(by_months)
        if not by_months:
            self.made.fill("")

    def _say_how_far(self) -> None:
        """Only what leaks goes on hold; how many, is asked where there are several."""
        leaking = self.tight.chosen == LEAKING
        self.leaks.setVisible(self._some_leak())
        self.leaks.note(self.tr("The first labels that come out belong on these.") if self._some_leak() else "")
        self.tight.note(LEAK_CARE if leaking else "")

    # ------------------------------------------------------------------ reading

    def _dates(self) -> tuple[date | None, date | None] | None:
        """Expiry and manufacture, of which one is enough where the shelf life is counted in months."""
        if self.made.text and not self.expires.text:
            made = self.made.read(readings.iso_date)
            return None if made is None else (None, made)
        expires = self.expires.read(readings.iso_date)
        made = self.made.read(readings.iso_date) if self.made.text else None
        if expires is None or (self.made.text and made is None):
            return None
        return expires, made

    def _arrived_at(self) -> datetime | None:
        day = self.arrived_day.read(readings.iso_date)
        clock = self.arrived_clock.read(readings.wall_time)
        if day is None or clock is None:
            return None
        return self.arrived_clock.read(lambda _: readings.plant_instant(day, clock, self._zone))

    def _read_dates_back(self) -> None:
        for field in (self.expires, self.made):
            field.note(_in_words(field.text))
        try:
            over = readings.iso_date(self.expires.text) < readings.iso_date(self.arrived_day.text)
        except Unreadable:
            return
        if over:
            words = _in_words(self.expires.text)
            self.expires.note(self.tr("{}: over before it came. Is the year right?").format(words))

    def _read_arrival_back(self) -> None:
        self._read_dates_back()
        try:
            day, clock = readings.iso_date(self.arrived_day.text), readings.wall_time(self.arrived_clock.text)
            instant = readings.plant_instant(day, clock, self._zone)
        except Unreadable:
            self.arrived_day.note("")
            return
        twice = readings.comes_twice(instant, self._zone)
        extra = self.tr(" (this hour came twice: the first is taken)") if twice else ""
        self.arrived_day.note(wording.day_and_time(instant, self._zone) + extra)


def _in_words(text: str) -> str:
    try:
        return readings.day_in_words(readings.iso_date(text))
    except Unreadable:
        return ""


def _beside(*fields: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(10)
    for field in fields:
        row.addWidget(field, 1, Qt.AlignmentFlag.AlignTop)
    return row
