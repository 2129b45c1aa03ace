"""Keeping plans safe on disk: the lock of an open one, its saves, its steps, its earlier versions, what could not be
saved."""
