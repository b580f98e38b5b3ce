"""A unit as it was typed, to its name: a small grammar over a closed list, and no arithmetic.

unit    = "1" or product, then up to three times "/" and a product
product = factors joined by "*"; in brackets where more than one stands below the line
factor  = a name of `unit_names`, and a whole power from -4 to 4
"""

from __future__ import annotations

import re

from calcs.engine.unit_names import CASE_SLIPS, PHRASES, REFUSED, SYMBOLS, WORDS, folded

LONGEST = 60  # characters; the longest unit of the trade has half of that
MOST_FACTORS = 5
MOST_LINES = 3  # of a fraction: pint itself writes J/K/mol
_SIGNS = str.maketrans(
    {
        "μ": "µ", "\N{OHM SIGN}": "Ω", "ω": "Ω", "º": "°", "\N{DEGREE CELSIUS}": "°C",
        "\N{DEGREE FAHRENHEIT}": "°F", "″": '"', "”": '"', "“": '"', "·": "*", "⋅": "*", "×": "*",
        "₂": "2", "\N{MINUS SIGN}": "-", "\N{NO-BREAK SPACE}": " ", "\N{THIN SPACE}": " ",
    }
)  # fmt: skip
_RAISED = {"²": "^2", "³": "^3", "⁴": "^4", "⁻¹": "^-1", "⁻²": "^-2", "⁻³": "^-3"}
# cm2 and m3/h for cm² and m³/h, as a plain keyboard has them; in inH2O the 2 counts atoms.
_FACTOR = re.compile(r"(?P<name>[^\d^]+)(?:\^(?P<power>-?[1-4])|(?P<digit>[2-4]))?")
_BRACKETS = re.compile(r"\(([^()]*)\)")


class NoUnit(ValueError):
    """A text that is no unit of the trade.

    Args:
        why: A sentence for the reader, where more is known than that.
    """

    def __init__(self, text: str, why: str = "") -> None:
        super().__init__(text)
        self.why = why


def unit_name(text: str) -> str:
    """Name of a unit in pint's words, made of nothing but names of the list and small powers.

    Raises:
        NoUnit: The text is none.

    >>> unit_name("m³/h"), unit_name("cu ft"), unit_name("KW")
    ('meter^3/hour', 'foot^3', 'kilowatt')
    """
    if len(text) > LONGEST:
        raise NoUnit(text)
    plain = _tidy(text)
    if plain in ("", "1"):
        return "dimensionless"
    if phrase := _phrase(plain):
        return phrase
    upper, *lower = re.split(r"/(?![^(]*\))", plain)
    if len(lower) > MOST_LINES:
        raise NoUnit(text)
    names = ["1"] if upper == "1" and lower else _product(upper, text)
    below = [_below(part, text) for part in lower]
    every = [*names, *(name for part in below for name in part)]
    # A rate such as lpm stands alone: below a line its own line would count for the whole.
    is_rate_of_more = len(every) > 1 and any("/" in name for name in every)
    if is_rate_of_more or len(every) > MOST_FACTORS:
        raise NoUnit(text)
    return "/".join(["*".join(names), *(name for part in below for name in part)])


def _tidy(text: str) -> str:
    """One spelling for what is written in several: signs, powers, spaces."""
    plain = text.translate(_SIGNS).strip().removesuffix(".").replace("**", "^")
    for raised, power in _RAISED.items():
        plain = plain.replace(raised, power)
    plain = re.sub(r"\bper cent\b", "percent", plain, flags=re.IGNORECASE)
    if not re.search(r"\bparts per million\b", plain, flags=re.IGNORECASE):
        plain = re.sub(r" per ", "/", plain, flags=re.IGNORECASE)
    return re.sub(r" ?([*/^]) ?", r"\1", re.sub(r"\s+", " ", plain))


def _phrase(part: str) -> str | None:
    """The unit of words that belong together, such as "cu. ft" or "in w.g."."""
    key = folded(re.sub(r"[ .-]", "", part))
    if why := REFUSED.get(key.lower()):
        raise NoUnit(part, why)
    return PHRASES.get(key)


def _below(part: str, text: str) -> list[str]:
    """Factors of one line of a fraction below the first. `a/b*c` is read in two ways: refused."""
    bracketed = _BRACKETS.fullmatch(part)
    names = _product(bracketed[1] if bracketed else part, text)
    if len(names) > 1 and not bracketed:
        raise NoUnit(text, "Put what is below the line in brackets.")
    # Each by itself: pint's words for a/(b*c) are a/b/c.
    return names


def _product(part: str, text: str) -> list[str]:
    if phrase := _phrase(part):
        if "/" in phrase:
            raise NoUnit(text)
        return [phrase]
    return [_factor(factor, text) for factor in part.split("*")]


def _factor(factor: str, text: str) -> str:
    if name := _named(factor):
        return name
    found = _FACTOR.fullmatch(factor)
    name = _named(found["name"]) if found else None
    if name is None or found is None:
        raise NoUnit(text, _why_not(factor))
    if "^" in name or "/" in name:
        raise NoUnit(text)
    power = found["power"] or found["digit"]
    return f"{name}^{power}" if power else name


def _named(word: str) -> str | None:
    if phrase := _phrase(word):
        return phrase
    return SYMBOLS.get(word) or WORDS.get(word.lower()) or CASE_SLIPS.get(folded(word))


def _why_not(factor: str) -> str:
    """A sentence where only the size of an m keeps a factor from being a unit."""
    word = re.sub(r"\^?-?[0-9]$", "", factor)
    if _named(word) or not {"m", "M"} & {*word}:
        return ""
    swapped = (word.lower(), f"M{word[1:].lower()}")
    names = {SYMBOLS.get(each) or CASE_SLIPS.get(folded(each)) for each in swapped} - {None}
    return "A small m is a thousandth, a capital M a million: write which." if names else ""
