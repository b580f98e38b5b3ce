"""What a step will say of each word that can be chosen in it, for the room that its answer takes.

Nothing is judged by it: the page keeps room of that height while the answer is on its way.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from calcs.engine.step_judging import OUTCOMES


def acts(bundle: Mapping[str, Any], name: str) -> str:
    """What is done next, by word, as JSON; empty for a step that is not answered by a word.

    Args:
        bundle: What the calculators work from.
        name: The step, as `procedure.step`.
    """
    outcome = bundle["steps"].get(name, {}).get("outcome", {})
    if "options" not in outcome:
        return ""
    shared = bundle["words"]["_shared"]["outcomes"]["acts"]
    answered = {
        word: outcome.get(state) or shared.get(state, "")
        for word, state in outcome["options"].items()
        if state in OUTCOMES  # another leaves nothing to judge, and has no answer
    }
    return json.dumps(answered, ensure_ascii=False)
