"""Where set-up looks for things on Linux, macOS and Windows, worked out without a disk."""

from pathlib import Path, PurePosixPath, PureWindowsPath

from build_tools.setup import paths

LINUX, MAC, WINDOWS = "linux", "darwin", "win32"
HOME = PurePosixPath("/home/someone")
WINDOWS_HOME = PureWindowsPath(r"C:\Users\Some One")


def test_the_python_of_an_environment():
    unix = paths.venv_python(PurePosixPath("/a b/.venv"), LINUX)
    assert unix == PurePosixPath("/a b/.venv/bin/python")
    assert paths.venv_python(PurePosixPath("/a/.venv"), MAC) == PurePosixPath("/a/.venv/bin/python")
    windows = paths.venv_python(PureWindowsPath(r"D:\a b\.venv"), WINDOWS)
    assert windows == PureWindowsPath(r"D:\a b\.venv\Scripts\python.exe")


def test_names_of_a_python_put_the_exact_one_first():
    assert paths.python_names((3, 13), LINUX) == ["python3.13", "python3", "python"]
    assert paths.python_names((3, 13), WINDOWS) == ["python3.13.exe", "python3.exe", "python.exe"]


def test_pyenv_is_where_the_variable_says_and_in_the_home_folder():
    assert paths.pyenv_roots({}, HOME, LINUX) == [HOME / ".pyenv"]
    named = paths.pyenv_roots({"PYENV_ROOT": "/opt/pyenv"}, HOME, MAC)
    assert named == [PurePosixPath("/opt/pyenv"), HOME / ".pyenv"]


def test_pyenv_for_windows_has_a_folder_of_its_own():
    usual = WINDOWS_HOME / ".pyenv" / "pyenv-win"
    assert paths.pyenv_roots({}, WINDOWS_HOME, WINDOWS) == [usual]
    same = {"PYENV": r"C:\Users\Some One\.pyenv\pyenv-win"}
    assert paths.pyenv_roots(same, WINDOWS_HOME, WINDOWS) == [usual]


def test_pyenv_versions_are_tried_newest_first_by_number():
    folders = ["3.13.2", "3.13.10", "3.12.9", "3.13-dev", "3.13.1rc1", "pypy3.13.1"]
    found = paths.pyenv_pythons(PurePosixPath("/p"), folders, (3, 13), LINUX)
    assert found == [
        PurePosixPath("/p/versions/3.13.10/bin/python"),
        PurePosixPath("/p/versions/3.13.2/bin/python"),
    ]
    windows = paths.pyenv_pythons(PureWindowsPath(r"C:\p"), ["3.13.1"], (3, 13), WINDOWS)
    assert windows == [PureWindowsPath(r"C:\p\versions\3.13.1\python.exe")]


def test_usual_places_of_the_browser_on_windows():
    env = {"PROGRAMFILES": r"C:\Program Files", "LOCALAPPDATA": r"C:\Users\Some One\AppData\Local"}
    found = paths.chromium_places(env, WINDOWS_HOME, WINDOWS)
    assert found[0] == PureWindowsPath(
        r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    )
    assert (
        PureWindowsPath(r"C:\Users\Some One\AppData\Local\Chromium\Application\chrome.exe") in found
    )


def test_usual_places_of_the_browser_on_a_mac_and_on_linux():
    mac = paths.chromium_places({}, PurePosixPath("/Users/someone"), MAC)
    chrome = "Applications/Google Chrome.app/Contents/MacOS/Google Chrome"
    assert PurePosixPath("/", chrome) in mac
    assert PurePosixPath("/Users/someone", chrome) in mac
    linux = paths.chromium_places({}, HOME, LINUX)
    assert PurePosixPath("/usr/bin/chromium") in linux


def test_everything_that_set_up_makes_lies_in_the_project():
    made = paths.Places(Path("project"))
    assert made.venv == Path("project/.venv")
    assert made.lock("site") == Path("project/build_tools/setup/locks/site.txt")
