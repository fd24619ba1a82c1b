"""What is used in a ``with`` block and closed at its end."""

from __future__ import annotations

from abc import ABC, abstractmethod
from types import TracebackType
from typing import Self


class UntilClosed(ABC):
    """Open from its making until ``close``."""

    @abstractmethod
    def close(self) -> None:
        """Use is over; harmless when done twice."""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self.close()
