"""The two scripts that Find reads: what is in them, and that they never change by themselves."""

from __future__ import annotations

import json

from generators.find_index import FindItem, make_find_index, text_words


def item(title: str, *keys: tuple[str, str], text: str = "", context: str = "Rooftop") -> FindItem:
    words = text_words(f"{title} {context} {text}")
    return FindItem("code", title, f"codes/{title.lower()}.html", list(keys), words, context, "rt")


def told(script: str) -> dict:
    return json.loads(script.partition("=")[2].rstrip(";\n"))


def test_the_exact_index_holds_codes_as_they_were_written():
    scripts = make_find_index([item("012", ("code", "012"), ("blinks", "2L4S"))])
    index = told(scripts["assets/find-index.js"])
    assert scripts["assets/find-index.js"].startswith("window.OhmFindIndex={")
    assert index == {
        "contexts": ["Rooftop"],
        "families": ["rt"],
        "kinds": ["code"],
        "nouns": ["code"],
        "items": [[0], ["012"], ["codes/012.html"], [0], [["code", "012", "blinks", "2L4S"]]],
    }


def test_a_kind_is_named_in_the_language_of_the_site_and_grouped_by_its_own_name():
    german = FindItem("sensor", "T1", "sensors/t1.html", [], [], "Rooftop", noun="Fühler")
    index = told(make_find_index([german, item("E1")])["assets/find-index.js"])
    assert (index["kinds"], index["nouns"]) == (["code", "sensor"], ["code", "Fühler"])


def test_the_text_index_leads_from_every_word_to_its_pages():
    items = [
        item("A", text="fan"),
        item("B", text="Fan and plug X24-3"),
        item("C"),
        item("D", text="fan"),
    ]
    index = told(make_find_index(items)["assets/find-text.js"])
    pages = dict(zip(index["words"].split(" "), index["pages"].split(" "), strict=True))
    assert pages["fan"] == "0,1,2"  # pages 0, 1 and 3, each as the way from the one before
    assert pages["x243"] == "1"
    assert pages["rooftop"] == "0,1,1,1"
    assert list(pages) == sorted(pages)


def test_a_page_number_beyond_thirty_five_takes_two_digits():
    items = [item(f"N{i}", text="late" if i == 40 else "") for i in range(41)]
    index = told(make_find_index(items)["assets/find-text.js"])
    pages = dict(zip(index["words"].split(" "), index["pages"].split(" "), strict=True))
    assert pages["late"] == "14"  # 40 in base 36


def test_nothing_in_a_title_can_end_the_script_line():
    script = make_find_index([item("a\u2028b</script>")])["assets/find-index.js"]
    assert script.count("\n") == 1
    assert "\u2028" not in script


def test_the_same_notes_give_the_same_scripts():
    items = [item(name, ("code", name), text="fan coil sensor") for name in ("K1-1", "K1-2")]
    assert make_find_index(items) == make_find_index(list(items))


def test_no_notes_give_an_empty_index():
    index = told(make_find_index([])["assets/find-index.js"])
    none = {"contexts": [], "families": [], "kinds": [], "nouns": []}
    assert index == {**none, "items": [[], [], [], [], []]}


def test_no_name_ends_the_script_that_it_stands_in():
    scripts = make_find_index([item("a</script><b>", ("code", "</SCRIPT x>"), text="<!--<script>")])
    assert not any("<" in script for script in scripts.values())
    assert told(scripts["assets/find-index.js"])["items"][1] == ["a</script><b>"]
