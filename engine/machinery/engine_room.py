"""Room that an engine needs round it."""

from engine.data import table

_ROOM = table("installation")["room"]
CLEARANCE: float = _ROOM["clearance_m"]
"""Least gap all round [m]; one maker, printed."""
SERVICE_SPACE: float = _ROOM["service_m"]
"""Room on one side to reach filters and pump [m]; ours."""
BEARER_MISMATCH: float = _ROOM["bearer_mismatch_m"]
"""Most that mounts may stand off the middle of their bearers [m]; ours."""
