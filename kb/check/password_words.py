"""How people name what they log in with, in the languages that teams write in."""

from __future__ import annotations

import re

_ELSEWHERE = (
    *("mot de passe", "wachtwoord", "contraseña", "clave", "heslo", "hasło", "parola", "senha"),
    *("palavra-passe", "lösenord", "adgangskode", "passord", "salasana", "jelszó", "lozinka"),
    *("şifre", "пароль"),
)
"""A team writes in its own language, whatever the notes are in."""
PASSWORD = (
    r"(?:pass(?:wor[dt]|wd|[ -]?phrase|code)|pwd|pw|kennwort|zugangscode|zugangsdaten|"
    rf"{'|'.join(_ELSEWHERE)})"
)
PASSWORD_WORDS = ("pass", "pw", "kennwort", "zugang", *_ELSEWHERE)
AIR_WORDS = ("wifi", "wi-fi", "wlan", "wpa", "network", "netzwerk")
NO_SECRET = re.compile(
    r"(?:see|ask|none|no|not|stands|is|are|in|on|the|from|of|with|given|unknown|siehe|steht|keins?|"
    r"keines?|beim|im|auf|vom|was|\.+|…|\*+|_+|-+|<.*|\{.*)$",
    re.IGNORECASE,
)


def drawn(word: str) -> bool:
    """Return whether a word holds a digit, or a capital after a small letter: hardly prose."""
    return bool(re.search(r"\d|[a-z][A-Z]", word))
