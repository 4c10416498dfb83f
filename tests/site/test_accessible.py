"""The longest page of each kind has no accessibility fault of any level that axe-core can see, all unfolded."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.site.test_boxes import pages_of_each_kind

axe = pytest.importorskip("axe_playwright_python", reason="axe-core is not installed")

SOURCE = (Path(axe.__file__).parent / "axe.min.js").read_text(encoding="utf-8")


RULES = {"light": {}, "dark": {"runOnly": ["color-contrast", "link-in-text-block"]}}
"""Dark is other colours of the same elements: what is no matter of colour is asked once."""


@pytest.mark.parametrize("scheme", RULES)
def test_axe_finds_nothing_on_any_kind_of_page(browser, site, scheme):
    pages = sorted(site.glob("*.html"))
    for paths in pages_of_each_kind(site).values():
        pages.append(paths[-1])
    # The driver puts axe into the page as text, which the policy rightly forbids.
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    found = []
    for path in dict.fromkeys(pages):
        page.goto(path.as_uri())
        if path.name == "index.html":
            page.get_by_role("combobox").fill("coil")
        page.evaluate(
            "document.querySelectorAll('details').forEach((fold) => { fold.open = true; })"
        )
        page.evaluate(SOURCE)
        told = page.evaluate(
            "rules => axe.run(document, {resultTypes: ['violations'], ...rules})", RULES[scheme]
        )
        assert told["passes"], path
        found += [
            f"{path.relative_to(site)}: {one['id']} ({one['impact']}): {node['html'][:120]}"
            for one in told["violations"]
            for node in one["nodes"]
        ]
    context.close()
    assert found == []
