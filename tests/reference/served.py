"""`run` is `subprocess.run`, but of the program under test it asks one that is loaded already (tests/served.c): the same file,
without the time of starting it. Where $BUILD/tests/served.so is not built, or a call wants what that cannot give (another
environment, streams of its own), it starts the program as usual; SERVED=0 does so always."""
import os
import socket
import struct
import subprocess
import sys
import threading

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
BUILD = os.path.join(ROOT, os.environ.get("BUILD", "build"))
PRILL = os.path.join(ROOT, os.environ.get("PRILL") or os.path.join(BUILD, "prill"))
LIBRARY = os.path.join(BUILD, "tests", "served.so")
READY = os.environ.get("SERVED") != "0" and os.path.exists(LIBRARY)
REQUEST, ANSWER = struct.Struct("=IIII"), struct.Struct("=iII")
GIVEN = {"input", "stdout", "stderr", "stdin", "capture_output", "text", "timeout", "check", "cwd"}
# What a plan took is not given back to the system between two of them: that costs as much as the rest.
KEEPING = {"MALLOC_MMAP_THRESHOLD_": "268435456", "MALLOC_TRIM_THRESHOLD_": "268435456"}
kept = threading.local()  # a server for each thread and program


class Server:
    def __init__(self, program):
        self.socket, other = socket.socketpair()
        with other:
            # By a name without its folder: the loader takes a blank in it for the end of a name.
            environment = {**os.environ, "LD_PRELOAD": "./served.so", "LD_BIND_NOW": "1", **KEEPING, "SERVED": str(other.fileno())}
            self.process = subprocess.Popen([program], env=environment, cwd=os.path.dirname(LIBRARY), pass_fds=[other.fileno()], stdin=subprocess.DEVNULL)

    def __del__(self):
        self.socket.close()
        self.process.wait()

    def received(self, count):
        parts = []
        while count:
            part = self.socket.recv(min(count, 1 << 20))
            if not part:
                raise ConnectionError("the program has gone")
            parts.append(part)
            count -= len(part)
        return b"".join(parts)

    def ask(self, words, folder, data, merged, timeout):
        words, folder = b"".join(os.fsencode(word) + b"\0" for word in words), os.fsencode(folder)
        self.socket.settimeout(timeout)
        self.socket.sendall(REQUEST.pack(len(words), len(folder), len(data), merged) + words + folder + data)
        status, output, errors = ANSWER.unpack(self.received(ANSWER.size))
        return status, self.received(output), self.received(errors)


def lines(data):
    """As a text stream reads it."""
    return data.decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")


def run(command, **options):
    if options.get("capture_output"):
        options = {**options, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        del options["capture_output"]
    program = os.path.abspath(os.fspath(command[0]))
    servable = (READY and program == os.path.abspath(PRILL) and set(options) <= GIVEN
                and options.get("stdout") in (subprocess.PIPE, subprocess.DEVNULL)
                and options.get("stderr") in (None, subprocess.PIPE, subprocess.DEVNULL, subprocess.STDOUT)
                and options.get("stdin") in (None, subprocess.DEVNULL))
    if not servable:
        return subprocess.run(command, **options)
    text, data = options.get("text"), options.get("input") or ""
    if isinstance(data, str):
        data = data.encode("utf-8")
    servers = kept.__dict__.setdefault("servers", {})
    if program not in servers:
        servers[program] = Server(program)
    folder = os.path.abspath(options.get("cwd") or os.getcwd())
    try:
        status, output, errors = servers[program].ask(command, folder, data, options.get("stderr") == subprocess.STDOUT,
                                                      options.get("timeout"))
    except (TimeoutError, ConnectionError) as gone:
        process = servers.pop(program).process
        if isinstance(gone, TimeoutError):
            process.kill()
            raise subprocess.TimeoutExpired(command, options["timeout"]) from gone
        # It died of this call, and what it had printed with it.
        status, output, errors = process.wait(), b"", f"{command[0]} died".encode()
        assert status != 0, "the program ended without returning from main"
    output, errors = (lines(output), lines(errors)) if text else (output, errors)
    done = subprocess.CompletedProcess(command, status, output if options.get("stdout") == subprocess.PIPE else None,
                                       errors if options.get("stderr") == subprocess.PIPE else None)
    if options.get("stderr") is None and errors:
        sys.stderr.write(errors if text else errors.decode("utf-8", "replace"))
    if options.get("check"):
        done.check_returncode()
    return done
