"""What can hurt stands before the first field, on every page that leads a hand into a machine."""

from __future__ import annotations


def test_a_caution_stands_above_every_field_of_a_page_that_leads_a_hand_into_a_machine(site):
    """And both ways out of it: safety in full, and when to stop."""
    seen = 0
    for kind in ("codes", "families", "jobs", "methods", "parts", "sensors"):
        for path in sorted((site / kind).glob("*.html")):
            main = path.read_text(encoding="utf-8").partition("<main")[2]
            if path.stem == "index":
                continue
            caution = main.find("ohm-caution")
            fields = [main.find(tag) for tag in ("<form", "<input", "<textarea") if tag in main]
            first_field = min((place for place in fields if place >= 0), default=len(main))
            assert 0 <= caution < first_field, path
            assert "safety.html" in main, path
            assert "stop.html" in main, path
            seen += 1
    assert seen > 150
