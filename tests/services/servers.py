"""The real servers on free ports, and the site's own processes."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
BIN = Path(sys.executable).parent
with_demo = pytest.mark.parametrize("site", ["demo"], indirect=True, ids=["demo shop"])


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def eventually(happened: Callable[[], object], *, seconds: float = 30) -> None:
    """Wait until it has happened; fail if it has not within so many seconds."""
    until = time.monotonic() + seconds
    while not happened():
        assert time.monotonic() < until, f"not within {seconds} seconds"
        time.sleep(0.1)


def answers(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def succeeds(*command: object, env: dict[str, str] | None = None) -> str:
    """What a command printed; a failed assertion with what it said where it did not succeed."""
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


class Postgres:
    """A PostgreSQL server in a folder of its own. PostgreSQL refuses to run as root, so root hands it to its user."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, free_port()
        self.programs = max(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: int(path.parent.name))
        self.as_user = ["/usr/sbin/runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
        if self.as_user:
            shutil.chown(folder, "postgres")

    def run(self, program: str, *words: object) -> None:
        command = [*self.as_user, self.programs / program, *words]
        subprocess.run(command, check=True, cwd="/", stdout=subprocess.DEVNULL)

    def start(self) -> None:
        self.run(
            "initdb", "-D", self.folder, "-U", "shop", "--auth=trust", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8"
        )
        how = f"-p {self.port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={self.folder} -c fsync=off"
        self.run("pg_ctl", "-D", self.folder, "-w", "-l", self.folder / "log", "-o", how, "start")

    def stop(self) -> None:
        self.run("pg_ctl", "-D", self.folder, "-m", "immediate", "stop")

    def create(self, name: str, *, like: str = "template1") -> str:
        """A new database; its address."""
        self.run("createdb", "-h", "127.0.0.1", "-p", str(self.port), "-U", "shop", "-T", like, name)
        return f"postgresql://shop@127.0.0.1:{self.port}/{name}"


class Redis:
    """A Redis server that keeps what it was told, and can be stopped and started again."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, free_port()
        self.url = f"redis://127.0.0.1:{self.port}/0"

    def start(self) -> None:
        where = ["--port", str(self.port), "--bind", "127.0.0.1", "--dir", self.folder, "--save", ""]
        self.process = subprocess.Popen(["redis-server", *where, "--appendonly", "yes"], stdout=subprocess.DEVNULL)
        eventually(lambda: answers(self.port))

    def stop(self) -> None:
        self.process.kill()
        self.process.wait()


class Site:
    """The site on a database of its own; each of its commands is a process of its own."""

    def __init__(self, folder: Path, **env: str) -> None:
        self.folder, self.log = folder, folder / "log"
        self.running: list[subprocess.Popen] = []
        self.env = {**os.environ, "DATA_DIR": str(folder), "SECRET_KEY": "of the tests", **env}

    def manage(self, *words: object) -> str:
        return succeeds(sys.executable, "manage.py", *map(str, words), env=self.env)

    def start(self, *command: object) -> subprocess.Popen:
        """Leave a process running, with its children in a group of their own."""
        with self.log.open("a") as log:
            process = subprocess.Popen(command, cwd=ROOT, env=self.env, stdout=log, stderr=log, start_new_session=True)
        self.running.append(process)
        return process

    def start_celery(self, *, at_once: int = 1) -> subprocess.Popen:
        """A Celery worker with its beat, taking so many messages at once."""
        how = ["--beat", "--schedule", self.folder / "beat", "--concurrency", str(at_once), "--loglevel", "INFO"]
        return self.start(BIN / "celery", "-A", "shop", "worker", *how)

    def serve(self) -> subprocess.Popen:
        """The site as one person runs it: one process, no Redis."""
        port = free_port()
        self.env["PORT"] = str(port)
        server = self.start(sys.executable, "manage.py", "serve")
        eventually(lambda: answers(port))
        return server

    def kill(self, process: subprocess.Popen) -> None:
        """As a power cut would: the process and its children, at once."""
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()

    def end(self) -> None:
        for process in self.running:
            self.kill(process)
