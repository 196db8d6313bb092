"""The keyboard wedge: a scanner that types, heard by the whole program through one event filter."""

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QInputMethodEvent, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)

from .places import place_of
from .stream import Incomplete, Outputs, Replay, Scan, Stream, Stroke, WedgeTiming

_CONTROL = Qt.KeyboardModifier.ControlModifier
_ALT = Qt.KeyboardModifier.AltModifier
_SHIFT = Qt.KeyboardModifier.ShiftModifier
_META = Qt.KeyboardModifier.MetaModifier
_ENDS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab})
_MODIFIERS = frozenset(
    {
        Qt.Key.Key_Shift,
        Qt.Key.Key_Control,
        Qt.Key.Key_Meta,
        Qt.Key.Key_Alt,
        Qt.Key.Key_AltGr,
        Qt.Key.Key_CapsLock,
        Qt.Key.Key_NumLock,
        Qt.Key.Key_ScrollLock,
        Qt.Key.Key_Super_L,
        Qt.Key.Key_Super_R,
        Qt.Key.Key_Hyper_L,
        Qt.Key.Key_Hyper_R,
        Qt.Key.Key_Multi_key,
        Qt.Key.Key_Mode_switch,
    }
)
_WATCHED = frozenset(
    {
        QEvent.Type.KeyPress,
        QEvent.Type.KeyRelease,
        QEvent.Type.ShortcutOverride,
        QEvent.Type.Shortcut,
        QEvent.Type.InputMethod,
    }
)


@dataclass(frozen=True, slots=True)
class _Key:
    """What it takes to press the same key again; Qt frees its own event when the filter returns."""

    key: int
    modifiers: Qt.KeyboardModifier
    scan_code: int
    virtual_key: int
    native_modifiers: int
    text: str
    is_repeat: bool

    def event(self, kind: QEvent.Type) -> QKeyEvent:
        """This key pressed or released once more."""
        return QKeyEvent(
            kind,
            self.key,
            self.modifiers,
            self.scan_code,
            self.virtual_key,
            self.native_modifiers,
            self.text,
            self.is_repeat,
        )


@dataclass(frozen=True, slots=True)
class _Commit:
    """Text an input method committed, to be committed again."""

    text: str

    def event(self) -> QInputMethodEvent:
        """The same commit once more."""
        event = QInputMethodEvent()
        event.setCommitString(self.text)
        return event


class WedgeFilter(QObject):
    """Hears a keyboard-wedge scanner in the whole program. Install it on the QApplication, once.

    Promise: a scan is heard whatever has the focus, exactly once, and never presses a button, fills a field,
    answers a question, moves a list or fires a shortcut. People can still type in text fields (each key appears
    `gap_ms` late), press the focused button with Space or Enter and move with Tab, Esc and the arrows.

    What that costs, by design: outside text fields letters and digits do nothing, so message boxes and menus take
    no letter mnemonics and lists no search by letter; shortcuts are Ctrl or Alt with a letter, or a function key,
    and fire only when no key came in the last `inside_ms`. A person who rolls `shortest_run` keys in a field at
    a scanner's pace is taken for a scanner. When a scan breaks off after its first few keys in a text field,
    those keys land there as text; the rest is still reported incomplete.

    Signals arrive on the next turn of the event loop, so a slot may open a dialog.
    scanned: a HeardScan, whole. incomplete: the text of keys that were not one whole scan, to be shown and never
    acted on.
    """

    scanned = Signal(object)
    incomplete = Signal(str)
    _ready = Signal(object)

    def __init__(self, timing: WedgeTiming, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stream = Stream(timing)
        self._platform = QGuiApplication.platformName()
        self._replaying = False
        self._shortcut_allowed = False
        self._silence_seen = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._on_silence)
        self._ready.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    @property
    def is_waiting(self) -> bool:
        """True while keys are held back or a scan has begun and not ended."""
        return self._timer.isActive()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: ARG002, N802  as Qt names and calls it
        """Take keys before any window, popup or shortcut sees them; True means taken."""
        if self._replaying or event.type() not in _WATCHED:
            return False
        if isinstance(event, QKeyEvent):
            return self._on_key(event)
        if isinstance(event, QInputMethodEvent):
            return self._on_commit(event.commitString())
        return event.type() == QEvent.Type.Shortcut and not self._shortcut_allowed

    def _on_key(self, event: QKeyEvent) -> bool:
        if event.key() in _MODIFIERS:
            return False
        if event.type() == QEvent.Type.ShortcutOverride:
            self._shortcut_allowed = self._may_be_shortcut(event)
            if not self._shortcut_allowed:
                event.accept()
            return not self._shortcut_allowed
        if event.type() == QEvent.Type.KeyRelease:
            return True
        if self._may_be_shortcut(event):
            return False
        self._feed(self._stroke(event))
        return True

    def _on_commit(self, text: str) -> bool:
        """A commit has neither place nor stamp; composing itself (no commit yet) is left to the field."""
        if text:
            self._feed(Stroke(text=text, in_field=_field_has_focus(), origin=_Commit(text)))
        return bool(text)

    def _may_be_shortcut(self, event: QKeyEvent) -> bool:
        """Ctrl or Alt with a letter, or a function key, with no scan under way. AltGr writes characters.

        The separator GS is never one: its key bears a sign, not one of A to Z, on every layout with these letters.
        """
        key, held = event.key(), event.modifiers() & (_CONTROL | _ALT)
        letter = Qt.Key.Key_A <= key <= Qt.Key.Key_Z and held in (_CONTROL, _ALT)
        function = Qt.Key.Key_F1 <= key <= Qt.Key.Key_F35
        return (letter or function) and self._stream.is_quiet(event.timestamp() or None)

    def _stroke(self, event: QKeyEvent) -> Stroke:
        key, modifiers = event.key(), event.modifiers()
        alone_with_alt = modifiers & (_CONTROL | _ALT) == _ALT or bool(modifiers & _META)
        return Stroke(
            text="" if alone_with_alt else event.text(),
            place=None if alone_with_alt else place_of(event.nativeScanCode(), self._platform),
            shift=bool(modifiers & _SHIFT),
            control=modifiers & (_CONTROL | _ALT) == _CONTROL,
            at_ms=event.timestamp() or None,
            is_end=key in _ENDS,
            is_act=key == Qt.Key.Key_Space or Qt.Key.Key_Escape <= key < Qt.Key.Key_AltGr,
            in_field=_field_has_focus(),
            is_repeat=event.isAutoRepeat(),
            origin=_Key(
                key,
                modifiers,
                event.nativeScanCode(),
                event.nativeVirtualKey(),
                event.nativeModifiers(),
                event.text(),
                event.isAutoRepeat(),
            ),
        )

    def _feed(self, stroke: Stroke) -> None:
        self._silence_seen = False
        outputs = self._stream.feed(stroke)
        self._wait()
        self._carry_out(outputs)

    def _wait(self) -> None:
        waiting_ms = self._stream.waiting_ms
        if waiting_ms is None:
            self._timer.stop()
        else:
            self._timer.start(waiting_ms)

    def _on_silence(self) -> None:
        """Believe in silence only when seen twice: after a busy spell, keys may be queued behind the timer."""
        if not self._silence_seen:
            self._silence_seen = True
            self._timer.start(0)
            return
        self._silence_seen = False
        outputs = self._stream.silence()
        self._wait()
        self._carry_out(outputs)

    def _carry_out(self, outputs: Outputs) -> None:
        for output in outputs:
            if isinstance(output, Replay):
                self._replay(output.strokes)
            elif isinstance(output, Scan | Incomplete):
                self._ready.emit(output)

    def _tell(self, output: Scan | Incomplete) -> None:
        if isinstance(output, Scan):
            self.scanned.emit(output.heard)
        else:
            self.incomplete.emit(output.text)

    def _replay(self, strokes: tuple[Stroke, ...]) -> None:
        was_replaying, self._replaying = self._replaying, True
        try:
            for stroke in strokes:
                _play(stroke.origin)
        finally:
            self._replaying = was_replaying


def _play(origin: object) -> None:
    """Press and release a key at the window that has the focus, or commit a text at the object that has it."""
    if isinstance(origin, _Commit):
        receiver = QGuiApplication.focusObject()
        if receiver is not None:
            QCoreApplication.sendEvent(receiver, origin.event())
    elif isinstance(origin, _Key):
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            window = QGuiApplication.focusWindow()
            if window is not None:
                QCoreApplication.sendEvent(window, origin.event(kind))


def _field_has_focus() -> bool:
    """True if a key typed now would be text in a field that can be edited. An open popup takes the keys itself."""
    popup = QApplication.activePopupWidget()
    if popup is None:
        return _is_field(QApplication.focusWidget())
    # The list of completions hands its keys to the field it belongs to.
    return _is_field(popup.focusProxy())


def _is_field(widget: QWidget | None) -> bool:
    if isinstance(widget, QLineEdit | QTextEdit | QPlainTextEdit | QAbstractSpinBox):
        return not widget.isReadOnly()
    return isinstance(widget, QComboBox) and widget.isEditable()
