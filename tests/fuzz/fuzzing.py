"""Try changed inputs by a seed, keep what reaches new lines, and gather what broke a rule."""

from __future__ import annotations

import hashlib
import random
from collections.abc import Callable, Iterator, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol

from .command_targets import CaseTarget, PhotoTarget, SheetTarget
from .copy_target import CopyTarget
from .note_target import NoteTarget
from .reached import Reached
from .watch import ROOT, Finding, watched

CORPUS = ROOT / "tests/data/fuzz"
"""Everything that was ever found, a folder for each target: it failed, and must never again."""


class Target(Protocol):
    """What reads something that comes from outside."""

    name: str
    inside: Path

    def seeds(self) -> list[bytes]:
        """Return sound inputs to begin from."""

    def changed(self, raw: bytes, *, draw: random.Random, others: Sequence[bytes]) -> bytes:
        """Return another input."""

    def run(self, raw: bytes) -> Iterator[str]:
        """Read an input, and yield what is broken of the target's own rules."""


TARGETS: dict[str, Callable[[Path], Target]] = {
    target.name: target for target in (NoteTarget, SheetTarget, CaseTarget, PhotoTarget, CopyTarget)
}


@dataclass
class Fuzzing:
    """One target under trial."""

    target: Target
    seed: int
    reached: Reached | None = None
    """Where given, inputs that reach new lines are changed further."""
    tried: int = 0
    findings: dict[str, Finding] = field(default_factory=dict)
    """By rule and words: each fault once, with the first input that met it."""

    def __post_init__(self) -> None:
        self.pool = self.target.seeds()
        self._draw = random.Random(f"{self.target.name} {self.seed}")

    def more(self, count: int) -> Iterator[Finding]:
        """Try so many inputs; yield each fault the first time that it is met."""
        for _ in range(count):
            seed = self._draw.choice(self.pool)
            raw = self.target.changed(seed, draw=self._draw, others=self.pool)
            self.tried += 1
            known = len(self.reached.lines) if self.reached else 0
            with self.reached.tracing() if self.reached else nullcontext():
                found = tried(self.target, raw)
            if self.reached and any(finding.rule == "slow" for finding in found):
                # Noting each line makes it several times slower: asked again without.
                found = tried(self.target, raw)
            if self.reached and len(self.reached.lines) > known and len(raw) < 60_000:
                self.pool.append(raw)
            for finding in found:
                key = finding.rule if finding.rule in ("slow", "memory") else finding.words
                if key not in self.findings:
                    self.findings[key] = finding
                    yield finding


def tried(target: Target, raw: bytes) -> list[Finding]:
    """Return the rules that an input breaks."""
    return watched(
        target.run,
        raw,
        target=target.name,
        inside=target.inside,
        spared_s=lambda: getattr(target, "spared_s", 0.0),
    )


def corpus(name: str) -> list[Path]:
    """Return the files of a target's corpus."""
    return sorted((CORPUS / name).glob("*"))


def keep(finding: Finding) -> Path:
    """Write what was found into the corpus, by its checksum."""
    file = CORPUS / finding.target / hashlib.sha256(finding.raw).hexdigest()[:12]
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(finding.raw)
    return file
