"""Whatever is tapped with gloves is 44 px high and wide, on every kind of page, everything unfolded.

Links within a running sentence are as high as its line: the standard for accessible pages excepts
them (WCAG 2.5.8, inline). A drawing's pins have a list beside them.
"""

from __future__ import annotations

from pathlib import Path

from tests.site.test_boxes import pages_of_each_kind

LEAST_PX = 44
SMALL = """(least) => {
    document.querySelectorAll("details").forEach((fold) => { fold.open = true; });
    const inSentence = (link) => {
        let around = link.parentElement;
        while (getComputedStyle(around).display === "inline") around = around.parentElement;
        const own = (link.textContent || "").trim();
        return (around.textContent || "").trim().length > own.length + 2 &&
            getComputedStyle(link).display.startsWith("inline");
    };
    const small = [];
    document.querySelectorAll("a[href], button, summary, input, select, textarea, label[for]").forEach((element) => {
        if (element.closest("svg, .ohm-hidden, .ohm-skip") || element.type === "hidden") return;
        const style = getComputedStyle(element);
        if (!element.checkVisibility({ checkVisibilityCSS: true }) || style.clipPath === "inset(50%)") return;
        // A box that is ticked or chosen is pressed by its words.
        const chosen = ["radio", "checkbox", "file"];
        if (element.localName === "input" && chosen.includes(element.type)) return;
        const of = element.localName === "label" ? element.control : null;
        if (element.localName === "label" && !(of && chosen.includes(of.type))) return;
        if (element.localName === "a" && inSentence(element)) return;
        const { width, height } = element.getBoundingClientRect();
        if (width < least - 0.5 || height < least - 0.5) {
            const words = (element.textContent || element.getAttribute("aria-label") || element.name || "");
            small.push(`${element.localName}.${element.className} "${words.trim().slice(0, 40)}" ` +
                `${width.toFixed(0)} x ${height.toFixed(0)}`);
        }
    });
    return small;
}"""


def test_whatever_is_tapped_is_large_enough_for_gloves(browser: object, site: Path) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    small, looked_at, wanted = {}, 0, [""]

    def stay(route: object) -> None:
        """A former address leads on at once: it is looked at before."""
        leads_on = route.request.is_navigation_request() and route.request.url != wanted[0]
        route.abort("aborted") if leads_on else route.continue_()

    page.route("**/*", stay)
    for kind, paths in sorted(pages_of_each_kind(site).items()):
        for path in paths:
            wanted[0] = path.as_uri()
            page.goto(wanted[0])
            looked_at += page.locator("a[href], button, summary, input, select").count()
            for target in page.evaluate(SMALL, LEAST_PX):
                small.setdefault(target, f"{kind} {path.name}")
    context.close()
    assert looked_at > 1000
    assert [f"{place}: {target}" for target, place in small.items()] == []


def test_a_small_key_is_found_and_a_link_in_a_sentence_is_none(browser: object) -> None:
    page = browser.new_page()
    page.set_content(
        "<p>Words and <a href='#'>a way</a> on.</p><button style='height:20px'>Small</button>"
        "<ul><li><a href='#'>Alone</a></li></ul><input type=radio id=r><label for=r>One</label>"
        "<button style='min-width:44px;min-height:44px'>+</button>"
    )
    found = page.evaluate(SMALL, LEAST_PX)
    assert [target.split('"')[1] for target in found] == ["Small", "Alone", "One"]
    page.close()
