"""A short name for what a step says, by which a host's words tell whether it has changed since."""

import hashlib
import json
from typing import Any

# What of a step a host's words may lean on. A drawing or a reading that is added changes none.
SAID = ("do", "why", "if", "caution", "stop")
LENGTH = 6


def step_hash(step: Any) -> str:
    """Six digits for the words of a step."""
    said = [step.get(key) for key in SAID] if isinstance(step, dict) else step
    text = json.dumps(said, ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:LENGTH]
