"""Link the page's script modules into classic scripts: a page opened from a folder loads no module.

Every source names what it takes from its neighbours (`import { formatOhm } from "./rounding.js";`)
and what it hands on (`export function`, `export const`, `export class`), each at the beginning of a
line. From these names alone follow the order and what belongs to which script; nothing else of the
language is read here. In the page all modules of a script stand in one scope (`script_scope`), and
what another script takes from it stands on one global, `Ohm`. Comments that have lines of their own
stay in the sources: an old phone reads every byte that it is sent.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase

from rjsmin import jsmin

from .script_scope.classic import classic_script
from .script_scope.join import NotOneScope, Part

_IMPORT = re.compile(r'^import\s*\{([^{}]*)\}\s*from\s*"([^"\n]+)";[ \t]*\n?', re.MULTILINE)
_EXPORT = re.compile(
    r"^export (?=(?:async )?(?:function|const|class) ([A-Za-z_$][\w$]*))", re.MULTILINE
)
_STATEMENT = re.compile(r"^(import|export)\b.*", re.MULTILINE)
_NAME = re.compile(r"[A-Za-z_$][\w$]*")
_COMMENT = re.compile(r"^[ \t]*(?:/\*\*[^*]*\*+(?:[^/*][^*]*\*+)*/|//[^\n]*)[ \t]*\n", re.MULTILINE)
"""A comment on lines of its own: no template literal goes over lines, so none stands inside one."""


class ScriptsNotLinked(Exception):
    """The modules do not fit together."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True)
class Import:
    """Names that a module takes from another one, and the line where it says so."""

    names: tuple[str, ...]
    path: str
    line: int


@dataclass(frozen=True)
class Module:
    """One source file: what it takes, what it hands on with the line of each, and the rest."""

    path: str
    imports: tuple[Import, ...]
    exports: Mapping[str, int]
    body: str
    is_piece: bool = False


@dataclass(frozen=True, kw_only=True)
class Stock:
    """What modules need piece by piece from a large whole, without taking a name from it.

    Parameters
    ----------
    needs : mapping of path → pieces
        Those that must have come before a module runs.
    source : callable
        From the pieces that a script carries to the text of the one module that brings them.
    """

    needs: Mapping[str, Sequence[str]]
    source: Callable[[Sequence[str]], str]


def link_scripts(
    sources: Mapping[str, str],
    *,
    scripts: Mapping[str, Sequence[str]],
    everywhere: Sequence[str] = (),
    after: Mapping[str, str] | None = None,
    stock: Stock | None = None,
    handed_on: Collection[str] = (),
    alone: Collection[str] = (),
    shorter: bool = False,
) -> dict[str, str]:
    """Return the text of each script.

    Parameters
    ----------
    sources : mapping of path → text
        Every module there is.
    scripts : mapping of script → paths
        The modules that a script is there for. What they import comes along, each before whoever
        needs it.
    everywhere : sequence of scripts
        Those that every page loads before the others, in this order, and no other carries again.
    after : mapping of script, or a pattern with * for those that are no base, → script, optional
        The base that pages load before it. Modules that two scripts need are carried by the
        nearest base of both, so that a page runs each once, whichever of the scripts it has.
    stock : Stock, optional
        Pieces that are carried as modules are, and may come twice to a page.
    handed_on : collection of names, optional
        Those that stand on the global too, though no other script takes them.
    alone : collection of scripts, optional
        Each brings all that it needs: its pages have none of the scripts with a base.
    shorter : bool
        Whether what is there for readers goes: blanks, comments, long names of a module's own.

    Raises
    ------
    ScriptsNotLinked
        With every file, name, statement, circle or module that does not fit, and where.
    """
    modules = _modules(sources, scripts=scripts, stock=stock)
    paths = _carried(modules, scripts, everywhere, after=after or {}, alone=alone)
    carried = {
        name: _pieces_together([modules[path] for path in paths[name]], stock=stock)
        for name in scripts
    }
    try:
        texts = _texts(carried, scripts=scripts, handed_on=handed_on, shorter=shorter)
    except NotOneScope as fault:
        raise ScriptsNotLinked([fault.placed(sources.get(fault.path, ""))]) from fault
    return {name: jsmin(text) if shorter else text for name, text in texts.items()}


def _texts(
    carried: Mapping[str, Sequence[Module]],
    *,
    scripts: Mapping[str, Sequence[str]],
    handed_on: Collection[str],
    shorter: bool,
) -> dict[str, str]:
    return {
        name: classic_script(
            [_part(module, shorter=shorter) for module in carried[name]],
            wanted=_wanted(carried, of=name, entries=scripts[name]).union(handed_on),
            shorter=shorter,
        )
        for name in scripts
    }


