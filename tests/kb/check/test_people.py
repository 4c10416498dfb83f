"""What looks like a person in a case, and what only looks like one at first sight."""

from __future__ import annotations

import pytest

from kb.check.people import personal


@pytest.mark.parametrize(
    "text",
    [
        "Ring 01632 960 123 first",
        "(01632) 960123",
        "+44 1632 960123",
        "555-010-0199",
        "mail desk@example.org",
        "Mr Example was there",
        "at 12 Example Lane",
    ],
)
def test_a_person_a_number_or_an_address_is_seen(text):
    assert list(personal(text))


@pytest.mark.parametrize(
    "text",
    [
        "on 2026-02-03 it read 52k at 7 °C",
        "0.00012345 per kelvin",
        "9.98k, 10.02k, 10.00k, 10.01k",
        "order ORD-44120-118-0042",
        "from 07:30 to 08:15, 400 V 3N~ 50 Hz",
        "code 012, then 0480, then 1E3",
        "refrigerant R410A, 2.85 kg, 42 bar",
        "The lane beside unit 12 was wet",
    ],
)
def test_readings_dates_and_order_numbers_are_nobody(text):
    assert list(personal(text)) == []
