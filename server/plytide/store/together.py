"""Group commit: what comes to be written while something else is written waits, and goes in together.

One sync of the disk then covers everything that waited; nobody is answered before it.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import AbstractContextManager
from typing import Any, TypeVar

from sqlalchemy import Connection

T = TypeVar("T")
Work = Callable[[Connection], T]

MOST = 64  # in one transaction: nobody waits for more than these


class Together:
    """One thread that writes, in transactions opened by `begin`."""

    def __init__(self, begin: Callable[[], AbstractContextManager[Connection]]) -> None:
        self._begin = begin
        self._waiting: deque[tuple[Work[Any], Future[Any]]] = deque()
        self._thread = ThreadPoolExecutor(1, "writer")

    def write(self, work: Work[T]) -> T:
        """What `work` answers, once it is on the disk; what it raises, once it is undone.

        It may be called twice: when one of a group fails, the group is undone and each is written by itself.
        """
        done: Future[T] = Future()
        self._waiting.append((work, done))
        self._thread.submit(self._round)
        return done.result()

    def close(self) -> None:
        """Finish what was begun."""
        self._thread.shutdown()

    def _round(self) -> None:
        """Write everything that waits: as many rounds are asked for as works, so some find nothing left to do."""
        group = [self._waiting.popleft() for _ in range(min(len(self._waiting), MOST))]
        if group and not self._written(group):
            for each in group:
                self._written([each])

    def _written(self, group: list[tuple[Work[Any], Future[Any]]]) -> bool:
        try:
            with self._begin() as connection:
                answers = [work(connection) for work, _ in group]
        except BaseException as error:
            if len(group) != 1:
                return False
            group[0][1].set_exception(error)
        else:
            for (_, done), answer in zip(group, answers, strict=True):
                done.set_result(answer)
        return True
