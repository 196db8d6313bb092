"""Tests of the sheets on ordinary paper."""
