"""Tests of the room air taken from a file."""
