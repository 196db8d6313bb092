"""Tests of reports: what a spreadsheet makes of them, and what is read back."""
