"""Tests, benchmarks and the task runner of Thawmark."""
