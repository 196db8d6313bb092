"""Tests of the scanner input: the pure stream, healing, and the wedge on a real X display."""
