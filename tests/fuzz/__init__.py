"""Fuzzers: run long by hand, briefly as tests. See DEVELOPERS.md."""
