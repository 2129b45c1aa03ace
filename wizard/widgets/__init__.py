"""The pieces that pages are built from."""
