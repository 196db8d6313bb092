"""Benchmarks: each beside its bare baseline in the same run, so that only the ratio counts."""
