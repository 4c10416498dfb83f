"""A word of the glossary is linked once, in prose, where a page first says it."""

from __future__ import annotations

import pytest

from generators.html import Html
from generators.term_links import with_terms
from kb.term_words import mentions, passing, sieve_of, small_words
from kb.words.catalogue import speaking

FORMS = {"NTC": "ntc", "dew point": "dew-point", "over range": "over-range", "OL": "over-range"}


def linked(body: str, *, own: str = "") -> str:
    found = with_terms(
        Html(body), root="../", forms_for=lambda sieve: passing(FORMS, sieve=sieve), own=own
    )
    return found.replace('<a class="ohm-word" href="../terms/', "[").replace('.html">', "|")


def words(text: str) -> list[str]:
    return [text[found.begin : found.end] for found in mentions(text, forms=FORMS)]


def test_the_first_place_in_prose_is_linked_and_no_other():
    body = "<h2>NTC</h2><p>An NTC, and another NTC.</p><ul><li>It shows OL or over range.</li></ul>"
    assert linked(body) == (
        "<h2>NTC</h2><p>An [ntc|NTC</a>, and another NTC.</p>"
        "<ul><li>It shows [over-range|OL</a> or over range.</li></ul>"
    )


@pytest.mark.parametrize(
    "no_prose",
    [
        '<p><a href="x">read of the NTC here</a></p>',
        "<h3>of the NTC here</h3>",
        "<table><tr><td>of the NTC here</td></tr></table>",
        "<p><code>of the NTC here</code></p>",
        "<details><summary>of the NTC here</summary></details>",
        "<form><p>of the NTC here</p></form>",
        "<svg><text>of the NTC here</text></svg>",
        '<script>"of the NTC here"</script>',
        '<p title="of the NTC here">Nothing.</p>',
        '<p class="ohm-aka">Also called: the NTC here.</p>',
        "<dl><dt>of the NTC here</dt><dd>NTC</dd></dl>",
    ],
)
def test_links_headings_values_fields_and_code_stay_as_they_are(no_prose):
    assert linked(no_prose) == no_prose


def test_a_terms_own_page_does_not_lead_to_itself():
    assert linked("<p>An NTC at its dew point.</p>", own="ntc") == (
        "<p>An NTC at its [dew-point|dew point</a>.</p>"
    )


def test_whole_words_alone_are_found_and_a_sign_is_found_as_written():
    assert words("Dew points, dew  point; NTCs of ntc-10k, a NTC-10k, an ntc, INTC, OLD.") == [
        "Dew points",
        "dew  point",
        "NTCs",
    ]


def test_german_words_may_end_as_german_does():
    with speaking("german"):
        assert words("Taupunkte, dew pointen, des NTCs") == ["dew pointen", "NTCs"]


def test_a_sieve_lets_every_word_of_its_text_through_and_few_others():
    sieve = sieve_of(small_words("An NTC reads OL."))
    assert passing(FORMS, sieve=sieve).keys() >= {"NTC", "OL"}
    others = {f"word{number}": "x" for number in range(1000)}
    assert len(passing(others, sieve=sieve)) < 10
