"""One page per stage, named as in engine/stages."""
