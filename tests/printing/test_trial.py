"""A start notices that labels can't be made, and says so in plain words."""

import pytest

from station.labels.builtin import builtin_templates
from station.labels.layout import Template
from station.printing import trial
from station.ui.label_news import label_health
from tests.services.slow_printer import SlowPrinter

TEMPLATE = builtin_templates()["60x40"]


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
def test_every_template_is_drawn_and_read_back_with_the_libraries_there_are(template: Template) -> None:
    """BR-31."""
    assert trial.trial_trouble(template, 203) == ""


def test_a_drawing_function_that_is_gone_is_told_in_plain_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """BR-31: as when a constant of the picture library was taken out."""

    def broken(*_: object) -> None:
        raise AttributeError("module 'PIL.Image' has no attribute 'ANTIALIAS'")

    monkeypatch.setattr("station.printing.trial.render", broken)
    told = trial.trial_trouble(TEMPLATE, 203)
    assert told.startswith("No label can be made, a library of the program has changed (AttributeError: ")
    assert told.endswith("Install the program again.")
    assert (label_health(SlowPrinter(), told).ok, label_health(SlowPrinter()).ok) == (False, True)


def test_a_missing_typeface_is_told_as_that(monkeypatch: pytest.MonkeyPatch) -> None:
    """BR-31."""

    def broken(*_: object) -> None:
        raise FileNotFoundError("There is no B612-Bold in resources/fonts.")

    monkeypatch.setattr("station.printing.trial.render", broken)
    assert trial.trial_trouble(TEMPLATE, 203) == ("No label can be made: There is no B612-Bold in resources/fonts.")
