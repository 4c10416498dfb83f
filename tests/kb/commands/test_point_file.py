"""What people have: units in the first line, points and commas that the whole file explains."""

from __future__ import annotations

import json

import pytest

from kb.commands.point_columns import column_of

SPACE = "\u00a0"
# R25 10 kΩ, B 3977 K, in kΩ as a data sheet prints it.
KILOHMS = {-20: "107.1", -10: "58.95", 0: "33.90", 10: "20.27", 25: "10.00", 30: "8.025"}
KILOHMS |= {40: "5.279", 50: "3.563", 60: "2.463"}


@pytest.fixture
def fitted(run, tmp_path):
    """Return a function that fits a text and gives what `fit --json` says."""

    def fit(text, *words):
        path = tmp_path / "points.csv"
        path.write_text(text, encoding="utf-8")
        result = run("fit", path, "--law", "beta", "--json", *words)
        return json.loads(result.output)

    return fit


def file_of(rows, *, head, separator=";"):
    return "\n".join([head, *(f"{t}{separator}{r}" for t, r in rows.items())]) + "\n"


def is_the_10k(answer):
    return answer["parameters"]["r_ref"] == pytest.approx(10e3, rel=5e-4) and answer["parameters"][
        "b_k"
    ] == pytest.approx(3977, rel=5e-4)


@pytest.mark.parametrize(
    ("written", "name", "unit"),
    [
        ("t_c", "t", "C"),
        ("t_f", "t", "F"),
        ("Temp [F]", "t", "F"),
        ("Temperature (°C)", "t", "C"),
        ("Temp. in °F", "t", "F"),
        ("T / deg C", "t", "C"),
        ("r_ohm", "r", ""),
        ("r_kohm", "r", "k"),
        ("R (kOhm)", "r", "k"),
        ("R/kΩ", "r", "k"),
        ("resistance_Mohm", "r", "M"),
        ("Ohm", "r", ""),
        ("R nom [k]", "r", "k"),
        ("R min (kOhm)", "low", "k"),
        ("low_kohm", "low", "k"),
        ("Rmax [Ω]", "high", ""),
        ("upper ohms", "high", ""),
    ],
)
def test_a_column_is_known_by_its_name_and_its_unit(written, name, unit):
    column = column_of(written)
    assert (column.name, column.unit) == (name, unit)


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("T", "'T' does not say its unit; write t_c or t_f"),
        ("R", "'R' does not say its unit; write r_ohm, r_kohm or r_Mohm"),
        ("T [K]", "'T [K]' is in a unit that is not read; write t_c or t_f"),
        ("r_mohm", "'r_mohm' could be in milliohms or megohms; write r_ohm, r_kohm or r_Mohm"),
        (
            "volts",
            "'volts' is no column; write the first line as t_c,r_ohm, or t_c;r_ohm with decimal "
            "commas",
        ),
    ],
)
def test_a_column_without_a_unit_is_asked_for_it_and_never_guessed(written, message):
    with pytest.raises(ValueError) as caught:
        column_of(written)
    assert str(caught.value) == message


@pytest.mark.parametrize("temperature", ["t_f", "Temp [F]", "t (°F)"])
@pytest.mark.parametrize("resistance", ["r_kohm", "R (kOhm)", "R/kΩ"])
def test_fahrenheit_and_kilohms_are_read_as_they_are_headed(fitted, temperature, resistance):
    rows = {f"{t * 9 / 5 + 32:g}": r for t, r in KILOHMS.items()}
    answer = fitted(file_of(rows, head=f"{temperature};{resistance}"))
    assert is_the_10k(answer)
    assert answer["asked"] == []


def test_a_cell_that_says_its_own_unit_keeps_it(fitted):
    rows = KILOHMS | {25: "10k00", 30: "8025R"}
    assert is_the_10k(fitted(file_of(rows, head="t_c;r_kohm")))


@pytest.mark.parametrize("sign", [".", ","])
def test_a_sign_for_thousands_is_found_by_the_whole_column(fitted, sign):
    rows = {t: f"{float(r) * 1000:,.0f}".replace(",", sign) for t, r in KILOHMS.items()}
    answer = fitted(file_of(rows | {100: "684.9", 110: "518.6"}, head="t_c;r_ohm"))
    assert is_the_10k(answer)
    assert answer["asked"] == [
        f"107{sign}100 is read as 107100, and so on: the whole column says that the sign stands "
        "for thousands."
    ]


