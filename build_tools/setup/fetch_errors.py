"""Fetch packages, or say why they could not be fetched: no network, not on offer, or what else."""

from __future__ import annotations

import re
from typing import NamedTuple, Sequence

from build_tools.setup import paths
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.progress import ProgramFailed, run

PIP = ("-m", "pip", "--disable-pip-version-check", "--no-input")
# The lock names every package, so pip need not work out what else is wanted.
LOCKED = ("--require-hashes", "--no-deps")
BUSY_WITH = re.compile(r"(?:Collecting |satisfies the requirement )([\w.-]+)")


class Cause(NamedTuple):
    """What happened, the words of pip, npm and their libraries that show it, and what to do."""

    signs: str
    happened: str
    fix: str


# The surest first: a refused certificate, say, is also an error of the network.
CAUSES = (
    Cause(
        signs="self_signed_cert|unable_to_get_issuer|unable_to_verify|certificate verify",
        happened="{what} could not be fetched: {tool} does not trust the server's certificate.",
        fix="on a network with a certificate of its own, name its file in PIP_CERT (for pip) "
        "and in NODE_EXTRA_CA_CERTS (for npm), then run the same command again.",
    ),
    Cause(
        signs="temporary failure in name resolution|name or service not known|getaddrinfo failed|"
        "nodename nor servname|failed to establish a new connection|newconnectionerror|"
        "connection refused|connection broken|connecttimeout|read timed out|proxyerror|"
        "network is unreachable|enotfound|eai_again|econnrefused|econnreset|enetunreach|"
        "etimedout|err_socket_timeout",
        happened="{what} could not be fetched: no server answered {tool}.",
        fix="connect to the network and run the same command again. Behind a proxy or on a closed "
        "network, set {tool} to use the index there; its usual settings count here.",
    ),
    Cause(
        signs="do not match the hashes|eintegrity",
        happened="{what} were fetched, but one is not the file that the lock names.",
        fix="empty {tool}'s cache and run the same command again. If it happens again, do not "
        "install it: the index serves a changed file.",
    ),
    Cause(
        signs="no matching distribution found|etarget|e404",
        happened="{what} could not be fetched: the index that {tool} uses does not offer one.",
        fix="see that the network is there and which index {tool} is set to use. It must hold "
        "every release in the lock.",
    ),
    Cause(
        signs="no space left on device|enospc",
        happened="{what} could not be installed: the disk is full.",
        fix="make room and run the same command again.",
    ),
)
UNKNOWN = Cause(
    "error",
    "{what} could not be installed.",
    "see what was printed above, mend that, and run the same command again.",
)


def fetch(
    what: str, label: str, words: Sequence[str], *, tool: str = "pip", cwd: str | None = None
) -> None:
    """Run the environment's Python with `words`, by which `tool` fetches `what`.

    Raises:
        SetUpStopped: It failed, and why.
    """
    try:
        run(label, [paths.python(), *words], paths.variables(), cwd)
    except ProgramFailed as failure:
        raise explain(what, tool, failure.lines) from failure


def explain(what: str, tool: str, lines: Sequence[str]) -> SetUpStopped:
    """Why `tool`, which printed `lines`, could not fetch `what`."""
    printed = "\n".join(lines).lower()
    cause = next((each for each in CAUSES if re.search(each.signs, printed)), UNKNOWN)
    busy = [named[1] for line in lines if (named := BUSY_WITH.search(line))]
    at = f" It got as far as {busy[-1]}." if busy else ""
    filled = [line.strip()[:160] for line in lines if line.strip()]
    telling = [line for line in filled if re.search(cause.signs, line.lower())] or filled
    return SetUpStopped(
        cause.happened.format(what=what, tool=tool) + at,
        found=list(dict.fromkeys(telling))[-3:],
        fix=cause.fix.format(tool=tool),
    )
