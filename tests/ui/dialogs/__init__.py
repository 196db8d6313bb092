"""Tests of the forms laid over the screen."""
