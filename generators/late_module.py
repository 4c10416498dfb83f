"""A library that is imported when something of it is asked for: many commands compute nothing."""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType


class LateModule(ModuleType):
    """Stands for a library in the modules that import it, until they ask it for something."""

    def __getattr__(self, name: str) -> object:
        library = self.__name__
        # What imports it from now on gets the library itself.
        if sys.modules.get(library) is self:
            del sys.modules[library]
        real = import_module(library)
        vars(self).update(vars(real))
        return getattr(real, name)


def import_late(library: str) -> None:
    """Let a library be imported when something of it is asked for, unless it is there already."""
    sys.modules.setdefault(library, LateModule(library))
