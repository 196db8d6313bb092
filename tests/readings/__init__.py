"""Tests of the reader of loggers' files."""
