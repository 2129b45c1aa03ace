"""Engines, gearboxes, shafts, bearings, fuel and range."""