@pytest.mark.parametrize(("thousands", "point"), [(".", ","), (",", ".")])
def test_both_signs_in_one_number_say_which_is_which(fitted, thousands, point):
    def printed(kilohms):
        text = f"{float(kilohms) * 1000:,.1f}"
        return text.replace(",", "_").replace(".", point).replace("_", thousands)

    rows = {t: printed(r) for t, r in KILOHMS.items()}
    assert is_the_10k(fitted(file_of(rows, head="t_c;r_ohm")))


def test_where_every_number_could_be_both_what_an_ntc_reads_decides_and_is_said(fitted):
    rows = {t: f"{float(r):.3f}" for t, r in KILOHMS.items()}
    answer = fitted(file_of(rows, head="t_c;r_ohm"))
    assert is_the_10k(answer)
    assert answer["asked"][0].startswith("107.100 is read as 107100")
    # The same digits under kΩ have a point before decimals: 107 MΩ is no sensor.
    answer = fitted(file_of(rows, head="t_c;r_kohm"))
    assert is_the_10k(answer)
    assert answer["asked"] == []


def test_a_decimal_comma_that_could_be_thousands_is_read_as_the_other_rows_say(fitted):
    rows = {t: r.replace(".", ",") for t, r in KILOHMS.items()}
    assert rows[30] == "8,025"
    assert is_the_10k(fitted(file_of(rows, head="t_c;r_kohm")))


def test_one_sign_that_stands_against_the_rest_is_read_by_its_neighbours(fitted):
    # Commas are for thousands here; in one row a point came out as a comma.
    rows = {-20: "107,100", -10: "58,950", 0: "33,900", 10: "20,270", 25: "10,000", 40: "5,279"}
    rows |= {100: "685.20", 110: "521,330", 120: "402.83"}
    answer = fitted(file_of(rows, head="t_c;r_ohm"), "--law", "table")
    assert answer["parameters"]["points"][-2] == [110, 521.33]
    assert answer["parameters"]["points"][0] == [-20, 107100]
    assert answer["asked"] == [
        "Line 9: 521,330 is read as 521R330: the other way it would stand against its neighbours."
    ]


def test_a_comma_that_was_lost_is_named_and_what_was_meant(run, tmp_path):
    path = tmp_path / "points.csv"
    rows = {t: r.replace(".", ",") for t, r in KILOHMS.items()} | {50: "3563"}
    path.write_text(file_of(rows, head="t_c;r_kohm"), encoding="utf-8")
    text = run("fit", path).output.replace(SPACE, " ")
    assert "3563 Ω would fit, its decimal sign lost or moved" in text


def test_what_nothing_decides_is_asked(run, tmp_path):
    path = tmp_path / "points.csv"
    path.write_text("t_c;r_ohm\n0;100.000\n10;103.903\n20;107.794\n30;111.673\n")
    result = run("fit", path)
    assert result.exit_code == 1
    assert result.output == (
        f"{path}:2:3: r_ohm: '100.000' could be 100000 or 100R000, and the rest of its column "
        "does not say\n"
        "    0;100.000\n"
        "      ^\n"
        "    hint: write 100000 or 100R000, or say --decimal point or --decimal comma\n"
        "\n"
        "Mend that first; nothing was written.\n"
    )
    point = json.loads(run("fit", path, "--decimal", "point", "--json").output)
    assert point["parameters"] == {"r0": 100.0}
    comma = json.loads(run("fit", path, "--decimal", "comma", "--law", "table", "--json").output)
    assert comma["parameters"]["points"][0] == [0, 100000]


@pytest.mark.parametrize(
    ("factor", "question"),
    [
        (
            1e-3,
            "At 25.0 °C this reads 10.00 Ω, and hardly an NTC sensor is below 100 Ω there. Is the "
            "column in kΩ? Then name it r_kohm.",
        ),
        (
            1e3,
            "At 25.0 °C this reads 10.00 MΩ, and hardly an NTC sensor is above 2 MΩ there. Is the "
            "column in Ω? Then name it r_ohm.",
        ),
    ],
)
def test_an_ntc_that_no_sensor_is_gets_asked_about(fitted, factor, question):
    rows = {t: f"{float(r) * 1000 * factor:.3e}" for t, r in KILOHMS.items()}
    (asked,) = fitted(file_of(rows, head="t_c;r_ohm"))["asked"]
    assert asked.replace(SPACE, " ") == question