def _modules(
    sources: Mapping[str, str], *, scripts: Mapping[str, Sequence[str]], stock: Stock | None
) -> dict[str, Module]:
    """Return every source and piece by its path; refuse what does not fit together."""
    modules: dict[str, Module] = {}
    faults: list[str] = []
    for path, text in sources.items():
        needs = stock.needs.get(path, ()) if stock else ()
        modules[path], wrong = _module(path, text, needs=needs)
        faults += wrong
    modules.update(_pieces(stock) if stock else {})
    for module in modules.values():
        faults += _loose_ends(module, modules)
    faults += _names_twice(modules)
    faults += [
        f"{name}: there is no script {path}"
        for name, entries in scripts.items()
        for path in entries
        if path not in modules
    ]
    if not faults:
        faults += _circles(modules)
    if faults:
        raise ScriptsNotLinked(faults)
    return modules


def _pieces(stock: Stock) -> dict[str, Module]:
    """Return a module without a body for each piece; it needs what the module of all needs."""
    every = dict.fromkeys(piece for needed in stock.needs.values() for piece in needed)
    return {
        piece: replace(_module(piece, stock.source([piece]), needs=())[0], body="", is_piece=True)
        for piece in every
    }


def _module(path: str, text: str, *, needs: Sequence[str]) -> tuple[Module, list[str]]:
    """Read a source, and say which of its statements have a form that cannot be linked."""
    imports = tuple(
        Import(
            names=tuple(name.strip() for name in found[1].split(",") if name.strip()),
            path=posixpath.normpath(posixpath.join(posixpath.dirname(path), found[2])),
            line=_line(text, found.start()),
        )
        for found in _IMPORT.finditer(text)
    )
    understood = {found.start() for form in (_IMPORT, _EXPORT) for found in form.finditer(text)}
    faults = [
        f'{path}:{_line(text, found.start())}: write it as import {{ name }} from "./file.js"; or '
        f"export function, const or class, not as {found[0].strip()}"
        for found in _STATEMENT.finditer(text)
        if found.start() not in understood
    ]
    faults += [
        f"{path}:{wanted.line}: {name!r} is not one name: what is imported keeps the name it has"
        for wanted in imports
        for name in wanted.names
        if not _NAME.fullmatch(name)
    ]
    exports = {found[1]: _line(text, found.start()) for found in _EXPORT.finditer(text)}
    body = _COMMENT.sub("", _EXPORT.sub("", _IMPORT.sub("", text)))
    imports += tuple(Import(names=(), path=needed, line=1) for needed in needs)
    return Module(path, imports, exports, body.strip()), faults


def _pieces_together(modules: Sequence[Module], *, stock: Stock | None) -> list[Module]:
    """Return the modules with one new one, where the first piece stood, instead of all pieces."""
    pieces = [module for module in modules if module.is_piece]
    if not pieces or stock is None:
        return list(modules)
    brings, _ = _module("", stock.source([piece.path for piece in pieces]), needs=())
    at = modules.index(pieces[0])
    return [*modules[:at], brings, *(module for module in modules[at:] if not module.is_piece)]


