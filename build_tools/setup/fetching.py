"""Say why something could not be fetched: no network, not on offer, or something else."""

from __future__ import annotations

from typing import Sequence

from build_tools.setup.show import ProgramFailed
from build_tools.setup.stopped import SetUpStopped

# What pip, npm and their libraries print when no server answers.
NO_ANSWER = (
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
    "cannot connect to proxy",
    "enotfound",
    "eai_again",
    "econnrefused",
    "econnreset",
    "enetunreach",
    "etimedout",
    "err_socket_timeout",
)
NOT_ON_OFFER = ("no matching distribution found", "etarget", "e404")
NOTHING_AT_ALL = "from versions: none"  # also what pip says when it was told not to try again
WRONG_SUM = ("do not match the hashes", "eintegrity")
SHOWN_LINES = 6


def stopped(failure: ProgramFailed, *, what: str, tool: str, last: str) -> SetUpStopped:
    """The message for a failed fetch of `what` by `tool`, which was `last` busy with a package."""
    printed = "\n".join(failure.lines).lower()
    at = f" It got as far as {last}." if last else ""
    found = _ending(failure.lines)
    if any(sign in printed for sign in NO_ANSWER):
        return SetUpStopped(
            f"{what} could not be fetched: no server answered {tool}.{at}",
            found=found,
            fix=f"connect to the network and run the same command again. Behind a proxy or on a "
            f"closed network, set {tool} to use the index there; its usual settings count here.",
        )
    if any(sign in printed for sign in WRONG_SUM):
        return SetUpStopped(
            f"{what} were fetched, but one is not the file that the lock names.{at}",
            found=found,
            fix=f"empty {tool}'s cache and run the same command again. If it happens again, do "
            "not install it: the index serves a changed file.",
        )
    if NOTHING_AT_ALL in printed:
        return SetUpStopped(
            f"{what} could not be fetched: {tool} found no release of one at all.{at}",
            found=found,
            fix=f"see that the network is there and which index {tool} is set to use.",
        )
    if any(sign in printed for sign in NOT_ON_OFFER):
        return SetUpStopped(
            f"{what} could not be fetched: the index that {tool} uses does not offer one.{at}",
            found=found,
            fix=f"see which index {tool} is set to use; it must hold every release in the lock.",
        )
    return SetUpStopped(
        f"{what} could not be installed.{at}",
        found=found,
        fix="see what was printed above, mend that, and run the same command again.",
    )


def _ending(lines: Sequence[str]) -> list[str]:
    """The last lines that say something, each cut to a width that can be read."""
    return [line.strip()[:160] for line in lines if line.strip()][-SHOWN_LINES:]
