"""What cannot be reckoned, said to the person who asked."""


class Unreckonable(Exception):
    """The figures given allow no answer; `sentence` says which one is wrong and how to mend it."""

    def __init__(self, sentence: str) -> None:
        """`sentence` is whole: what is wrong, then what to do."""
        super().__init__(sentence)
        self.sentence = sentence


def within(name: str, value: float, low: float, high: float, unit: str) -> float:
    """The value itself, both bounds allowed; raises Unreckonable outside them and for what is no number."""
    if not low <= value <= high:  # not-a-number fails every comparison, so it ends here too
        raise Unreckonable(f"{name} is {value:g} {unit}. Give {low:g} to {high:g} {unit}.")
    return value
