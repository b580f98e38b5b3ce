"""Known weaknesses of what the locks hold; and that an answer that did not come is no good answer.

The reports are in the forms of `npm audit --json` (version 2) and `pip-audit --format=json`.
"""

from __future__ import annotations

import json
import sys

import pytest

from tests import workers
from tests.setup import audit
from tests.setup.audit import Audit

LOCK = {"packages": {"node_modules/tiny": {"version": "1.2.3"}}}
CLEAN_NPM = {"auditReportVersion": 2, "vulnerabilities": {}, "metadata": {}}
VIA = {"source": 1, "name": "tiny", "url": "advisories/GHSA-0000", "severity": "high"}
WEAK_NPM = {
    "auditReportVersion": 2,
    "vulnerabilities": {
        "tiny": {
            "name": "tiny",
            "severity": "high",
            "via": [VIA],
            "range": "<1.2.4",
            "nodes": ["node_modules/tiny"],
            "fixAvailable": {"name": "tiny", "version": "1.2.4", "isSemVerMajor": False},
        }
    },
}
SOUND = {"name": "sound", "version": "1.0", "vulns": []}
WEAK = {
    "name": "weak",
    "version": "1.0",
    "vulns": [{"id": "PYSEC-2026-1", "fix_versions": ["1.1"], "aliases": [], "description": ""}],
}
PASSED_OVER = {"name": "odd", "skip_reason": "Dependency not found and could not be audited: odd"}


@pytest.mark.parametrize("lock", workers.AUDITS)
def test_no_weakness_is_known_of_what_is_locked(made_once, lock, record_property):
    found = workers.audited(made_once)[lock]
    record_property("audit", found.line)
    assert found.weak == (), "\n".join(found.weak)
    if found.unknown:
        pytest.skip(found.line)


def test_npm_that_knows_of_nothing():
    assert audit.from_npm(json.dumps(CLEAN_NPM), LOCK) == Audit("npm")


def test_npm_names_the_package_the_weakness_and_the_mend():
    [line] = audit.from_npm(json.dumps(WEAK_NPM), LOCK).weak
    fix = "Fix: npm install tiny@1.2.4, in build_tools/web."
    assert line == f"tiny 1.2.3 (high): advisories/GHSA-0000. {fix}"


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ('{"message": "405 Method Not Allowed - POST https://host/x", "error": {}}', "405 Method"),
        ("<!doctype html>", "no report"),
    ],
)
def test_npm_without_an_answer_is_not_clean(said, why):
    found = audit.from_npm(said, LOCK)
    assert why in found.unknown
    assert "://" not in found.unknown
    assert "could not be audited" in found.line


def test_pip_audit_that_knows_of_nothing():
    assert audit.from_pip_audit(json.dumps({"dependencies": [SOUND]})) == Audit("Python")


def test_pip_audit_names_the_package_the_weakness_and_the_mend():
    found = audit.from_pip_audit(json.dumps({"dependencies": [SOUND, WEAK]}))
    fix = "Fix: python -m build_tools.setup.relock --upgrade, for 1.1."
    assert found.weak == (f"weak 1.0: PYSEC-2026-1. {fix}",)


def test_what_pip_audit_passed_over_is_not_audited():
    found = audit.from_pip_audit(json.dumps({"dependencies": [SOUND, PASSED_OVER]}))
    assert found.unknown.startswith("1 of 2 packages were passed over: Dependency not found")


@pytest.mark.parametrize(
    ("program", "why"),
    [
        ("import sys; sys.exit('no route to host')", "no route to host"),
        ("import time; time.sleep(9)", "no answer within"),
    ],
)
def test_a_client_that_fails_or_hangs_has_not_audited(monkeypatch, tmp_path, program, why):
    monkeypatch.setattr(audit, "LONGEST_S", 1)
    found = audit._ask([sys.executable, "-c", program], tmp_path)
    assert isinstance(found, Audit)
    assert why in found.unknown
