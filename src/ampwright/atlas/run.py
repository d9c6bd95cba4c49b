"""Runs the chunks of an atlas: on threads of this machine, or on workers of a cluster; the same function on both."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor, as_completed
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from ampwright.atlas.records import Chunk, Row
from ampwright.atlas.store import check_folder, has_chunk, write_chunk
from ampwright.atlas.study import rows_of
from ampwright.errors import FileError

__all__ = ["LOCAL", "run_atlas"]

LOCAL = "local"
"""Address that starts worker processes on this machine."""
NEEDED = ("pyarrow", "distributed")
RETRIES = 3
"""A chunk whose worker died is given to another one so many times."""

Done = Callable[[int, int], None]


def run_atlas(
    chunks: tuple[Chunk, ...],
    folder: Path,
    *,
    worker_count: int,
    cluster: str = "",
    progress: Done | None = None,
) -> int:
    """Check what is not in the folder yet and return how many chunks that were.

    Parameters
    ----------
    cluster : empty = threads of this process; "local" = worker processes here; else a scheduler's address
    progress : called with (chunks done, chunks in all)

    Raises
    ------
    FileError
        Where the folder holds another atlas, or the libraries of the extra `cluster` are missing.
    """
    missing = [name for name in NEEDED if importlib.util.find_spec(name) is None]
    if missing:
        raise FileError(f"an atlas needs {' and '.join(missing)}; install ampwright[cluster]")
    check_folder(folder, chunks)
    open_chunks = [chunk for chunk in chunks if not has_chunk(folder, chunk)]
    done = len(chunks) - len(open_chunks)
    if progress is not None:
        progress(done, len(chunks))
    found = (
        _on_cluster(open_chunks, cluster, worker_count) if cluster else _on_threads(open_chunks, worker_count)
    )
    for chunk, rows in found:
        write_chunk(folder, chunk, rows)
        done += 1
        if progress is not None:
            progress(done, len(chunks))
    return len(open_chunks)


def _on_threads(chunks: list[Chunk], worker_count: int) -> Iterator[tuple[Chunk, tuple[Row, ...]]]:
    with ThreadPoolExecutor(worker_count) as pool:
        waiting: dict[Future[tuple[Row, ...]], Chunk] = {
            pool.submit(rows_of, chunk): chunk for chunk in chunks
        }
        try:
            for future in as_completed(waiting):
                yield waiting[future], future.result()
        finally:
            pool.shutdown(cancel_futures=True)


def _on_cluster(
    chunks: list[Chunk], address: str, worker_count: int
) -> Iterator[tuple[Chunk, tuple[Row, ...]]]:
    from distributed import as_completed as completed  # noqa: PLC0415 - an extra, heavy

    with _client(address, worker_count) as client:
        waiting = {client.submit(rows_of, chunk, retries=RETRIES): chunk for chunk in chunks}
        for future in completed(list(waiting)):
            yield waiting[future], future.result()


@contextmanager
def _client(address: str, worker_count: int) -> Iterator[Any]:
    from distributed import Client, LocalCluster  # noqa: PLC0415 - an extra, heavy

    if address != LOCAL:
        try:
            with Client(address, timeout="10s") as client:
                yield client
        except OSError as error:
            raise FileError(
                f"no scheduler answers at {address}; start one, or leave --cluster out"
            ) from error
        return
    with (
        LocalCluster(
            n_workers=worker_count, threads_per_worker=1, processes=True, dashboard_address=None
        ) as cluster,
        Client(cluster) as client,
    ):
        yield client
