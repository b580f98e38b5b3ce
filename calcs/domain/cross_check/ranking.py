"""Which families explain the misfit, how sure that is, and what is wrong besides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calcs.domain.cross_check.balance import Aside, Balance
from calcs.domain.cross_check.chance import LEAST, log_of_sum, tail_of_chi_square
from calcs.domain.cross_check.signature import Corrected, Fit, Signature, fit
from calcs.domain.pipes.pipe_flow import natural_log

NOTHING = "nothing_wrong"
UNLISTED = "unlisted"
FAINTEST = -700.0  # logarithm of a share that counts as none
WIDER = 3.0  # of something that is on no list: errors so many times as large


@dataclass(frozen=True)
class Family:
    """What a reader is told together.

    Args:
        name: Id of its words.
        share: How sure, from 0 to 1, of all that is on the list.
        best: The signature of it that explains most; None for something that is on no list.
        fits: All of its signatures, the likeliest first.
    """

    name: str
    share: float
    best: Fit | None
    fits: tuple[Fit, ...] = ()


@dataclass(frozen=True)
class Prior:
    """How often something is wrong at all, before a reading is looked at.

    Args:
        wrong: Share of visits with something wrong.
        unlisted: Weight of what is on no list, beside the signatures.
    """

    wrong: float
    unlisted: float


@dataclass(frozen=True)
class Question:
    """A misfit, and what might explain it.

    Args:
        balance: The conditions.
        signatures: What may be wrong.
        prior: How often.
        corrected: Misfits with an error of some size taken out.
    """

    balance: Balance
    signatures: Sequence[Signature]
    prior: Prior
    corrected: Corrected


def ranked(asked: Question) -> list[Family]:
    """Every family and nothing wrong, the likeliest first; their shares add up to one."""
    return _ranked(asked, asked.balance, asked.signatures, asked.corrected)


def _ranked(
    asked: Question, balance: Balance | Aside, signatures: Sequence[Signature], corrected: Corrected
) -> list[Family]:
    """The same, with errors left out of the balance."""
    prior = asked.prior
    tried = (fit(balance, one, corrected) for one in signatures)
    fits = [one for one in tried if one is not None]
    total = math.fsum([*(one.signature.weight for one in fits), prior.unlisted])
    by_family: dict[str, list[tuple[float, Fit]]] = {}
    for one in fits:
        score = natural_log(prior.wrong * one.signature.weight / total) + one.evidence
        by_family.setdefault(one.signature.family, []).append((score, one))
    scores = {name: log_of_sum([score for score, _ in own]) for name, own in by_family.items()}
    scores[NOTHING] = natural_log(1 - prior.wrong)
    scores[UNLISTED] = natural_log(prior.wrong * prior.unlisted / total) + _unlisted(balance)
    whole = log_of_sum(list(scores.values()))
    families = []
    for name, score in scores.items():
        own = tuple(one for _, one in sorted(by_family.get(name, ()), key=_score, reverse=True))
        share = math.exp(score - whole) if score > LEAST and score - whole > FAINTEST else 0.0
        families.append(Family(name, share, own[0] if own else None, own))
    return sorted(families, key=lambda family: (-family.share, family.name))


def _score(scored: tuple[float, Fit]) -> float:
    return scored[0]


def _unlisted(balance: Balance | Aside) -> float:
    """Evidence for errors that are all a few times as large as they are declared."""
    narrower = 1 - 1 / (WIDER * WIDER)
    return balance.chi_square * narrower / 2 - balance.degrees * natural_log(WIDER)


def explanations(families: Sequence[Family]) -> list[Family]:
    """Families that say something is wrong, their shares as if something is."""
    wrong = [one for one in families if one.name != NOTHING]
    total = math.fsum(one.share for one in wrong)
    if total <= 0:
        return []
    return [Family(one.name, one.share / total, one.best, one.fits) for one in wrong]


def holding(families: Sequence[Family], share: float) -> list[Family]:
    """The fewest families that together hold a share of what is wrong."""
    held, kept = 0.0, []
    for one in explanations(families):
        if held >= share:
            break
        kept.append(one)
        held += one.share
    return kept


def second_wrong(asked: Question, first: Fit, level: float) -> Family | None:
    """What else is wrong once the first is allowed for; None where nothing shows.

    The first is taken out of the readings at the size that explains most, and its size stays free:
    what looks like it is no second.
    """
    balance, errors = asked.balance, first.signature.errors
    left, degrees = balance.freed([errors])
    if tail_of_chi_square(min(left, first.left), degrees) >= level:
        return None
    anew = asked.corrected(errors, first.size)
    if anew is None:
        shift = balance.shift(errors)
        anew = [b - first.size * s for b, s in zip(balance.misfit, shift, strict=True)]
    others = [one for one in asked.signatures if one.family != first.signature.family]
    rest = _ranked(asked, balance.without(errors, anew), others, lambda _errors, _size: None)
    return next((one for one in explanations(rest) if one.best is not None), None)
