"""Tests of the files labels are written to."""
