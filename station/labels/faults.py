"""The one error of this package."""


class LabelFault(Exception):
    """A code or label that is not accepted. `code` is stable; `sentence` says what is wrong and how to mend it."""

    def __init__(self, code: str, sentence: str) -> None:
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence
