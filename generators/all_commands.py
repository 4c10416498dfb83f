"""Every command there is: those that ask, those that build and show, those that publish."""

from __future__ import annotations

from kb.commands.main import LateCommands, ohmfolio

PLACES = {
    "pack": "generators.publish.commands:pack_command",
    "verify": "generators.publish.commands:verify_command",
    "changes": "generators.publish.commands:changes_command",
    "pocket": "generators.publish.commands:pocket_command",
    "print": "generators.publish.print_command:print_command",
    "labels": "generators.publish.label_command:labels_command",
    "build": "generators.site_commands:build_command",
    "serve": "generators.site_commands:serve_command",
}

assert isinstance(ohmfolio.commands, LateCommands)
ohmfolio.commands.places.update(PLACES)

__all__ = ["ohmfolio"]
