"""HTML is built from plain words: nothing that a keeper types can become markup."""

from generators.html import Html, el, facts, join, section, slug, table


def test_text_is_escaped_and_ready_html_is_not() -> None:
    assert (
        el("p", "R < 5 & rising ", Html("<b>now</b>")) == "<p>R &lt; 5 &amp; rising <b>now</b></p>"
    )


def test_an_attribute_cannot_be_broken_out_of() -> None:
    assert el("a", "x", href='a" onclick="b') == '<a href="a&#34; onclick=&#34;b">x</a>'


def test_an_attribute_of_none_or_false_is_left_out_and_true_stands_alone() -> None:
    assert el("input", class_=None, hidden=True, disabled=False) == "<input hidden>"


def test_underscores_become_hyphens_and_a_trailing_one_goes() -> None:
    assert el("p", aria_label="x", class_="y") == '<p aria-label="x" class="y"></p>'


def test_a_fact_with_nothing_to_say_is_left_out() -> None:
    assert facts([("Plug", "X12"), ("Colour", None)]) == (
        '<dl class="ohm-facts"><div><dt>Plug</dt><dd>X12</dd></div></dl>'
    )


def test_an_empty_section_does_not_appear() -> None:
    assert section("Past jobs", join([])) == ""


def test_a_table_scrolls_in_a_named_region_that_a_keyboard_reaches() -> None:
    made = table("Limits", ["At", "Most"], [["7 °C", "3 Ω"]])
    assert made.startswith(
        '<div class="ohm-scroll" tabindex="0" role="region" aria-label="Limits">'
    )
    assert '<th scope="row">7 °C</th><td>3 Ω</td>' in made


def test_an_anchor_keeps_letters_of_any_language() -> None:
    assert slug("What it should read: 7 °C?") == "what-it-should-read-7-c"
    assert slug("Prüfen") == "prüfen"
