"""What a phone asks first: the newest release of a host, and how many bytes each way to it has."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from .head import Count, Head, Name
from .release_list import Checksum, ReleaseList
from .signed import Signed


class PackSizes(BaseModel):
    """How many bytes the packs of a release have."""

    model_config = ConfigDict(frozen=True, strict=True, populate_by_name=True)

    whole: Count = Field(validation_alias="all", serialization_alias="all")
    steps: dict[Name, Count] = Field(validation_alias="from", serialization_alias="from")
    """Older release → the pack that leads from it."""


class Newest(Head):
    """`newest.json`: a release's head, with its name and its packs."""

    name: Name
    files: Count
    packs: PackSizes
    worker: Checksum | Literal[""] = ""
    """Checksum of the worker that serves it: a phone takes no other. Earlier versions gave none."""
    signed: Signed | None = None
    """The keeper's signature, where releases are signed."""

    @property
    def text(self) -> str:
        """The file as it is published."""
        facts = self.as_dict()
        return json.dumps(facts, ensure_ascii=False, sort_keys=True, separators=(",", ":")) + "\n"


def newest_of(
    release_list: ReleaseList, *, whole: int, steps: Mapping[str, int], worker: str
) -> Newest:
    """Return what a phone asks first about this release.

    Parameters
    ----------
    release_list : ReleaseList
    whole : int
        Bytes of the whole pack.
    steps : mapping of older release → bytes of the pack that leads from it
    worker : str
        Checksum of the worker that serves it.
    """
    head = release_list.release
    return Newest(
        **{field: getattr(head, field) for field in head.model_fields_set},
        name=release_list.name,
        files=len(release_list.files),
        packs=PackSizes(whole=whole, steps=dict(steps)),
        worker=worker,
    )


def read_newest(content: bytes) -> Newest | None:
    """Return what a host answers, or None when it is damaged."""
    try:
        return Newest.model_validate_json(content)
    except ValidationError:
        return None
