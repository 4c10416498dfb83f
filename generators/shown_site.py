"""The site that `serve` shows: a new one as soon as its pages stand, before it is a release."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path


class ShownSite:
    """Where a page of the site is read from at this moment.

    Parameters
    ----------
    out : Path
        Where the finished site stands.
    show : callable
        Called when a new site is there to be looked at.

    Notes
    -----
    What makes a site a release, its pack above all, takes longer the more releases came before, and
    nobody who looks at a page waits for it. Until it is finished the pages come from the folder
    where it is made, and what is not there yet from the site before.
    """

    def __init__(self, out: Path, *, show: Callable[[], None] = lambda: None) -> None:
        self.out = out
        self._show = show
        self._folder = out
        self._moving = threading.RLock()

    def sealed(self, folder: Path) -> None:
        """Show a site whose pages all stand in a folder."""
        with self._moving:
            self._folder = folder
        self._show()

    @contextmanager
    def swapping(self) -> Iterator[None]:
        """Let nobody read while the finished site takes the place of the one before."""
        with self._moving:
            yield
            self._folder = self.out

    def stopped(self) -> None:
        """Show the site that stands again: the new one came to nothing."""
        with self._moving:
            self._folder = self.out

    @contextmanager
    def files(self, path: Path) -> Iterator[list[Path]]:
        """Yield where a file of the site may stand, the newest first; none of it moves meanwhile.

        Parameters
        ----------
        path : Path
            From the root of the site.
        """
        with self._moving:
            yield [folder / path for folder in dict.fromkeys((self._folder, self.out))]
