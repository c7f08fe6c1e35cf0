"""Writing files so that a crash or a second writer never costs the user a plan."""

from __future__ import annotations

import contextlib
import hashlib
import os
import tempfile
from pathlib import Path

from circuitplan.errors import InputError, Problem


def replace_file(path: Path, content: bytes) -> None:
    """Write ``content`` beside ``path``, force it to disk, then rename it over ``path``."""
    target = path.resolve()
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    written = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        written.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask())
        written.replace(target)
    except BaseException:
        written.unlink(missing_ok=True)
        raise
    with contextlib.suppress(OSError):  # not every system lets a directory be opened
        directory = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(directory)
        finally:
            os.close(directory)


def save_plan(path: Path, text: str, *, read_sha256: str) -> Path:
    """Replace the plan at ``path``, keeping the old one beside it; return the copy's path.

    ``read_sha256`` is that of the bytes the new text was made from. Raises InputError, with
    nothing written, when the file is no longer the one that was read.
    """
    now = path.read_bytes()
    if hashlib.sha256(now).hexdigest() != read_sha256:
        raise InputError(
            [
                Problem(
                    str(path),
                    "the file changed while this ran",
                    "",
                    "nothing was written; run the command again",
                    file=str(path),
                )
            ]
        )
    copy = path.with_name(path.name + ".bak")
    replace_file(copy, now)
    replace_file(path, text.encode("utf-8"))
    return copy


def create_file(path: Path, content: bytes) -> None:
    """Write a new file; raises InputError when something already stands there."""
    try:
        with path.open("xb") as file:
            file.write(content)
    except FileExistsError:
        raise InputError(
            [
                Problem(
                    str(path),
                    "there is a file of this name already",
                    "a new name",
                    "it was left as it is; give another name",
                    file=str(path),
                )
            ]
        ) from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
