"""A verdict as the panel shows it: final words and times, the container to use instead, or a question."""

from datetime import timedelta

from station.care.filled import packed
from station.care.floor import Floor
from station.care.saying import spot
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.words import Card
from station.ui import wording
from station.ui.view_models import ActionModel, InsteadModel, QuestionModel, VerdictModel

ANSWERS = {
    Card.LOOKS_GOOD: ActionModel("card:LOOKS-GOOD", "Looks good", "smooth, no crust"),
    Card.LOOKS_BAD: ActionModel("card:LOOKS-BAD", "Looks bad", "it goes on hold"),
}


def subject_of(floor: Floor, container: Container) -> str:
    """`K7 304 SN-4, jar 500 g`, with the loud family where it matters."""
    alloy = floor.paste(container).alloy
    loud = f", {alloy.shout}" if alloy.leaded else ""
    return f"{container.spoken} {container.paste}, {packed(floor, container)}{loud}"


def verdict_model(floor: Floor, verdict: Verdict) -> VerdictModel:
    """The panel of a verdict."""
    container = floor.container(verdict.container or "")
    rows = [(name, wording.day_and_time(at, floor.zone, now=floor.now)) for name, at in verdict.times]
    if verdict.governing:
        rows.append(("governed by", verdict.governing))
    return VerdictModel(
        word=verdict.word,
        by_label=verdict.by_label,
        headline=verdict.headline,
        subject=subject_of(floor, container) if container is not None else (verdict.container or "").replace("-", " "),
        why=verdict.why,
        todo=verdict.todo,
        note=verdict.note,
        times=tuple(rows),
        instead=_instead(floor, verdict),
    )


def question_model(floor: Floor, verdict: Verdict) -> QuestionModel | None:
    """The opening check as a question with two answers; None for every other verdict."""
    if verdict.code != "opening-check":
        return None
    container = floor.container(verdict.container or "")
    return QuestionModel(
        title="OPEN AND LOOK",
        subject=subject_of(floor, container) if container is not None else "",
        lines=(verdict.why, verdict.todo),
        answers=tuple(ANSWERS.values()),
        note=verdict.note,
    )


def _instead(floor: Floor, verdict: Verdict) -> InsteadModel | None:
    other = floor.container(verdict.instead or "")
    if other is None:
        return None
    discard_by = floor.standing(other).discard_by
    left = max(timedelta(0), floor.time_left(discard_by)) if discard_by is not None else None
    fed = floor.fed_by(other.id)
    where = spot(fed[0]) if fed else f"bin {other.bin}" if other.bin else spot(other.last_seen_where)
    text = f"{where}, {wording.time_left(left)} left" if left is not None else where
    return InsteadModel(f"{other.spoken} {other.paste}", text)
