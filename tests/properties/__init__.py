"""Properties of the whole checker: what must not change when a list is written, turned or wired in another way."""
