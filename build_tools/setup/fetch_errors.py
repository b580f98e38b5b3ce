"""Say why something could not be fetched: no network, not on offer, or something else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Sequence

from build_tools.setup.errors import SetUpStopped
from build_tools.setup.progress import ProgramFailed

SHOWN_LINES = 3


@dataclass(frozen=True)
class Cause:
    """Words by which pip, npm and their libraries betray what happened, and what to do then."""

    signs: tuple[str, ...]
    happened: str
    fix: str


# The surest first: a refused certificate, say, is also an error of the network.
CAUSES = (
    Cause(
        signs=(
            "self_signed_cert",
            "unable_to_get_issuer",
            "unable_to_verify",
            "certificate verify",
        ),
        happened="{what} could not be fetched: {tool} does not trust the server's certificate.",
        fix="on a network with a certificate of its own, name its file in PIP_CERT (for pip) "
        "and in NODE_EXTRA_CA_CERTS (for npm), then run the same command again.",
    ),
    Cause(
        signs=(
            "temporary failure in name resolution",
            "name or service not known",
            "nodename nor servname",
            "getaddrinfo failed",
            "failed to establish a new connection",
            "newconnectionerror",
            "connection refused",
            "connection broken",
            "connecttimeout",
            "read timed out",
            "network is unreachable",
            "proxyerror",
            "enotfound",
            "eai_again",
            "econnrefused",
            "econnreset",
            "enetunreach",
            "etimedout",
            "err_socket_timeout",
        ),
        happened="{what} could not be fetched: no server answered {tool}.",
        fix="connect to the network and run the same command again. Behind a proxy or on a "
        "closed network, set {tool} to use the index there; its usual settings count "
        "here.",
    ),
    Cause(
        signs=("do not match the hashes", "eintegrity"),
        happened="{what} were fetched, but one is not the file that the lock names.",
        fix="empty {tool}'s cache and run the same command again. If it happens again, do not "
        "install it: the index serves a changed file.",
    ),
    Cause(
        signs=("from versions: none",),
        happened="{what} could not be fetched: {tool} found no release of one at all.",
        fix="see that the network is there and which index {tool} is set to use.",
    ),
    Cause(
        signs=("no matching distribution found", "etarget", "e404"),
        happened="{what} could not be fetched: the index that {tool} uses does not offer one.",
        fix="see which index {tool} is set to use; it must hold every release in the lock.",
    ),
    Cause(
        signs=("no space left on device", "enospc"),
        happened="{what} could not be installed: the disk is full.",
        fix="make room and run the same command again.",
    ),
)


def stopped(failure: ProgramFailed, *, what: str, tool: str, last: str) -> SetUpStopped:
    """The message for a failed fetch of `what` by `tool`, which was `last` busy with a package."""
    printed = "\n".join(failure.lines).lower()
    at = f" It got as far as {last}." if last else ""
    for cause in CAUSES:
        if any(sign in printed for sign in cause.signs):
            return SetUpStopped(
                cause.happened.format(what=what, tool=tool) + at,
                found=_telling(failure.lines, cause.signs),
                fix=cause.fix.format(tool=tool),
            )
    return SetUpStopped(
        f"{what} could not be installed.{at}",
        found=_telling(failure.lines, ("error",)),
        fix="see what was printed above, mend that, and run the same command again.",
    )


def _telling(lines: Sequence[str], signs: Sequence[str]) -> list[str]:
    """The last lines that tell the cause, each cut to a width that can be read."""
    said = [line.strip()[:160] for line in lines if line.strip()]
    telling = [line for line in said if any(sign in line.lower() for sign in signs)]
    return list(dict.fromkeys(telling or said))[-SHOWN_LINES:]
