"""Tests of the screens' visible parts."""
