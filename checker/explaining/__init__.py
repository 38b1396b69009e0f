"""Explaining by steps: what is proven, what follows from what, which cause comes first. ``checker.explain`` is the face."""