def _line(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1


def _loose_ends(module: Module, modules: Mapping[str, Module]) -> Iterator[str]:
    """Yield each import that leads to no file or to a name that the file does not export."""
    for wanted in module.imports:
        source = modules.get(wanted.path)
        if source is None:
            yield f"{module.path}:{wanted.line}: there is no script {wanted.path}"
            continue
        for name in wanted.names:
            if name not in source.exports:
                yield f"{module.path}:{wanted.line}: {wanted.path} exports no {name}"


def _names_twice(modules: Mapping[str, Module]) -> Iterator[str]:
    """Yield each name that two modules export: on the page they would be one."""
    first: dict[str, str] = {}
    for module in modules.values():
        for name, line in module.exports.items():
            place = f"{module.path}:{line}"
            if name in first:
                yield f"{place}: {name} is exported by {first[name]} too, and a page is one room"
            first.setdefault(name, place)


def _circles(modules: Mapping[str, Module]) -> Iterator[str]:
    """Yield each circle of imports: nobody in it could come first."""
    clear: set[str] = set()

    def follow(path: str, way: tuple[str, ...]) -> Iterator[str]:
        if path in way:
            yield "scripts import each other in a circle: " + " → ".join(
                [*way[way.index(path) :], path]
            )
        elif path not in clear:
            for wanted in modules[path].imports:
                yield from follow(wanted.path, (*way, path))
            clear.add(path)

    for path in modules:
        yield from follow(path, ())


def _carried(
    modules: Mapping[str, Module],
    scripts: Mapping[str, Sequence[str]],
    everywhere: Sequence[str],
    *,
    after: Mapping[str, str],
    alone: Collection[str] = (),
) -> dict[str, list[str]]:
    """Return the modules of each script in the order they must run."""
    before: set[str] = set()
    carried: dict[str, list[str]] = {}
    for name in everywhere:
        carried[name] = [path for path in _in_order(modules, scripts[name]) if path not in before]
        before.update(carried[name])
    for name, entries in scripts.items():
        if name not in everywhere:
            carried[name] = [path for path in _in_order(modules, entries) if path not in before]
    bases_of = {name: _bases(name, after) for name in scripts}
    faults: list[str] = []
    based = {name: paths for name, paths in carried.items() if bases_of.get(name)}
    shared = _shared(based)
    faults += _entries_shared(shared, entries=scripts)
    # Those that stand on others last: what a base carries, no script after it does.
    for base in sorted(
        {base for bases in bases_of.values() for base in bases},
        key=lambda base: len(bases_of[base]),
    ):
        lifted = [path for path, names in shared.items() if _nearest(bases_of, names=names) == base]
        below = {path for under in bases_of[base] for path in carried[under]}
        wanted = [*scripts[base], *lifted]
        carried[base] = [
            path for path in _in_order(modules, wanted) if path not in before and path not in below
        ]
        for name, bases in bases_of.items():
            if base in bases:
                carried[name] = [path for path in carried[name] if path not in carried[base]]
    last = everywhere[-1] if everywhere else "a script of every page"
    own = {
        name: [path for path in paths if not modules[path].is_piece]
        for name, paths in carried.items()
        if name not in everywhere
    }
    faults += _twice({name: own[name] for name in own if name not in alone}, named_under=last)
    free = [name for name in own if not bases_of[name] and name not in after.values()]
    faults += sorted({*_twice({name: own[name] for name in free}, named_under=last)} - {*faults})
    if faults:
        raise ScriptsNotLinked(faults)
    return carried


def _bases(name: str, after: Mapping[str, str]) -> tuple[str, ...]:
    """Return the scripts that pages load before this one, the nearest first."""
    base = after.get(name)
    if base is None and name not in after.values():
        base = next((base for form, base in after.items() if fnmatchcase(name, form)), None)
    return () if base is None else (base, *_bases(base, after))


def _nearest(bases_of: Mapping[str, Sequence[str]], *, names: Sequence[str]) -> str | None:
    """Return the nearest base that all these scripts stand on."""
    ways = [(name, *bases_of[name]) for name in names]
    return next((base for base in ways[0] if all(base in way for way in ways[1:])), None)


def _shared(carried: Mapping[str, Sequence[str]]) -> dict[str, list[str]]:
    """Return the modules that two or more scripts carry, each with those scripts."""
    carriers: dict[str, list[str]] = {}
    for name, paths in carried.items():
        for path in paths:
            carriers.setdefault(path, []).append(name)
    return {path: names for path, names in carriers.items() if len(names) > 1}


def _entries_shared(
    shared: Mapping[str, Sequence[str]], *, entries: Mapping[str, Sequence[str]]
) -> Iterator[str]:
    """Yield each module that a script is there for and another one imports.

    In a base it would run where its own script is not wanted.
    """
    for path, names in shared.items():
        own = [name for name in names if path in entries[name]]
        others = [name for name in names if name not in own]
        if own:
            yield (
                f"{path}: {own[0]} is there for it, and {(others or own[1:])[0]} needs it too: "
                "what both need belongs in a module of its own"
            )


def _twice(carried: Mapping[str, Sequence[str]], *, named_under: str) -> Iterator[str]:
    """Yield each module that would run twice where a page loads two of these scripts."""
    for path, (first, second, *_) in _shared(carried).items():
        yield (
            f"{path} would run twice on a page, from {first} and from {second}: "
            f"name it under {named_under}"
        )


def _in_order(modules: Mapping[str, Module], entries: Sequence[str]) -> list[str]:
    """Return these modules and all they need, each after what it imports."""
    ordered: dict[str, None] = {}

    def take(path: str) -> None:
        if path not in ordered:
            for wanted in modules[path].imports:
                take(wanted.path)
            ordered[path] = None

    for path in entries:
        take(path)
    return list(ordered)


def _part(module: Module, *, shorter: bool) -> Part:
    # A template inside a template would lose blanks of its own: a test holds that none does.
    return Part(
        path=module.path,
        text=jsmin(module.body) if shorter else module.body,
        takes=frozenset(name for wanted in module.imports for name in wanted.names),
        hands_on=frozenset(module.exports),
    )


def _wanted(
    carried: Mapping[str, Sequence[Module]], *, of: str, entries: Collection[str]
) -> set[str]:
    """Return the names that other scripts take, and those of modules that nobody has to import."""
    wanted: set[str] = set()
    for script, modules in carried.items():
        carries = {module.path for module in modules}  # Those it takes from no other script.
        takes = [each for module in modules for each in module.imports if each.path not in carries]
        wanted.update(name for taken in takes if script != of for name in taken.names)
    return wanted.union(*(module.exports for module in carried[of] if module.path in entries))
