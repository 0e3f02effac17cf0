"""Starts the command line: `python -m staking` and the `staking` command."""

from __future__ import annotations

import gc
import io
import os
import signal
import sys
from types import FrameType

from staking.app import cli

UNWRITTEN = 2  # the status of an output that cannot be written
STOPPED = 130  # the status that shells give a program stopped by ctrl-C


def main() -> None:
    """Run the verbs without the collector of reference cycles, and with one thread for algebra.

    A run is over before the collector could give anything back, and looking through the libraries again and again
    while they are opened takes a fifth of the time of `check` and `make`. Matrices here are small: threads that wait
    for large ones would take a quarter of the processor time of `check`.
    """
    gc.disable()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read by numpy when it is opened
    signal.signal(signal.SIGINT, _interrupted)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal without a degree sign shows a question mark for it
    try:
        cli.main()
    except OSError as error:
        _end(f"error: {_what(error)}: {error.strerror or error}", UNWRITTEN)
    finally:
        gc.freeze()  # or Python would look through them once more when it ends


def _what(error: OSError) -> str:
    """What went wrong, where nothing below caught it: the file that the system names, or else standard output."""
    if error.filename:
        return f"{error.filename} cannot be read or written"
    if isinstance(error, FileNotFoundError):
        return "the folder you are in is not there any more"
    return "what was asked for cannot be printed"


def _interrupted(number: int, frame: FrameType | None) -> None:
    """Ctrl-C: before anything is written the end is at once; after that what was begun is cleared away.

    Libraries that are stopped while they are opened would print their own insides.
    """
    if "staking.exports.bundle" not in sys.modules:
        _end("stopped", STOPPED)
    signal.default_int_handler(number, frame)


def _end(words: str, status: int) -> None:
    """Say why and end at once: Python would try to print what is left, and fail again."""
    sys.stderr.write(f"{words}\n")
    sys.stderr.flush()
    os._exit(status)


if __name__ == "__main__":
    main()
