"""Python's results in the page's names: t_implied_c is tImpliedC there."""

from __future__ import annotations

import dataclasses
import math
import re

import numpy as np

from kb.answers.statement import Statement


def page_names(value: object) -> object:
    """Return plain lists and dicts, the names of fields as the page has them."""
    if isinstance(value, Statement):
        # Figures keep their names there: the unit at the end says how each is printed.
        return value.as_dict()
    if dataclasses.is_dataclass(value):
        value = {
            one.name: getattr(value, one.name)
            for one in dataclasses.fields(value)
            if one.name != "text"  # the page finds its own words
        }
    if isinstance(value, dict):
        return {_camel(key): page_names(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [page_names(one) for one in value]
    if isinstance(value, float) and math.isnan(value):
        return None
    return value.item() if isinstance(value, np.generic) else value


def _camel(name: str) -> str:
    return re.sub(r"_(\w)", lambda found: found[1].upper(), name)
