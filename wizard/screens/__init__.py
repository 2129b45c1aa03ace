"""Screens over the pages: plans on disk, help, choosing a stage."""
