"""Use cases over a journal in memory and a clock that is set."""
