"""What a window costs before anybody asks for it: the physics and its screens are loaded when they are opened."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
HEAVY = (
    "numpy",
    "scipy",
    "matplotlib",
    "station.ui.warm_up",
    "station.ui.room_file",
    "station.care.warmup",
    "station.readings",
)
OPENED = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from pathlib import Path
from PySide6.QtWidgets import QApplication
from station.ui.theme import load_fonts
from tests.ui.plants import mid_shift
from station.ui.window import StationWindow
app = QApplication([])
load_fonts(Path("resources/fonts"))
plant = mid_shift()
window = StationWindow(plant.work, None)
window.show()
plant.work.go_to("DESK")
window.refresh()
window.act("more:")
app.processEvents()
found = lambda: sorted(name for name in HEAVY if name in sys.modules)
before = found()
window.dialogs._leave()
window.act("figures:JAR-500")
app.processEvents()
print(before, [name for name in found() if name in ("numpy", "scipy", "matplotlib")], window.dialogs.busy)
"""


def test_a_window_at_the_desk_has_loaded_no_physics_and_its_form_not_yet_either() -> None:
    """numpy and scipy cost a second: even the form opens without them, they come in beside the window with the fit."""
    code = OPENED.replace("HEAVY", repr(HEAVY))
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "[] [] True"
