"""The real servers with the sample configurations, on a port of this machine alone."""

from __future__ import annotations

import os
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryFile

from build_tools.setup import programs
from build_tools.setup.paths import ROOT
from tests.programs import path_of

SAMPLES = ROOT / "build_tools/site/servers"
MODULES = Path("/usr/lib/apache2/modules")
NEEDED = ("mpm_event", "authz_core", "mime", "headers", "deflate", "filter", "dir", "alias")
SRV = "/srv/handbook"

NGINX_FRAME = """
daemon off; pid nginx.pid; error_log stderr; {user}
events {{}}
http {{ access_log off; {temporary} include sample.conf; }}
"""
TEMPORARY = ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")


def free_port() -> int:
    """A port that nothing uses now."""
    with socket.socket() as each:
        each.bind(("127.0.0.1", 0))
        return int(each.getsockname()[1])


@contextmanager
def nginx(sample: str, folder: Path, work: Path) -> Iterator[str]:
    """A sample for nginx, run; its address."""
    port = free_port()
    text = (SAMPLES / sample).read_text("utf-8").replace(SRV, str(folder))
    text = text.replace("listen 80;", f"listen 127.0.0.1:{port};")
    (work / "sample.conf").write_text(text, "utf-8")
    (work / "nginx_common.inc").write_text(
        (SAMPLES / "nginx_common.inc").read_text("utf-8"), "utf-8"
    )
    places = " ".join(f"{name}_temp_path {work / name};" for name in TEMPORARY)
    user = "user root;" if os.geteuid() == 0 else ""  # or its worker can't read a test's folder
    (work / "frame.conf").write_text(NGINX_FRAME.format(temporary=places, user=user), "utf-8")
    command = [
        path_of(programs.NGINX),
        "-p",
        str(work),
        "-c",
        str(work / "frame.conf"),
        "-e",
        "stderr",
    ]
    with _running(command, port):
        yield f"http://127.0.0.1:{port}/"


@contextmanager
def apache(folder: Path, work: Path) -> Iterator[str]:
    """The sample for Apache, run; its address."""
    port = free_port()
    loads = [f"LoadModule {name}_module {MODULES}/mod_{name}.so" for name in NEEDED]
    sample = (SAMPLES / "apache.conf").read_text("utf-8").replace(SRV, f'"{folder}"')
    lines = [
        f"ServerRoot {work}",
        f"PidFile {work}/pid",
        "ServerName handbook.test",
        f"Listen 127.0.0.1:{port}",
        "ErrorLog /dev/stderr",
        *loads,
        "TypesConfig /dev/null",
        sample.replace("*:80", f"*:{port}"),
    ]
    (work / "httpd.conf").write_text("\n".join(lines), "utf-8")
    with _running([path_of(programs.APACHE), "-X", "-f", str(work / "httpd.conf")], port):
        yield f"http://127.0.0.1:{port}/"


@contextmanager
def caddy(folder: Path, work: Path) -> Iterator[str]:
    """The sample for Caddy, run; its address."""
    port = free_port()
    text = (SAMPLES / "Caddyfile").read_text("utf-8").replace(SRV, f'"{folder}"')
    head = "{\n\tadmin off\n}\n"
    (work / "Caddyfile").write_text(head + text.replace(":80 {", f":{port} {{"), "utf-8")
    command = [path_of(programs.CADDY), "run", "--config", str(work / "Caddyfile")]
    with _running([*command, "--adapter", "caddyfile"], port, {"HOME": str(work)}):
        yield f"http://127.0.0.1:{port}/"


@contextmanager
def _running(command: list[str], port: int, env: dict[str, str] | None = None) -> Iterator[None]:
    with TemporaryFile("w+") as said:
        variables = {**os.environ, **(env or {})}
        server = subprocess.Popen(command, stdout=said, stderr=said, env=variables)
        try:
            deadline = time.monotonic() + 120
            while not _answers(port):
                if server.poll() is not None or time.monotonic() > deadline:
                    said.seek(0)
                    raise AssertionError(f"{command[0]} does not answer.\n{said.read()}")
                time.sleep(0.1)
            yield
        finally:
            server.terminate()
            server.wait()


def _answers(port: int) -> bool:
    with socket.socket() as each:
        return each.connect_ex(("127.0.0.1", port)) == 0
